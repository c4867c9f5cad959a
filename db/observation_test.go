package db_test

import (
	"errors"
	"math"
	"testing"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/evidence"
	"swarf/domain/material"
)

// read is an accepted load of a metal on a machine, so many times what its record expected.
func read(metal, machine, record string, ratio float64) evidence.Kept {
	return evidence.Kept{At: "2026-03-01T08:00:00Z", Who: "ann", Kind: "load", Material: metal, Process: "turning", ToolMaterial: "HC", Machine: machine, Lot: "A", Edge: "1", Record: record,
		Seen: &evidence.Seen{ForceExp: math.Log(2000), ThicknessExp: math.Log(0.2), WearRatio: third, OfExpectedRatio: ratio}, Document: []byte(`{"kind": "load"}`)}
}

// Observations are kept in order, with their digits, page by page, and never changed.
func TestObservationsAreKept(t *testing.T) {
	store := dbtest.New(t)
	aside := read("a-steel", "m-1", "kc", 9)
	aside.SetAside, aside.Doubts = true, []evidence.Doubt{{Code: "far-outside-record"}}
	edge := evidence.Kept{At: "2026-03-01T09:00:00Z", Who: "ann", Kind: "edge", Material: "a-steel", Process: "turning", ToolMaterial: "HC", Document: []byte("{}"),
		Ended: &evidence.Ended{SpeedMPerMin: 150 + third, FeedMM: 0.2, DepthMM: 2, Minutes: 12.5, Failed: true}}
	first, err := store.AddObservations(t.Context(), []evidence.Kept{read("a-steel", "m-1", "kc", 1), aside, edge, read("b-steel", "m-1", "kc-b", 1), read("c-steel", "m-2", "kc-c", 1)})
	if err != nil || first != 1 {
		t.Fatalf("first %d, %v", first, err)
	}
	if next, err := store.AddObservations(t.Context(), []evidence.Kept{edge}); err != nil || next != 6 {
		t.Errorf("then %d, %v", next, err)
	}
	list, err := store.Observations(t.Context(), db.ObservationsQuery{After: 1, Limit: 2})
	if err != nil || len(list) != 2 || list[0].ID != 2 || !list[0].SetAside || list[0].Doubts[0].Code != "far-outside-record" {
		t.Errorf("%+v, %v", list, err)
	}
	force, err := store.ForcePoints(t.Context(), "a-steel", "turning", 100)
	if err != nil || len(force) != 2 || force[0].Material != "a-steel|turning" || force[0].WearRatio != third || force[1].Material != "b-steel|turning" {
		t.Errorf("loads of the metal, and of others on its machines: %+v, %v", force, err)
	}
	life, err := store.LifePoints(t.Context(), "a-steel", "turning", "HC", 100)
	if err != nil || len(life) != 2 || life[0].SpeedMPerMin != 150+third || !life[0].Failed {
		t.Errorf("%+v, %v", life, err)
	}
	for _, statement := range []string{`UPDATE observation SET failed = true`, `DELETE FROM observation`, `TRUNCATE observation`} {
		var refused *domain.Error
		if err := store.Exec(t.Context(), statement); err == nil || errors.As(err, &refused) && refused.Kind == domain.Internal {
			t.Errorf("%s: %v", statement, err)
		}
	}
	if revision, err := store.Revision(t.Context()); err != nil || revision != 0 {
		t.Errorf("observing made revision %d, %v", revision, err)
	}
}

// A record in force that five loads put 20 % off is marked, and let go when they agree again.
func TestDriftIsMarked(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	draft(t, store, trial("kc-own", 2000, material.Curation{}), "ann")
	if err := approve(store, t, "kc-own", "bob", "2026-01-01T00:00:00Z"); err != nil {
		t.Fatal(err)
	}
	watch := func(ratio float64, count, changed int, drift float64) {
		t.Helper()
		var list []evidence.Kept
		for range count {
			list = append(list, read("a-steel", "m-1", "kc-own", ratio))
		}
		if _, err := store.AddObservations(t.Context(), list); err != nil {
			t.Fatal(err)
		}
		got, err := store.KeepWatch(t.Context())
		if err != nil || got != changed {
			t.Fatalf("%d changed, %v", got, err)
		}
		if c := state(t, store, "kc-own"); c.DriftRatio != drift {
			t.Errorf("drift %v, want %v", c.DriftRatio, drift)
		}
	}
	watch(1.2, 4, 0, 0)
	watch(1.2, 1, 1, 1.2)
	watch(1.2, 1, 0, 1.2)
	watch(1.0, 9, 1, 0)
}

// BenchmarkAddObservations keeps ten thousand loads a time; the contract wants 20,000 a second.
func BenchmarkAddObservations(b *testing.B) {
	store := dbtest.New(b)
	list := make([]evidence.Kept, 10_000)
	for i := range list {
		list[i] = read("a-steel", "m-1", "kc", 1)
		list[i].Document = []byte(`{"units":"metric","kind":"load","lot":"H4711","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":6.4}}`)
	}
	for b.Loop() {
		if _, err := store.AddObservations(b.Context(), list); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(list)*b.N)/b.Elapsed().Seconds(), "observations/s")
}
