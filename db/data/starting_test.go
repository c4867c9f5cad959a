package data

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

// subgroupsOf are the subgroups of the vocabulary by group.
var subgroupsOf = map[material.Group][]string{
	material.P: {"free-cutting", "carbon", "alloy", "tool", "stainless-ferritic", "stainless-martensitic",
		"precipitation-hardening", "cast-steel", "high-manganese"},
	material.M: {"austenitic", "duplex"},
	material.K: {"grey-iron", "ductile-iron", "malleable-iron", "compacted-iron", "chilled-iron"},
	material.N: {"aluminium", "aluminium-cast", "magnesium", "copper", "brass", "bronze", "zinc"},
	material.S: {"titanium", "nickel", "cobalt", "iron-base", "zirconium", "refractory"},
	material.H: {"hardened-steel", "hardened-iron"},
}

// cells are the operations that this version computes, with the classes that do them.
var cells = map[string][]string{
	"drilling": {"drill-twist-hss", "drill-solid-carbide", "drill-exchangeable-tip", "drill-flat-bottom",
		"drill-indexable", "drill-gun"},
	"face-milling":    {"mill-end", "mill-face", "mill-high-feed"},
	"side-milling":    {"mill-end", "mill-face"},
	"slot-milling":    {"mill-end", "mill-face", "mill-high-feed"},
	"turning":         {"turning-external"},
	"facing":          {"turning-external", "turning-internal"},
	"boring-internal": {"turning-internal"},
}

func startingRecords(t *testing.T) []material.Starting {
	t.Helper()
	records, err := loadStarting()
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// complete reports a record from which speed and feed can both be taken.
func complete(s *material.Starting) bool { return closed(s.Speed) && closed(s.Feed) }

// serves reports whether a record is for an operation done with a class in that
// class's own substrate.
func serves(s *material.Starting, operation, class, substrate string) bool {
	return slices.Contains(s.Operations, operation) &&
		(len(s.Classes) == 0 || slices.Contains(s.Classes, class)) &&
		(s.ToolMaterial == "" || s.ToolMaterial == substrate)
}

// TestStartingCells checks that every cell of operation, class and group, and every
// subgroup below it, has a complete record to start from.
func TestStartingCells(t *testing.T) {
	records := startingRecords(t)
	classes, err := loadClasses()
	if err != nil {
		t.Fatal(err)
	}
	substrate := map[string]string{}
	for i := range classes {
		substrate[classes[i].ID] = classes[i].ToolMaterial
	}
	filled := func(operation, class string, keys ...string) bool {
		return slices.ContainsFunc(records, func(s material.Starting) bool {
			return slices.Contains(keys, s.Key) && complete(&s) && serves(&s, operation, class, substrate[class])
		})
	}
	for operation, names := range cells {
		for _, class := range names {
			for group, subgroups := range subgroupsOf {
				if !filled(operation, class, string(group)) {
					t.Errorf("%s with %s in group %s: no record", operation, class, group)
				}
				for _, subgroup := range subgroups {
					if !filled(operation, class, string(group), string(group)+"/"+subgroup) {
						t.Errorf("%s with %s in %s: no record", operation, class, subgroup)
					}
				}
			}
		}
	}
}

// TestStartingFiles holds every file against the number of its rows and the sums of
// its speed columns, so that a slipped digit shows. The sums of mh-mem, to-1-1a-9 and
// navy14345 are those of the transcriptions the files were made from; the rest are `self`.
func TestStartingFiles(t *testing.T) {
	want := map[string]struct {
		rows      int
		low, high float64
	}{
		"carvill-mfg":     {64, 9435.0, 13494.0},
		"common-practice": {625, 41614.0, 72397.5},
		"curbell":         {11, 2810.2, 4806.8},
		"elhofy":          {6, 166.0, 166.0},
		"fmdb":            {242, 21522.0, 29163.8},
		"fvtc":            {41, 769.2, 1174.6},
		"general-hb":      {58, 3976.5, 8032.0},
		"groover":         {8, 1522.0, 3798.0},
		"kalpakjian-tab":  {46, 9096.0, 11555.0},
		"mh-mem":          {66, 2034.1, 2034.1},
		"mtsf-doc":        {34, 1220.7, 2104.9},
		"navy14345":       {9, 286.5, 426.5},
		"protolab":        {54, 3419.7, 5687.4},
		"to-1-1a-9":       {16, 545.5, 908.5},
		"tutor17":         {18, 559.4, 1382.9},
		"wiki-en-sf":      {9, 404.0, 659.0},
	}
	names, err := fs.Glob(files, "starting/*.csv")
	if err != nil || len(names) != len(want) {
		t.Fatalf("%d files, want %d, %v", len(names), len(want), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"do not ship", "2nd reading", "www.", "http"} {
			if strings.Contains(string(text), word) {
				t.Errorf("%s has %q in it", name, word)
			}
		}
		table, err := ReadTable(files, name, startingColumns...)
		if err != nil {
			t.Fatal(err)
		}
		var low, high float64
		for _, r := range table.Rows {
			low += r.Opt("speed_low_m_per_min").V
			high += r.Opt("speed_high_m_per_min").V
		}
		rows := len(table.Rows)
		w := want[strings.TrimSuffix(path.Base(name), ".csv")]
		if rows != w.rows || math.Abs(low-w.low) > 0.06 || math.Abs(high-w.high) > 0.06 {
			t.Errorf("%s: %d rows, speeds %.1f and %.1f in all, want %d, %.1f, %.1f", name, rows, low, high, w.rows, w.low, w.high)
		}
	}
}

// TestStartingProvenance checks that every record has an id of its own, a source on
// file and a basis that the source can carry, and is about something that exists.
func TestStartingProvenance(t *testing.T) {
	records := startingRecords(t)
	known := knownScopes(t)
	sources := sourceIDs(t)
	does := classOperations(t)
	seen := map[string]bool{}
	for i := range records {
		s := &records[i]
		if seen[s.ID] {
			t.Errorf("%s stands twice", s.ID)
		}
		seen[s.ID] = true
		if !sources[s.Source] {
			t.Errorf("%s: no source %s", s.ID, s.Source)
		}
		if s.Place == "" || (s.Basis == domain.CommonPractice) != (s.Source == "common-practice") {
			t.Errorf("%s: basis %s, source %s, place %q", s.ID, s.Basis, s.Source, s.Place)
		}
		if !known[s.Scope] {
			t.Errorf("%s is about %s %s, which is not on file", s.ID, s.Level, s.Key)
		}
		for _, class := range s.Classes {
			if !slices.ContainsFunc(s.Operations, func(o string) bool { return does[class][o] }) {
				t.Errorf("%s: class %s does none of %v", s.ID, class, s.Operations)
			}
		}
	}
}

// TestStartingSafety checks what must never be served: rows marked as unfit in the
// transcriptions, speeds that burn titanium and nickel, chips of magnesium that catch
// fire, chips that rub in work-hardening metal.
func TestStartingSafety(t *testing.T) {
	for _, s := range startingRecords(t) {
		where := fmt.Sprintf("%s (%s)", s.ID, s.Key)
		switch {
		case s.Source == "mtsf-doc" && (slices.Contains(s.Operations, "turning") || strings.HasPrefix(s.Key, "S")):
			t.Errorf("%s: turning speeds and titanium of that sheet do not ship", where)
		case s.Source == "carvill-mfg" && s.Key == "K/malleable-iron":
			t.Errorf("%s: the garbled white-heart row does not ship", where)
		case s.Source == "groover" && strings.HasPrefix(s.ToolMaterial, "B"):
			t.Errorf("%s: boron nitride speeds for steel in general do not ship", where)
		}
		hard := s.ToolMaterial == "HC" || s.ToolMaterial == "HW" || s.ToolMaterial == ""
		if strings.HasPrefix(s.Key, "S/titanium") && s.Speed.High.V > 80 && hard ||
			s.Key == "S/nickel" && s.Speed.High.V > 55 && hard ||
			s.ToolMaterial == "HSS" && strings.HasPrefix(s.Key, "S") && s.Speed.High.V > 30 {
			t.Errorf("%s: %v m/min burns the edge", where, s.Speed.High.V)
		}
		if s.Basis != domain.CommonPractice || !complete(&s) || s.FeedKind == material.DiameterPerTooth {
			continue
		}
		chip := s.Feed.Low.V // the thinnest chip the record can mean, on a 10 mm tool
		if s.FeedKind == material.DiameterPerTurn {
			chip *= 10
			if !slices.Contains(s.Classes, "drill-gun") {
				chip *= math.Sin(59*math.Pi/180) / 2
			}
		}
		if slices.Contains(s.Classes, "mill-high-feed") {
			chip *= math.Sin(12 * math.Pi / 180)
		}
		if slices.Contains(s.Classes, "mill-face") {
			chip *= math.Sin(45 * math.Pi / 180)
		}
		if s.Key == "N/magnesium" && chip < 0.05 {
			t.Errorf("%s: chips of %.3f mm are fine enough to burn", where, chip)
		}
		if (strings.HasPrefix(s.Key, "M") || strings.HasPrefix(s.Key, "S")) && chip < 0.02 {
			t.Errorf("%s: chips of %.3f mm rub", where, chip)
		}
	}
}

// TestStartingIncomplete checks that a speed without a feed never stands alone: where
// one is on file for a substrate of the default kind, so is a complete record of the
// same scope or of the subgroup or group around it.
func TestStartingIncomplete(t *testing.T) {
	records := startingRecords(t)
	does := classOperations(t)
	around := widerScopes(t)
	for i := range records {
		s := &records[i]
		if complete(s) || slices.Contains(s.Operations, "tapping") || s.ToolMaterial != "HC" && s.ToolMaterial != "HSS" {
			continue
		}
		for _, operation := range s.Operations {
			for _, class := range s.Classes {
				if does[class][operation] && !slices.ContainsFunc(records, func(o material.Starting) bool {
					return slices.Contains(around[s.Key], o.Key) && complete(&o) && serves(&o, operation, class, s.ToolMaterial)
				}) {
					t.Errorf("%s: %s with %s in %s has a speed and nowhere a feed", s.ID, operation, class, s.Key)
				}
			}
		}
	}
}
