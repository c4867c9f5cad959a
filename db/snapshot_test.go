package db_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
)

// Each earlier revision, by its number and by any time at which it was the newest,
// is what a snapshot taken then was.
func TestEveryEarlierRevision(t *testing.T) {
	store := dbtest.New(t)
	type then struct {
		data   catalog.Data
		as, to time.Time // the revision was the newest from as to to
	}
	var past []then
	note := func() {
		if len(past) > 0 {
			past[len(past)-1].to = serverTime(t, store, "SELECT at - interval '1 microsecond' FROM data_revision")
		}
		past = append(past, then{data: snapshot(t, store), as: serverTime(t, store, "SELECT at FROM data_revision")})
	}
	load(t, store, fixture(), us)
	note()
	put(t, store, "one")
	note()
	put(t, store, "two")
	note()
	if _, err := store.DeleteMachine(t.Context(), "m-1", db.Write{Who: "tester"}); err != nil {
		t.Fatal(err)
	}
	note()
	put(t, store, "one") // it comes back
	note()
	less := fixture()
	less.Life, less.Materials[0].Designations = nil, nil
	load(t, store, less, us)
	note()
	load(t, store, fixture(), us)
	note()
	past[len(past)-1].to = serverTime(t, store, "SELECT clock_timestamp()")

	for i, was := range past {
		revision := int64(i + 1)
		if was.data.Revision != revision {
			t.Fatalf("write %d made revision %d", i+1, was.data.Revision)
		}
		for name, when := range map[string]db.AsOf{
			"by number": {Revision: &revision}, "at its beginning": {Time: &was.as}, "to its end": {Time: &was.to},
		} {
			got, err := store.SnapshotAt(t.Context(), when)
			if err != nil {
				t.Fatalf("revision %d %s: %v", revision, name, err)
			}
			if diff := cmp.Diff(was.data, got); diff != "" {
				t.Errorf("revision %d %s (-then +rebuilt):\n%s", revision, name, diff)
			}
			if found, err := store.RevisionAt(t.Context(), when); err != nil || found != revision {
				t.Errorf("revision %d %s is found as %d, %v", revision, name, found, err)
			}
		}
	}
	if got, err := store.SnapshotAt(t.Context(), db.AsOf{}); err != nil || got.Revision != int64(len(past)) {
		t.Errorf("as of nothing in particular: %d, %v", got.Revision, err)
	}
}

func TestUnknownRevisions(t *testing.T) {
	store := dbtest.New(t)
	_, err := store.SnapshotAt(t.Context(), db.AsOf{})
	fault(t, err, domain.Invalid, "as-of-unknown") // nothing is held yet
	before := serverTime(t, store, "SELECT clock_timestamp()")
	put(t, store, "one")
	later := time.Now().Add(time.Hour)
	number := func(n int64) *int64 { return &n }
	for name, c := range map[string]struct {
		when db.AsOf
		code string
	}{
		"not made yet":        {db.AsOf{Revision: number(2)}, "as-of-unknown"},
		"the greatest":        {db.AsOf{Revision: number(1<<63 - 1)}, "as-of-unknown"},
		"nought":              {db.AsOf{Revision: number(0)}, "as-of-unknown"},
		"below nought":        {db.AsOf{Revision: number(-1)}, "as-of-unknown"},
		"before any data":     {db.AsOf{Time: &before}, "as-of-unknown"},
		"still to come":       {db.AsOf{Time: &later}, "as-of-unknown"},
		"a number and a time": {db.AsOf{Revision: number(1), Time: &before}, "fields-conflict"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := store.SnapshotAt(t.Context(), c.when)
			if f := fault(t, err, domain.Invalid, c.code); f.Field != "as_of" || f.Fix == "" {
				t.Errorf("field %q, fix %q", f.Field, f.Fix)
			}
			_, err = store.RevisionAt(t.Context(), c.when)
			fault(t, err, domain.Invalid, c.code)
		})
	}
}

// serverTime asks for a time by the server's clock.
func serverTime(t *testing.T, store *db.DB, query string) (at time.Time) {
	t.Helper()
	if err := store.Pool().QueryRow(t.Context(), query).Scan(&at); err != nil {
		t.Fatal(err)
	}
	return at
}
