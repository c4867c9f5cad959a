package catalog

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/material"
)

func TestNewAttachesRecords(t *testing.T) {
	d := sample()
	d.Force = []material.Force{pair(about("own", domain.Published), of("c45e"), 2000), pair(about("sub", domain.Published), ofSubgroup("P/carbon"), 2000)}
	d.Starting = []material.Starting{start(about("start", domain.Published), of("c45e"), "HC")}
	d.Life = []material.Life{{Provenance: about("life", domain.Published), Scope: of("c45e")}}
	s := snapshot(t, d)
	m, ok := s.Material("c45e")
	if !ok || len(m.Force) != 1 || m.Force[0].ID != "own" || len(m.Starting) != 1 || len(m.Life) != 1 {
		t.Errorf("c45e: %+v", m)
	}
	if len(d.Materials[6].Force) != 0 {
		t.Error("New changed the caller's data")
	}
	if s.Revision != 3 || s.Data().Revision != 3 {
		t.Errorf("revision %d", s.Revision)
	}
	ids := []string{}
	for _, m := range s.Materials() {
		ids = append(ids, m.ID)
	}
	if !slices.IsSorted(ids) || len(ids) != 11 {
		t.Errorf("materials %v", ids)
	}
	uses := s.SourceUses("book")
	kinds := map[string]int{}
	for _, u := range uses {
		kinds[u.Kind]++
	}
	if kinds["condition"] != 22 || kinds["force_data"] != 2 || kinds["starting_values"] != 1 || kinds["life_data"] != 1 || len(s.SourceUses("another")) != 0 {
		t.Errorf("uses %v", kinds)
	}
}

func TestLookUps(t *testing.T) {
	s := snapshot(t, sample())
	if _, ok := s.Material("none"); ok {
		t.Error("a material that is not there")
	}
	if m, ok := s.Machine("vmc-50"); !ok || m.ID != "vmc-50" {
		t.Errorf("machine %v", m)
	}
	if c, ok := s.Class("drill-twist-hss"); !ok || c.ToolMaterial != "HSS" {
		t.Errorf("class %v", c)
	}
	if x, ok := s.Source("book"); !ok || x.Title != "A book" {
		t.Errorf("source %v", x)
	}
	if got := s.NearestClasses("drill-solid-carbid"); !slices.Equal(got, []string{"drill-solid-carbide"}) {
		t.Errorf("nearest classes %v", got)
	}
	if got := s.NearestMachines("VMC50"); !slices.Equal(got, []string{"vmc-50"}) {
		t.Errorf("nearest machines %v", got)
	}
	if got := s.NearestMachines(strings.Repeat("x", 1000)); len(got) != 0 {
		t.Errorf("nearest machines %v", got)
	}
	if got := s.Machines(); len(got) != 2 || got[0].ID != "lathe-a" {
		t.Errorf("machines are not by id: %v", got)
	}
}

func TestNewReportsEveryFault(t *testing.T) {
	d := sample()
	d.Materials = append(d.Materials, steel("copy", "Copy", material.M, "austenitic", number("1.4301")), steel("c45e", "Twice", "Z", "carbon"))
	d.Materials[0].Conditions[0].Source = "nowhere"
	d.Machines = append(d.Machines, machine.Machine{ID: "vmc-50"})
	lost := start(about("lost", domain.Published), of("unobtainium"), "HC", "no-class")
	lost.Operations = []string{"whittling"}
	d.Starting = []material.Starting{lost}
	aged := pair(about("aged", domain.Published), of("x6cr17"), 2000)
	aged.Condition = "aged"
	d.Force = []material.Force{aged, pair(about("aged", domain.Published), ofSubgroup("P"), 2000), pair(about("x", domain.Published), ofGroup("Y"), 2000),
		pair(about("y", domain.Published), material.Scope{Level: "shop", Key: "P"}, 2000)}
	d.Life = []material.Life{{Provenance: material.Provenance{ID: "life", Source: "lost-book"}, Scope: ofGroup("P")}}
	d.Hardness = append(d.Hardness, material.HardnessRow{HV: 950, HRC: 67, Source: "book"})
	_, err := New(d)
	if err == nil {
		t.Fatal("the data was taken")
	}
	for _, want := range []string{
		"1.4301 stands in its standard for copy and x5crni18-10", "material c45e stands twice", `group "Z"`, `no source "nowhere"`,
		"machine vmc-50 stands twice", `no material "unobtainium"`, "no tool class no-class", "no operation whittling",
		`x6cr17 has no condition "aged"`, "record aged: the id is empty or stands twice", `no subgroup "P"`, `no group "Y"`, `no level "shop"`,
		`no source "lost-book"`, "hardness table: 940 HV does not rise with 68 HRC",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not reported in\n%v", want, err)
		}
	}
}
