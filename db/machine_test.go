package db_test

import (
	"context"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/machine"
)

func mill(name string) machine.Machine {
	return machine.Machine{ID: "m-1", Name: name, Process: machine.Milling, Basis: domain.Shop,
		Spindle: machine.Spindle{MaxSpeedPerMin: 8000 + third, EfficiencyRatio: 0.9, Gears: []machine.Gear{
			{Name: "direct", MaxSpeedPerMin: 8000 + third, Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: 10 + third, TorqueNm: 60}}}}}}
}

var errTaken = errors.New("taken")

func absent(current *machine.Machine) error {
	if current != nil {
		return errTaken
	}
	return nil
}

func named(name string) func(*machine.Machine) error {
	return func(current *machine.Machine) error {
		if current == nil || current.Name != name {
			return errTaken
		}
		return nil
	}
}

func put(t testing.TB, store *db.DB, name string) db.Written {
	t.Helper()
	w, err := store.PutMachine(t.Context(), mill(name), db.Write{Who: "tester", Reason: "why " + name})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// A write moves the revision on by one, stands in the changes, and earlier revisions
// are still there by number and by time.
func TestMachineHistory(t *testing.T) {
	store := dbtest.New(t)
	one := put(t, store, "one")
	between := time.Now()
	two := put(t, store, "two")
	if !one.Created || two.Created || two.Revision != one.Revision+1 {
		t.Fatalf("writes %+v and %+v", one, two)
	}
	if again := put(t, store, "two"); again.Changed || again.Revision != two.Revision {
		t.Errorf("the same content again: %+v", again)
	}
	for name, when := range map[string]db.AsOf{"one": {Revision: &one.Revision}, "two": {Revision: &two.Revision}} {
		data, err := store.SnapshotAt(t.Context(), when)
		if err != nil || len(data.Machines) != 1 || data.Machines[0].Name != name {
			t.Errorf("as of %d: %+v, %v", *when.Revision, data.Machines, err)
		}
	}
	if data, err := store.SnapshotAt(t.Context(), db.AsOf{Time: &between}); err != nil || data.Machines[0].Name != "one" {
		t.Errorf("as of the time between: %v, %v", data.Machines, err)
	}
	gone, err := store.DeleteMachine(t.Context(), "m-1", db.Write{Who: "tester", Check: named("two")})
	if err != nil || gone.Revision != two.Revision+1 {
		t.Fatalf("removed: %+v, %v", gone, err)
	}
	list, err := store.Changes(t.Context(), db.ChangesQuery{})
	if err != nil {
		t.Fatal(err)
	}
	want := []db.Change{
		{Revision: one.Revision, Who: "tester", Kind: "machine", ID: "m-1", Action: "added", Reason: "why one"},
		{Revision: two.Revision, Who: "tester", Kind: "machine", ID: "m-1", Action: "changed", Reason: "why two"},
		{Revision: gone.Revision, Who: "tester", Kind: "machine", ID: "m-1", Action: "removed"},
	}
	if diff := cmp.Diff(want, list, cmpopts.IgnoreFields(db.Change{}, "At")); diff != "" {
		t.Errorf("changes (-want +got):\n%s", diff)
	}
	if page, err := store.Changes(t.Context(), db.ChangesQuery{After: one.Revision, Limit: 1}); err != nil || len(page) != 1 || page[0].Action != "changed" {
		t.Errorf("the page after the first: %+v, %v", page, err)
	}
	far := gone.Revision + 7
	if _, err := store.SnapshotAt(t.Context(), db.AsOf{Revision: &far}); err == nil || domain.Faults(err)[0].Code != "as-of-unknown" {
		t.Errorf("a revision to come: %v", err)
	}
}

// Of many who create the same machine, or replace the same state of it, one wins.
func TestOneWriterWins(t *testing.T) {
	store := dbtest.New(t)
	race := func(check func(*machine.Machine) error) (won, lost int) {
		var wait sync.WaitGroup
		var mu sync.Mutex
		for _, name := range strings.Fields("a b c d e f g h") {
			wait.Go(func() {
				_, err := store.PutMachine(context.Background(), mill(name), db.Write{Who: name, Check: check})
				mu.Lock()
				defer mu.Unlock()
				switch {
				case err == nil:
					won++
				case errors.Is(err, errTaken):
					lost++
				default:
					t.Errorf("%s: %v", name, err)
				}
			})
		}
		wait.Wait()
		return won, lost
	}
	if won, lost := race(absent); won != 1 || lost != 7 {
		t.Errorf("created %d times, refused %d times", won, lost)
	}
	put(t, store, "start")
	if won, lost := race(named("start")); won != 1 || lost != 7 {
		t.Errorf("replaced %d times, refused %d times", won, lost)
	}
}

// The history is never rewritten.
func TestHistoryIsAppendOnly(t *testing.T) {
	store := dbtest.New(t)
	put(t, store, "one")
	for _, statement := range []string{"UPDATE changes SET who = 'x'", "DELETE FROM changes", "TRUNCATE changes"} {
		if err := run(t, store, statement); err == nil {
			t.Errorf("%s is taken", statement)
		}
	}
}

// The database refuses what cannot be, NaN and Infinity too, whoever writes.
func TestDatabaseRefuses(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	put(t, store, "one")
	for _, statement := range []string{
		"UPDATE machine SET max_speed_per_min = 'NaN'", "UPDATE machine SET max_speed_per_min = 'Infinity'", "UPDATE machine SET max_speed_per_min = 0",
		"UPDATE machine SET efficiency_ratio = 1.01", "UPDATE machine SET efficiency_ratio = 'NaN'", "UPDATE machine SET idle_power_kw = -1",
		"UPDATE machine SET process = 'grinding'",
		"UPDATE force_record SET specific_cutting_force_1_1_n_per_mm2 = 'NaN'", "UPDATE force_record SET specific_cutting_force_1_1_n_per_mm2 = -1",
		"UPDATE force_record SET basis = 'hearsay'", "UPDATE force_record SET source_id = 'nobody'", "UPDATE force_record SET source_id = NULL",
		"UPDATE starting_record SET speed_low_m_per_min = 'Infinity'", "UPDATE material SET iso_group = 'X'", "DELETE FROM source",
		"UPDATE material_condition SET hardness_low = 'NaN'",
	} {
		if err := run(t, store, statement); err == nil {
			t.Errorf("%s is taken", statement)
		} else if strings.Contains(err.Error(), "42703") {
			t.Errorf("%s names a column that is not there: %v", statement, err)
		}
	}
}

// A database that is not there is told quickly, as unavailable.
func TestDatabaseAway(t *testing.T) {
	server := dbtest.NewServer(t)
	store := dbtest.Open(t, server.URL())
	put(t, store, "one")
	server.Stop()
	start := time.Now()
	_, err := store.PutMachine(t.Context(), mill("two"), db.Write{Who: "tester"})
	if err == nil || domain.Faults(err)[0].Kind != domain.Unavailable {
		t.Errorf("a write with the database stopped: %v", err)
	}
	if took := time.Since(start); took > 3*time.Second {
		t.Errorf("told after %v", took)
	}
	server.Start()
	put(t, store, "three")
}

func run(t testing.TB, store *db.DB, statement string) error {
	return store.Exec(t.Context(), statement)
}
