package material

import "testing"

// What is approved from a date on serves from that date on, on the record and on the floor.
func TestApprovedFromADate(t *testing.T) {
	const now, later = "2026-03-03T12:00:00Z", "2026-03-09T00:00:00Z"
	draft := Curation{State: Draft, Author: "ann"}
	at, err := draft.Approve(Step{Who: "ben", At: now}, now)
	if err != nil || !at.InForce || !at.ServedAt(now) {
		t.Errorf("%+v, %v", at, err)
	}
	waits, err := draft.Approve(Step{Who: "ben", At: now}, later)
	if err != nil || waits.InForce || waits.State != Approved || waits.ServedAt(now) || !waits.ServedAt(later) {
		t.Errorf("%+v, %v", waits, err)
	}
	if same, changed := waits.Today(now); changed || same.InForce {
		t.Errorf("before its date: %+v", same)
	}
	if begun, changed := waits.Today(later); !changed || !begun.InForce {
		t.Errorf("on its date: %+v", begun)
	}
}

// Four eyes: whoever wrote a record, however they write their name, does not approve it; and
// what is not a draft is approved by nobody.
func TestAnotherPersonApproves(t *testing.T) {
	for who, want := range map[string]bool{"ann": false, "Ann": false, " ann ": false, "ben": true} {
		if _, err := (Curation{State: Draft, Author: "ann"}).Approve(Step{Who: who, At: "2026-03-03T12:00:00Z"}, "2026-03-03T12:00:00Z"); (err == nil) != want {
			t.Errorf("%q: %v", who, err)
		}
	}
	for _, s := range []State{Approved, Superseded, Withdrawn} {
		if _, err := (Curation{State: s, Author: "ann"}).Approve(Step{Who: "ben"}, ""); err == nil {
			t.Errorf("%s is approved", s)
		}
	}
}
