package domain

import "swarf/domain/unit"

// Severity ranks a finding. Only refusals and holds change the verdict.
type Severity uint8

// The severities, mildest first.
const (
	Note    Severity = iota // explanation, default, conversion
	Warning                 // allowed, but somebody must read it
	Hold                    // outside evidence or sound practice; a named person decides
	Refusal                 // physics, safety or identity; not overridden here
)

var severityNames = [...]string{"note", "warning", "hold", "refusal"}

// String is the name on the wire.
func (s Severity) String() string { return severityNames[s] }

// Finding is something an answer says about the cut. Message and Fix may hold
// {value} and {limit}, replaced at the edge in the caller's units.
type Finding struct {
	Code         string
	Severity     Severity
	Field        string
	Value, Limit *unit.Measure
	Message, Fix string
}

// Assumption is an input the caller left out and what was taken instead.
type Assumption struct {
	Field  string
	Text   string        // the value when it is a word
	Number *unit.Measure // the value when it is a number
	Why    string
}

// Unchecked is a check that could not be made, and what it needs.
type Unchecked struct {
	Check string
	Needs string
}

// Used says which record stands behind a number of the answer.
type Used struct {
	ID      string // source id
	Basis   Basis
	UsedFor string
	Valid   string
	Place   string
}

// Verdict is the answer to "may it run?".
type Verdict string

// The verdicts.
const (
	Yes         Verdict = "yes"
	Conditional Verdict = "conditional"
	No          Verdict = "no"
)

// VerdictOf is no with any refusal, else conditional with any hold, else yes.
func VerdictOf(findings []Finding) Verdict {
	worst := Note
	for i := range findings {
		worst = max(worst, findings[i].Severity)
	}
	switch worst {
	case Refusal:
		return No
	case Hold:
		return Conditional
	}
	return Yes
}
