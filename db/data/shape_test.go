package data

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

func TestShapes(t *testing.T) {
	rows, faults := CheckShapes()
	for _, fault := range faults {
		t.Error(fault)
	}
	if rows < 3000 {
		t.Errorf("%d rows added up", rows)
	}
}

// Each kind of fault, planted in a copy of the files.
func TestPlantedShapes(t *testing.T) {
	for name, c := range map[string]struct{ file, from, to, want string }{
		"slipped digit":       {"force/kienzle-victor.csv", ",2110,", ",2210,", "force/kienzle-victor.csv: column kc11_n_per_mm2 adds up to"},
		"lost row":            {"life/tatar2020.csv", "life-ti-6al-4v-hc-tatar2020", "# ", ""},
		"row of one decimal":  {"hardness.csv", "255,242,23.1,", "255,242,23.6,", "hardness.csv: column rockwell_hrc adds up to"},
		"unsourced name":      {"designations.csv", "11smn30,UNS,G12130,uns", "11smn30,UNS,G12130,hearsay", `no source "hearsay"`},
		"unsourced condition": {"conditions.csv", ",recalled,en10087,,", ",recalled,,,", `no source ""`},
	} {
		planted := fstest.MapFS{}
		names, err := fileNames(files)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range names {
			text, err := fs.ReadFile(files, file)
			if err != nil {
				t.Fatal(err)
			}
			if file == c.file {
				changed := strings.Replace(string(text), c.from, c.to, 1)
				if name == "lost row" {
					changed = string(text[:strings.Index(string(text), c.from)])
					c.want = "life/tatar2020.csv: 0 rows, want 1"
				}
				if changed == string(text) {
					t.Fatalf("%s: nothing to change in %s", name, file)
				}
				text = []byte(changed)
			}
			planted[file] = &fstest.MapFile{Data: text}
		}
		_, faults := checkShapes(planted, shapes)
		if !strings.Contains(strings.Join(faults, "\n"), c.want) {
			t.Errorf("%s: %q, want %q", name, faults, c.want)
		}
	}
	if _, faults := checkShapes(files, shapes[1:]); len(faults) != 1 || !strings.Contains(faults[0], "no shape is on file") {
		t.Errorf("a file without a shape: %q", faults)
	}
}

// Every record that a check can name stands in some file.
func TestPlaces(t *testing.T) {
	places, err := Places()
	if err != nil {
		t.Fatal(err)
	}
	d := embedded(t)
	has := func(kind, id string) {
		if p, there := places[kind+" "+id]; !there || p.Line < 2 {
			t.Errorf("%s %s stands nowhere", kind, id)
		}
	}
	for _, m := range d.Materials {
		has("material", m.ID)
		for _, x := range m.Designations {
			has("designation", m.ID+" "+x.Standard+" "+x.Value)
		}
		for _, c := range m.Conditions {
			has("condition", c.ID)
		}
		for _, p := range m.Physical {
			has("physical", p.ID)
		}
	}
	for _, r := range d.Force {
		has("force", r.ID)
	}
	for _, r := range d.Starting {
		has("starting", r.ID)
	}
	for _, r := range d.Life {
		has("life", r.ID)
	}
	for _, m := range d.Machines {
		has("machine", m.ID)
	}
	for _, c := range d.Classes {
		has("class", c.ID)
	}
	has("hardness", "row 69")
	if p := places["material 11smn30"]; p.String() != "materials.csv:5" {
		t.Errorf("11smn30 stands at %s", p)
	}
}
