package db_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// bring imports on top of what is there.
func bring(t testing.TB, store *db.DB, i db.Import, who string) db.Written {
	t.Helper()
	revision, err := store.Revision(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	i.Revision = revision
	done, err := store.Import(t.Context(), i, db.Write{Who: who, Reason: "import"})
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// What a shop imported is written in one revision, stays when the reference data is loaded
// again, and is gone from earlier revisions.
func TestAnImportIsTheShops(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	known := snapshot(t, store).Materials[0]
	known.Note = "as we get it"
	known.Conditions = append(slices.Clone(known.Conditions), material.Condition{Name: "strained", Provenance: material.Provenance{Basis: domain.Shop, Source: "own-book"}})
	what := db.Import{
		Sources: []domain.Source{{ID: "own-book", Title: "Own book", Kind: "shop record"}},
		Materials: []material.Material{known, {ID: "own-steel", Name: "Own", Group: material.P, Subgroup: "alloy",
			Designations: []material.Designation{{Standard: "common", Value: "OWN"}},
			Physical:     []material.Property{{Name: "density", Quantity: unit.Density, Value: *unit.Of(unit.Density, 7.8), Provenance: material.Provenance{Basis: domain.Shop, Source: "own-book"}}}}},
		Classes: []tool.Class{{ID: "own-drill", Name: "Own drill", Operations: []string{"drilling"}, ToolMaterial: "HC",
			Properties: []tool.Property{{Name: "point_angle", Quantity: unit.Angle, Low: unit.Some(90), High: unit.Some(140)}}}},
		Machines: []machine.Machine{shopMachine("own-mill")},
	}
	done := bring(t, store, what, "ann")
	if done.Revision != 2 || !done.Changed {
		t.Fatalf("%+v", done)
	}
	after := snapshot(t, store)
	if report := load(t, store, fixture(), us); report.Changed() || !strings.Contains(strings.Join(report.Kept, " "), "material a-steel") {
		t.Errorf("loading again changed something or did not say what it kept:\n%s", report)
	}
	if diff := cmp.Diff(after, snapshot(t, store)); diff != "" {
		t.Errorf("loading again moved (-imported +read):\n%s", diff)
	}
	if len(after.Materials) != len(fixture().Materials)+1 || len(after.Classes) != 2 || len(after.Machines) != 2 {
		t.Errorf("%d grades, %d classes, %d machines", len(after.Materials), len(after.Classes), len(after.Machines))
	}
	if diff := cmp.Diff(stamp(fixture(), 1), snapshotAt(t, store, 1)); diff != "" {
		t.Errorf("revision 1 differs (-loaded +read):\n%s", diff)
	}
	if again := bring(t, store, what, "ann"); again.Revision != 2 || again.Changed {
		t.Errorf("the same again made %+v", again)
	}
}

// An import that was checked against an earlier state writes nothing, nor does one that the
// database's rules refuse somewhere.
func TestAnImportIsWhole(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	_, err := store.Import(t.Context(), db.Import{Revision: 0, Machines: []machine.Machine{shopMachine("own")}}, db.Write{Who: "ann"})
	fault(t, err, domain.Conflict, "import-overtaken")
	_, err = store.Import(t.Context(), db.Import{Revision: 1, Machines: []machine.Machine{shopMachine("own")},
		Sources: []domain.Source{{ID: "fine", Title: "Fine", Kind: "shop record"}, {ID: "Not Fine", Title: "x", Kind: "y"}}}, db.Write{Who: "ann"})
	fault(t, err, domain.Invalid, "value-out-of-range")
	if diff := cmp.Diff(stamp(fixture(), 1), snapshot(t, store)); diff != "" {
		t.Errorf("something was written (-before +after):\n%s", diff)
	}
}

// Records come in as drafts, more than go into one statement, and one approval puts all of
// them in force and ends what they supersede; the author's own does not.
func TestDraftsOfAnImportAreApprovedTogether(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	const many = 1_203
	var records []catalog.Record
	for i := range many {
		records = append(records, trial("kc-own-"+string(rune('a'+i%26))+"-"+strings.Repeat("i", i/26+1), 1500+float64(i), material.Curation{Author: "ann", Reason: "import"}))
	}
	records[7].Force.Curation.Supersedes = "kc-a-steel"
	done := bring(t, store, db.Import{Records: records}, "ann")
	if id, _ := served(t, store, nil); id != "kc-a-steel" {
		t.Errorf("a draft serves: %s", id)
	}
	step := func(who string) (int, db.Written, error) {
		return store.CurateImport(t.Context(), done.Revision, db.Write{Who: who, Reason: "checked"}, func(c *material.Curation) (material.Curation, error) {
			return c.Approve(material.Step{Who: who, Reason: "checked", At: "2026-03-01T00:00:00Z"}, "2026-03-01T00:00:00Z")
		})
	}
	if _, _, err := step("ann"); err == nil {
		t.Error("the author approved")
	} else {
		fault(t, err, domain.Invalid, "approver-is-author")
	}
	n, after, err := step("bob")
	if err != nil || n != many || after.Revision != done.Revision+1 {
		t.Fatalf("%d approved in revision %d: %v", n, after.Revision, err)
	}
	if s := state(t, store, "kc-a-steel"); s.State != material.Superseded || s.SupersededBy != records[7].ID {
		t.Errorf("superseded: %+v", s)
	}
	if s := state(t, store, records[many-1].ID); s.State != material.Approved || !s.InForce || s.Approver != "bob" {
		t.Errorf("approved: %+v", s)
	}
	if _, _, err := step("bob"); err == nil {
		t.Error("approved twice")
	} else {
		fault(t, err, domain.NotFound, "not-found")
	}
}
