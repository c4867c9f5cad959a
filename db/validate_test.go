package db_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
)

// checked marks contexts of writes that are only checked.
type checked struct{}

// What is only checked meets the rules of the database and leaves no trace: no row, no
// revision, no change in the history.
func TestWritesThatAreOnlyChecked(t *testing.T) {
	store := opened(t, db.Config{URL: dbtest.URL(t), CheckOnly: func(ctx context.Context) bool { return ctx.Value(checked{}) != nil }})
	load(t, store, fixture(), us)
	before, whole := snapshot(t, store), fixture().Machines[0]
	only := context.WithValue(t.Context(), checked{}, true)
	whole.ID = "checked-mill"
	made, err := store.PutMachine(only, whole, db.Write{Who: "tester"})
	if err != nil || !made.Created || !made.Changed {
		t.Fatalf("%+v, %v", made, err)
	}
	if gone, err := store.DeleteMachine(only, before.Machines[0].ID, db.Write{Who: "tester"}); err != nil || !gone.Changed {
		t.Fatalf("%+v, %v", gone, err)
	}
	if _, _, err := store.PutCut(only, catalog.StoredCut{ID: "op-10", Request: []byte("{}")}, db.Write{Who: "ann"}, nil); err != nil {
		t.Fatal(err)
	}
	if first, err := store.AddObservations(only, []evidence.Kept{{At: "2026-03-03T12:00:00Z", Who: "ann", Kind: "surface", Material: "m", Process: "turning", Document: []byte("{}")}}); err != nil || first == 0 {
		t.Fatalf("%d, %v", first, err)
	}
	refused := errors.New("refused")
	if _, err := store.PutRecord(only, *someRecord(t, before), db.Write{Who: "ann"}, func(*catalog.Record) error { return refused }); !errors.Is(err, refused) {
		t.Errorf("a check that refuses: %v", err)
	}
	whole.Spindle.MaxSpeedPerMin = -1
	if _, err := store.PutMachine(only, whole, db.Write{Who: "tester"}); err == nil {
		t.Error("a rule of the database was not met")
	}
	if diff := cmp.Diff(before, snapshot(t, store)); diff != "" {
		t.Errorf("something was kept (-before +after):\n%s", diff)
	}
	if list, err := store.Observations(t.Context(), db.ObservationsQuery{Limit: 10}); err != nil || len(list) != 0 {
		t.Errorf("%d observations were kept, %v", len(list), err)
	}
	if list, err := store.Changes(t.Context(), db.ChangesQuery{After: before.Revision, Limit: 10}); err != nil || len(list) != 0 {
		t.Errorf("%d changes were written, %v", len(list), err)
	}
	if again, err := store.PutMachine(t.Context(), fixture().Machines[0], db.Write{Who: "tester"}); err != nil {
		t.Errorf("afterwards: %+v, %v", again, err)
	}
}

func someRecord(t *testing.T, d catalog.Data) *catalog.Record {
	t.Helper()
	f := d.Force[0]
	return &catalog.Record{ID: f.ID, Force: &f}
}
