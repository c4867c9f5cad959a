package db_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// trial is a shop's own force record of the fixture's steel, a draft by its author.
func trial(id string, kc float64, life material.Curation) catalog.Record {
	life.Kind, life.State = "force", material.Draft
	return catalog.Record{ID: id, Force: &material.Force{
		Provenance: material.Provenance{ID: id, Basis: domain.Shop, Source: "common-practice", Place: "trial 7", Curation: &life},
		Scope:      material.Scope{Level: "material", Key: "a-steel"}, Process: "turning", Method: material.Kienzle,
		SpecificCuttingForce11NPerMM2: unit.Some(kc), ChipThicknessExp: unit.Some(0.22)}}
}

func draft(t *testing.T, store *db.DB, r catalog.Record, who string) {
	t.Helper()
	r.Provenance().Curation.Author = who
	if _, err := store.PutRecord(t.Context(), r, db.Write{Who: who, Reason: "measured"}, nil); err != nil {
		t.Fatal(err)
	}
}

func approve(store *db.DB, t *testing.T, id, who, from string) error {
	t.Helper()
	at := db.Stamp(time.Now())
	_, err := store.CurateRecord(t.Context(), id, db.Write{Who: who, Reason: "checked"}, func(c *material.Curation) (material.Curation, error) {
		return c.Approve(material.Step{Who: who, Reason: "checked", At: at}, from)
	})
	return err
}

// served is the force record that serves the fixture's steel, as of now or a revision, and
// one withdrawn for safety that would have.
func served(t *testing.T, store *db.DB, at *int64) (id, withdrawn string) {
	t.Helper()
	data, err := store.Snapshot(t.Context())
	if at != nil {
		data, err = store.SnapshotAt(t.Context(), db.AsOf{Revision: at})
	}
	if err != nil {
		t.Fatal(err)
	}
	snap, err := catalog.New(data)
	if err != nil {
		t.Fatal(err)
	}
	grade, _ := snap.Material("a-steel")
	choice := snap.ChooseForce(catalog.ForceQuery{Grade: grade, Process: "turning"})
	if choice.Withdrawn != nil {
		withdrawn = choice.Withdrawn.ID
	}
	return choice.Served.ID, withdrawn
}

func state(t *testing.T, store *db.DB, id string) material.Curation {
	t.Helper()
	data, err := store.Snapshot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	snap, err := catalog.New(data)
	if err != nil {
		t.Fatal(err)
	}
	r, ok := snap.Record(id)
	if !ok {
		t.Fatalf("no record %s", id)
	}
	c := *r.Provenance().Curation
	c.Revision = 0
	return c
}

func code(err error) string {
	var ours *domain.Error
	if errors.As(err, &ours) {
		return ours.Code
	}
	return ""
}

// A record is drafted by one person and approved by another, serves from then on, ends by
// another taking its place or by withdrawal, and every earlier revision still answers as it
// did. Loading reference data leaves all of it alone.
func TestLifeOfARecord(t *testing.T) {
	store := dbtest.New(t)
	if _, err := store.Load(t.Context(), fixture(), db.LoadOptions{Who: "loader", Demo: true}); err != nil {
		t.Fatal(err)
	}
	past := "2026-01-01T00:00:00Z"
	draft(t, store, trial("kc-shop-1", 2100, material.Curation{Lots: 1, Supersedes: "kc-a-steel"}), "ann")
	if id, _ := served(t, store, nil); id != "kc-a-steel" {
		t.Fatalf("with a draft %s serves", id)
	}
	drafted, _ := store.Revision(t.Context())
	draft(t, store, trial("kc-shop-1", 2050, material.Curation{Lots: 1, Supersedes: "kc-a-steel"}), "ann") // revised
	if got := code(approve(store, t, "kc-shop-1", " Ann ", past)); got != "approver-is-author" {
		t.Errorf("approved by its author: %q", got)
	}
	if err := approve(store, t, "kc-shop-1", "bob", past); err != nil {
		t.Fatal(err)
	}
	if id, _ := served(t, store, nil); id != "kc-shop-1" {
		t.Errorf("approved, %s serves", id)
	}
	if diff := cmp.Diff(material.Curation{Kind: "force", State: material.Superseded, Author: "reference data", Approver: "the project",
		ValidFrom: "0001-01-01T00:00:00Z", ValidTo: past, SupersededBy: "kc-shop-1"}, state(t, store, "kc-a-steel")); diff != "" {
		t.Errorf("what it supersedes (-want +got):\n%s", diff)
	}
	if got := code(approve(store, t, "kc-shop-1", "cid", past)); got != "state-unfit" {
		t.Errorf("approved twice: %q", got)
	}
	_, err := store.PutRecord(t.Context(), trial("kc-shop-1", 1, material.Curation{Author: "ann"}), db.Write{Who: "ann"}, nil)
	if code(err) != "state-unfit" {
		t.Errorf("written anew after approval: %v", err)
	}
	if id, _ := served(t, store, &drafted); id != "kc-a-steel" {
		t.Errorf("as of the draft %s serves", id)
	}

	report, err := store.Load(t.Context(), fixture(), db.LoadOptions{Who: "loader", Demo: true})
	if err != nil || len(report.Changes) != 0 {
		t.Errorf("loading again changes %+v, %v", report.Changes, err)
	}
	lesser := fixture()
	lesser.Force = lesser.Force[1:]
	report, err = store.Load(t.Context(), lesser, db.LoadOptions{Who: "loader", Demo: true})
	if err != nil || len(report.Changes) != 0 {
		t.Errorf("a record that somebody ended was taken away: %+v, %v", report.Changes, err)
	}

	_, err = store.CurateRecord(t.Context(), "kc-shop-1", db.Write{Who: "cid", Reason: "burst"}, func(c *material.Curation) (material.Curation, error) {
		return c.Withdraw(material.Step{Who: "cid", Reason: "burst", At: db.Stamp(time.Now())}, true)
	})
	if err != nil {
		t.Fatal(err)
	}
	if id, withdrawn := served(t, store, nil); id != "u-carbon" || withdrawn != "kc-shop-1" {
		t.Errorf("withdrawn, %s serves and %q would", id, withdrawn)
	}
	feed := changes(t, store, db.ChangesQuery{After: 1, Limit: 100})
	var told []string
	for _, c := range feed {
		told = append(told, c.Kind+" "+c.ID+" "+c.Action+" by "+c.Who)
	}
	if diff := cmp.Diff([]string{"record kc-shop-1 added by ann", "record kc-shop-1 changed by ann", "record kc-a-steel changed by bob",
		"record kc-shop-1 changed by bob", "record kc-shop-1 changed by cid"}, told); diff != "" {
		t.Errorf("the feed (-want +got):\n%s", diff)
	}
}

// A date to come is kept until the calendar brings it; so is the date of a review.
func TestCalendar(t *testing.T) {
	store := dbtest.New(t)
	if _, err := store.Load(t.Context(), fixture(), db.LoadOptions{Who: "loader", Demo: true}); err != nil {
		t.Fatal(err)
	}
	now := time.Now().UTC()
	soon := now.Add(48 * time.Hour)
	draft(t, store, trial("kc-shop-2", 2100, material.Curation{ReviewBy: soon.Add(72 * time.Hour).Format(time.DateOnly), Supersedes: "kc-a-steel"}), "ann")
	if err := approve(store, t, "kc-shop-2", "bob", db.Stamp(soon)); err != nil {
		t.Fatal(err)
	}
	keep := func(at time.Time, due int, serves string, pastReview bool) {
		t.Helper()
		before, _ := store.Revision(t.Context())
		got, err := store.KeepCalendar(t.Context(), at)
		after, _ := store.Revision(t.Context())
		if err != nil || got != due || (after != before) != (due > 0) {
			t.Fatalf("%d due, revision %d to %d, %v", got, before, after, err)
		}
		if id, _ := served(t, store, nil); id != serves {
			t.Errorf("at %v %s serves", at, id)
		}
		if c := state(t, store, "kc-shop-2"); c.PastReview != pastReview {
			t.Errorf("at %v past review: %v", at, c.PastReview)
		}
	}
	keep(now, 0, "kc-a-steel", false)
	keep(soon.Add(time.Hour), 1, "kc-shop-2", false)
	keep(soon.Add(time.Hour), 0, "kc-shop-2", false)
	keep(soon.Add(100*time.Hour), 1, "kc-shop-2", true)
	if c := state(t, store, "kc-a-steel"); c.State != material.Superseded || c.ValidTo != db.Stamp(soon) {
		t.Errorf("what it supersedes: %+v", c)
	}
}

// Cuts are kept as they were sent, replaced and let go.
func TestStoredCuts(t *testing.T) {
	store := dbtest.New(t)
	cut := catalog.StoredCut{ID: "op-10", Request: []byte(`{"units": "metric"}`), Note: "housing"}
	w := db.Write{Who: "ann"}
	made, kept, err := store.PutCut(t.Context(), cut, w, nil)
	if err != nil || !made.Created || string(kept.Request) != `{"units": "metric"}` || kept.Revision != 1 {
		t.Fatalf("%+v %s %v", made, kept.Request, err)
	}
	if again, _, err := store.PutCut(t.Context(), cut, w, nil); err != nil || again.Created || again.Changed {
		t.Errorf("the same again: %+v %v", again, err)
	}
	if _, err := store.DeleteCut(t.Context(), "op-10", w, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := store.DeleteCut(t.Context(), "op-10", w, nil); code(err) != "not-found" {
		t.Errorf("let go twice: %v", err)
	}
}
