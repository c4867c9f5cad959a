package material

import (
	"strings"

	"swarf/domain"
)

// State is how far a record that a person wrote has come.
type State string

// The states. A draft serves nobody; what was approved serves from its date on, until
// another takes its place or somebody withdraws it. Nothing is deleted.
const (
	Draft      State = "draft"
	Approved   State = "approved"
	Superseded State = "superseded"
	Withdrawn  State = "withdrawn"
)

// Curation is the life of a record. Times are RFC 3339 in UTC and dates ISO 8601, so that
// they compare as text.
type Curation struct {
	Kind                     string // force, starting, life
	State                    State
	InForce                  bool // approved, and its date has come
	Author, Approver, Reason string
	ValidFrom, ValidTo       string // on the floor; empty: not yet, still
	Supersedes, SupersededBy string // record ids
	Safety                   bool   // withdrawn for safety
	Lots                     int    // of metal that it rests on; 0: not said
	ReviewBy                 string
	PastReview               bool    // as the calendar last told
	DriftRatio               float64 // measured over expected since it came into force; 0: within 15 %
	Revision                 int64
}

// Serves reports a record in force; one without a curation is reference data.
func (p *Provenance) Serves() bool { return p.Curation == nil || p.Curation.InForce }

// Unsafe reports a record that was withdrawn for safety and that no other has replaced:
// what would rest on it must not rest on the next best in silence.
func (p *Provenance) Unsafe() bool {
	c := p.Curation
	return c != nil && c.State == Withdrawn && c.Safety && c.SupersededBy == ""
}

// ServedAt reports whether the record was in force on the floor at a time (RFC 3339, UTC).
func (c *Curation) ServedAt(at string) bool {
	return c.State != Draft && c.ValidFrom != "" && c.ValidFrom <= at && (c.ValidTo == "" || at < c.ValidTo)
}

// Step is what somebody does to a record: who, why, and when (RFC 3339, UTC).
type Step struct{ Who, Reason, At string }

// state-unfit and its like are Conflict and Invalid errors of a step.
func unfit(s State, wanted string) error {
	return &domain.Error{Kind: domain.Conflict, Code: "state-unfit", Field: "state", Msg: "the record is " + string(s), Fix: wanted}
}

// Revise lets a draft be written anew; its author becomes who wrote last.
//
// Errors: Conflict, state-unfit, for anything but a draft.
func (c Curation) Revise(s Step) (Curation, error) {
	if c.State != Draft {
		return c, unfit(c.State, "write a draft of another id that supersedes it")
	}
	c.Author, c.Reason = s.Who, s.Reason
	return c, nil
}

// Approve puts a draft in force from a time on, at once when that has come.
//
// Errors: Conflict, state-unfit, for anything but a draft; Invalid, approver-is-author.
func (c Curation) Approve(s Step, from string) (Curation, error) {
	if c.State != Draft {
		return c, unfit(c.State, "only a draft can be approved")
	}
	if strings.EqualFold(strings.TrimSpace(s.Who), strings.TrimSpace(c.Author)) {
		return c, &domain.Error{Kind: domain.Invalid, Code: "approver-is-author", Field: "From", Msg: s.Who + " wrote the record", Fix: "another person approves it"}
	}
	c.State, c.Approver, c.Reason, c.ValidFrom = Approved, s.Who, s.Reason, from
	c.InForce = from <= s.At
	return c, nil
}

// Withdraw ends a record, whatever has come of it.
//
// Errors: Conflict, state-unfit, for one that was withdrawn or superseded before.
func (c Curation) Withdraw(s Step, safety bool) (Curation, error) {
	if c.State == Withdrawn || c.State == Superseded {
		return c, unfit(c.State, "its end is on file already")
	}
	if c.ValidFrom != "" && c.ValidFrom <= s.At {
		c.ValidTo = s.At
	}
	c.State, c.InForce, c.Safety, c.Reason = Withdrawn, false, safety, s.Reason
	return c, nil
}

// Supersede ends a record in favour of another, from a time on.
func (c Curation) Supersede(by, from string) Curation {
	if c.State == Approved {
		c.State, c.InForce = Superseded, false
		c.ValidTo = max(from, c.ValidFrom)
	}
	c.SupersededBy = by
	return c
}

// Today applies the calendar: what was to begin by now begins, what was to be reviewed
// before this day is past it. It reports whether anything changed.
func (c Curation) Today(at string) (Curation, bool) {
	before := c
	if c.State == Approved {
		c.InForce = c.InForce || c.ValidFrom <= at
		c.PastReview = c.ReviewBy != "" && c.ReviewBy < at[:len("2006-01-02")]
	}
	return c, c != before
}
