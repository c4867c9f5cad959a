package db_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"swarf/db/data"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// TestLoadEmbedded checks the same for all reference data that ships: every grade
// read from the database has the digits of the embedded files.
func TestLoadEmbedded(t *testing.T) {
	embedded, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	store := dbtest.New(t)
	load(t, store, embedded, us)
	byID := cmp.Options{
		cmpopts.EquateEmpty(),
		cmpopts.SortSlices(func(a, b domain.Source) bool { return a.ID < b.ID }),
		cmpopts.SortSlices(func(a, b material.Force) bool { return a.ID < b.ID }),
		cmpopts.SortSlices(func(a, b material.Starting) bool { return a.ID < b.ID }),
		cmpopts.SortSlices(func(a, b material.Life) bool { return a.ID < b.ID }),
	}
	embedded = stamp(embedded, 1)
	for name, read := range map[string]catalog.Data{"present": snapshot(t, store), "history": snapshotAt(t, store, 1)} {
		found := map[string]*material.Material{}
		for i := range read.Materials {
			found[read.Materials[i].ID] = &read.Materials[i]
		}
		for i := range embedded.Materials {
			m := &embedded.Materials[i]
			if diff := cmp.Diff(m, found[m.ID], byID); diff != "" {
				t.Errorf("%s: material %s (-embedded +read):\n%s", name, m.ID, diff)
			}
		}
		if len(read.Materials) != len(embedded.Materials) || len(read.Materials) < 60 {
			t.Errorf("%s: %d materials read, %d embedded, at least 60 are wanted", name, len(read.Materials), len(embedded.Materials))
		}
		rest := cmp.Options{byID, cmpopts.IgnoreFields(catalog.Data{}, "Materials", "Classes", "Machines")}
		if diff := cmp.Diff(embedded, read, rest); diff != "" {
			t.Errorf("%s (-embedded +read):\n%s", name, diff)
		}
		classes, machines := map[string]any{}, map[string]any{}
		for _, c := range read.Classes {
			classes[c.ID] = c
		}
		for _, c := range embedded.Classes {
			if diff := cmp.Diff(any(c), classes[c.ID], byID); diff != "" {
				t.Errorf("%s: class %s (-embedded +read):\n%s", name, c.ID, diff)
			}
		}
		for _, m := range read.Machines {
			machines[m.ID] = m
		}
		for _, m := range embedded.Machines {
			if diff := cmp.Diff(any(m), machines[m.ID]); diff != "" {
				t.Errorf("%s: machine %s (-embedded +read):\n%s", name, m.ID, diff)
			}
		}
	}
	if again := load(t, store, embedded, us); again.Changed() || again.Revision != 1 {
		t.Errorf("a second load changed something:\n%s", again)
	}
}
