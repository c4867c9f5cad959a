package db_test

import (
	"context"
	"errors"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
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

// Of a replacement and a removal of the same state, one wins.
func TestReplaceOrRemove(t *testing.T) {
	store := dbtest.New(t)
	for range 5 {
		start := put(t, store, "start")
		var wait sync.WaitGroup
		var put, removed error
		wait.Go(func() {
			_, put = store.PutMachine(context.Background(), mill("new"), db.Write{Who: "a", Check: named("start")})
		})
		wait.Go(func() {
			_, removed = store.DeleteMachine(context.Background(), "m-1", db.Write{Who: "b", Check: named("start")})
		})
		wait.Wait()
		if (put == nil) == (removed == nil) || put != nil && !errors.Is(put, errTaken) || removed != nil && !errors.Is(removed, errTaken) {
			t.Fatalf("replaced: %v; removed: %v", put, removed)
		}
		if now, err := store.Revision(t.Context()); err != nil || now != start.Revision+1 {
			t.Fatalf("revision %d after %d, %v", now, start.Revision, err)
		}
	}
}

// What comes out is what went in, and the same again changes nothing.
func TestPutMachineTellsWhatItDid(t *testing.T) {
	store := dbtest.New(t)
	whole := fixture().Machines[0]
	first, err := store.PutMachine(t.Context(), whole, db.Write{Who: "tester"})
	if err != nil {
		t.Fatal(err)
	}
	whole.Revision = 1
	if diff := cmp.Diff(db.Written{Revision: 1, Created: true, Changed: true, Machine: &whole}, first); diff != "" {
		t.Errorf("created (-want +got):\n%s", diff)
	}
	again, err := store.PutMachine(t.Context(), whole, db.Write{Who: "another"})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(db.Written{Revision: 1, Machine: &whole}, again); diff != "" {
		t.Errorf("the same again (-want +got):\n%s", diff)
	}
	whole.Note = "moved"
	changed, err := store.PutMachine(t.Context(), whole, db.Write{Who: "another"})
	whole.Revision = 2
	if diff := cmp.Diff(db.Written{Revision: 2, Changed: true, Machine: &whole}, changed); err != nil || diff != "" {
		t.Errorf("changed, %v (-want +got):\n%s", err, diff)
	}
	gone, err := store.DeleteMachine(t.Context(), whole.ID, db.Write{Who: "another"})
	if diff := cmp.Diff(db.Written{Revision: 3, Changed: true, Machine: &whole}, gone); err != nil || diff != "" {
		t.Errorf("removed, %v (-want +got):\n%s", err, diff)
	}
}

// A write that is refused leaves no machine, no revision and no change.
func TestRefusedWritesLeaveNothing(t *testing.T) {
	store := dbtest.New(t)
	put(t, store, "one")
	by := db.Write{Who: "tester"}
	slow := mill("slow")
	slow.Spindle.EfficiencyRatio = 1.5
	unbounded := mill("unbounded")
	unbounded.Spindle.MaxSpeedPerMin = nan
	cases := []struct {
		name string
		do   func() error
		kind domain.Kind
		code string
	}{
		{"a value against the rules", func() error { _, err := store.PutMachine(t.Context(), slow, by); return err }, domain.Invalid, "value-out-of-range"},
		{"not a number", func() error { _, err := store.PutMachine(t.Context(), unbounded, by); return err }, domain.Invalid, "value-out-of-range"},
		{"nobody writes", func() error { _, err := store.PutMachine(t.Context(), mill("two"), db.Write{}); return err }, domain.Internal, "internal"},
		{"nothing to remove", func() error { _, err := store.DeleteMachine(t.Context(), "m-2", by); return err }, domain.NotFound, "not-found"},
	}
	for _, c := range cases {
		fault(t, c.do(), c.kind, c.code)
	}
	refusing := db.Write{Who: "tester", Check: named("other")}
	if _, err := store.PutMachine(t.Context(), mill("two"), refusing); !errors.Is(err, errTaken) {
		t.Errorf("put against its check: %v", err)
	}
	if _, err := store.DeleteMachine(t.Context(), "m-1", refusing); !errors.Is(err, errTaken) {
		t.Errorf("removed against its check: %v", err)
	}
	if _, err := store.DeleteMachine(t.Context(), "m-2", refusing); !errors.Is(err, errTaken) {
		t.Errorf("the check is asked about a machine that is not there: %v", err)
	}
	data := snapshot(t, store)
	if data.Revision != 1 || len(data.Machines) != 1 || data.Machines[0].Name != "one" {
		t.Errorf("revision %d with %+v", data.Revision, data.Machines)
	}
	if list, err := store.Changes(t.Context(), db.ChangesQuery{}); err != nil || len(list) != 1 {
		t.Errorf("%d changes, %v", len(list), err)
	}
}

// A server that may forget what it acknowledged gets no writes, unless it is wanted so.
func TestWritesNeedADurableServer(t *testing.T) {
	address := dbtest.URL(t)
	store := dbtest.Open(t, address)
	if err := store.CheckDurability(t.Context()); err != nil {
		t.Errorf("with fsync and synchronous_commit on: %v", err)
	}
	if err := store.Exec(t.Context(), `DO $$ BEGIN EXECUTE 'ALTER DATABASE ' || current_database() || ' SET synchronous_commit = off'; END $$`); err != nil {
		t.Fatal(err)
	}
	for _, unsafe := range []bool{false, true} {
		careless, err := db.Open(t.Context(), db.Config{URL: address, UnsafeWrites: unsafe})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(careless.Close)
		fault(t, careless.CheckDurability(t.Context()), domain.Unavailable, "data-not-ready")
		_, err = careless.PutMachine(t.Context(), mill("one"), db.Write{Who: "tester"})
		if unsafe && err != nil {
			t.Errorf("a write although it may be lost: %v", err)
		} else if !unsafe {
			fault(t, err, domain.Unavailable, "data-not-ready")
		}
	}
}

// Machines are read alone where nothing else changed since, as the whole is read.
func TestMachinesSince(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	since := func(revision int64, want bool) []machine.Machine {
		t.Helper()
		list, newest, only, err := store.MachinesSince(t.Context(), revision)
		now, _ := store.Revision(t.Context())
		if err != nil || only != want || newest != now {
			t.Fatalf("since %d: only %v at %d of %d, %v", revision, only, newest, now, err)
		}
		return list
	}
	since(1, false)
	put(t, store, "b-mill")
	put(t, store, "a-mill")
	if diff := cmp.Diff(snapshot(t, store).Machines, since(1, true)); diff != "" {
		t.Errorf("machines alone differ (-whole +alone):\n%s", diff)
	}
	since(0, false)
	if _, _, err := store.PutCut(t.Context(), catalog.StoredCut{ID: "op-10", Request: []byte("{}")}, db.Write{Who: "ann"}, nil); err != nil {
		t.Fatal(err)
	}
	since(2, false)
}
