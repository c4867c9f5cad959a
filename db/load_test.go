package db_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// TestLoadAndSnapshot checks that what goes in comes out, to the last digit, now and
// from the history.
func TestLoadAndSnapshot(t *testing.T) {
	store := dbtest.New(t)
	if empty := snapshot(t, store); empty.Revision != 0 || len(empty.Materials) != 0 {
		t.Fatalf("an empty database has revision %d and %d materials", empty.Revision, len(empty.Materials))
	}
	report := load(t, store, fixture(), us)
	if report.Revision != 1 || len(report.Changes) != 22 {
		t.Errorf("first load made revision %d with %d changes, want 1 with 22", report.Revision, len(report.Changes))
	}
	want := stamp(fixture(), 1)
	if diff := cmp.Diff(want, snapshot(t, store)); diff != "" {
		t.Errorf("snapshot differs from what was loaded (-loaded +read):\n%s", diff)
	}
	if diff := cmp.Diff(want, snapshotAt(t, store, 1)); diff != "" {
		t.Errorf("the history differs from what was loaded (-loaded +read):\n%s", diff)
	}
}

// TestLoadAgain checks dry runs, idempotence, and what a changed catalogue does.
func TestLoadAgain(t *testing.T) {
	ctx, store := context.Background(), dbtest.New(t)
	dry := us
	dry.DryRun = true
	if report := load(t, store, fixture(), dry); !report.Changed() || report.Revision != 0 {
		t.Errorf("dry run on an empty database:\n%s", report)
	}
	if revision, err := store.Revision(ctx); err != nil || revision != 0 {
		t.Fatalf("a dry run left revision %d, %v", revision, err)
	}
	load(t, store, fixture(), us)
	if report := load(t, store, fixture(), us); report.Changed() || report.Revision != 1 {
		t.Errorf("a second load changed something:\n%s", report)
	}

	changed := fixture()
	m := &changed.Materials[0]
	m.Designations = append(m.Designations[1:], material.Designation{Standard: "JIS", Value: "S99C"}) // one goes, all move up, one comes
	m.Conditions[0], m.Conditions[1] = m.Conditions[1], m.Conditions[0]
	changed.Force[0].SpecificCuttingForce11NPerMM2 = unit.Some(1800)
	changed.Force[0].Source = "new-book"
	changed.Sources = append(changed.Sources[1:], domain.Source{ID: "new-book", Title: "A new book", Kind: "handbook"})
	changed.Hardness = changed.Hardness[:1]
	changed.Life = nil
	// a-book is gone: everything that named it has to move over.
	for _, p := range []*material.Provenance{&m.Conditions[0].Provenance, &m.Conditions[1].Provenance, &m.Physical[0].Provenance,
		&changed.Force[1].Provenance, &changed.Force[2].Provenance, &changed.Starting[0].Provenance, &changed.Starting[1].Provenance} {
		p.Source = "new-book"
	}
	changed.Hardness[0].Source = "new-book"
	preview := load(t, store, changed, func() db.LoadOptions { o := us; o.DryRun = true; return o }())
	report := load(t, store, changed, us)
	if diff := cmp.Diff(preview.Changes, report.Changes); diff != "" || report.Revision != 2 {
		t.Errorf("revision %d; the dry run said something else (-dry +real):\n%s", report.Revision, diff)
	}
	text := report.String()
	for _, want := range []string{
		"added    source new-book\n", "removed  source a-book\n", "removed  life_record life-a\n", "removed  hardness_row 2\n",
		"changed  force_record kc-a-steel: specific_cutting_force_1_1_n_per_mm2 1700.3333333333333 -> 1800, source_id a-book -> new-book\n",
		"removed  designation a-steel|UNS|G99999\n", "changed  designation a-steel|AISI/SAE|9999: position 2 -> 1\n",
		"added    designation a-steel|JIS|S99C\n", "source: 1 added, 0 changed, 1 removed\n", "\nrevision 2\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the report lacks %q:\n%s", want, text)
		}
	}
	got := snapshot(t, store)
	if got.Materials[0].Revision != 2 || got.Materials[1].Revision != 2 {
		t.Errorf("a-steel changed in revision %d, b-alloy with its group's record in %d, want 2 and 2", got.Materials[0].Revision, got.Materials[1].Revision)
	}
	if got.Classes[0].Revision != 1 || got.Machines[0].Revision != 1 {
		t.Errorf("what did not change moved to revision %d, %d", got.Classes[0].Revision, got.Machines[0].Revision)
	}
	want := stamp(changed, 2)
	want.Classes[0].Revision, want.Machines[0].Revision, want.Sources[0].Revision = 1, 1, 1
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("(-loaded +read):\n%s", diff)
	}
	if diff := cmp.Diff(got, snapshotAt(t, store, 2)); diff != "" {
		t.Errorf("the history's present differs (-present +history):\n%s", diff)
	}
	if diff := cmp.Diff(stamp(fixture(), 1), snapshotAt(t, store, 1)); diff != "" {
		t.Errorf("revision 1 is not what it was (-then +rebuilt):\n%s", diff)
	}
}

// TestLoadKeepsTheShops checks that a load leaves alone what the shop wrote.
func TestLoadKeepsTheShops(t *testing.T) {
	ctx, store := context.Background(), dbtest.New(t)
	plain := us
	plain.Demo = false
	load(t, store, fixture(), plain)
	if got := snapshot(t, store); len(got.Machines) != 0 {
		t.Errorf("a load without demo brought %d machines", len(got.Machines))
	}
	by := db.Write{Who: "a setter"}
	for _, id := range []string{"own-mill", "demo-mill"} {
		if _, err := store.PutMachine(ctx, shopMachine(id), by); err != nil {
			t.Fatal(err)
		}
	}
	measured := fixture()
	measured.Force[0].ID, measured.Force[0].Basis = "kc-own", domain.Shop
	withOwn := fixture()
	withOwn.Force = append(withOwn.Force, measured.Force[0])
	load(t, store, withOwn, us)
	report := load(t, store, fixture(), us)
	if report.Changed() {
		t.Errorf("the load touched the shop's rows:\n%s", report)
	}
	if diff := cmp.Diff([]string{"machine demo-mill"}, report.Kept); diff != "" {
		t.Errorf("kept (-want +got):\n%s", diff)
	}
	got := snapshot(t, store)
	if len(got.Machines) != 2 || got.Machines[0].Name != "Shop mill" || len(got.Force) != 4 {
		t.Errorf("%d machines, the first %q, %d force records; want 2, Shop mill, 4", len(got.Machines), got.Machines[0].Name, len(got.Force))
	}
}

// TestLoadRefuses checks that unsound data changes nothing and names the row.
func TestLoadRefuses(t *testing.T) {
	ctx, store := context.Background(), dbtest.New(t)
	for name, c := range map[string]struct {
		spoil func(*catalog.Data)
		kind  domain.Kind
		want  string
	}{
		"negative force": {func(d *catalog.Data) { d.Force[0].SpecificCuttingForce11NPerMM2 = unit.Some(-1) }, domain.Invalid,
			"force_record kc-a-steel: it breaks the rule: force_record: specific cutting force is positive"},
		"not a number":    {func(d *catalog.Data) { d.Force[0].ChipThicknessExp = unit.Some(nan) }, domain.Invalid, "the reference data is not sound"},
		"no such source":  {func(d *catalog.Data) { d.Life[0].Source = "lost" }, domain.Conflict, "life_record life-a: it refers to what is not there"},
		"id on two":       {func(d *catalog.Data) { d.Life[0].ID = "start-turn" }, domain.Invalid, "record id start-turn stands in starting_record and in life_record"},
		"key twice":       {func(d *catalog.Data) { d.Sources[1] = d.Sources[0] }, domain.Invalid, "source a-book stands twice in the data"},
		"other quantity":  {func(d *catalog.Data) { d.Force[0].Speed.Quantity = unit.Length }, domain.Invalid, "speed: a range of length where speed belongs"},
		"property's unit": {func(d *catalog.Data) { d.Materials[0].Physical[0].Value.Quantity = unit.Mass }, domain.Invalid, "density: a value of mass where density belongs"},
		"nested records":  {func(d *catalog.Data) { d.Materials[0].Force = d.Force }, domain.Invalid, "its records belong beside it"},
	} {
		t.Run(name, func(t *testing.T) {
			spoilt := fixture()
			c.spoil(&spoilt)
			_, err := store.Load(ctx, spoilt, us)
			faults := domain.Faults(err)
			if len(faults) != 1 || faults[0].Kind != c.kind || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want kind %d and %q", err, c.kind, c.want)
			}
		})
	}
	if revision, err := store.Revision(ctx); err != nil || revision != 0 {
		t.Errorf("refused loads left revision %d, %v", revision, err)
	}
	if _, err := store.Load(ctx, fixture(), db.LoadOptions{}); err == nil {
		t.Error("a load without a name was accepted")
	}
}
