package domain

import (
	"errors"
	"strings"

	"swarf/domain/unit"
)

// Kind says what sort of failure an Error is. The zero value is Internal, so a
// forgotten kind hides its text from callers. api/problem.go maps kind to status.
type Kind uint8

// The kinds.
const (
	Internal    Kind = iota // ours; the text never leaves the service
	Unreadable              // cannot be read, or something required is missing (400)
	Invalid                 // read, but cannot be (422)
	NotFound                // no such record
	Conflict                // a precondition does not hold
	Unavailable             // storage or data is not there now
)

// Candidate is one of the grades that an ambiguous designation could mean.
type Candidate struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Group string `json:"group"`
}

// Error is the one error type that leaves the domain: one fault of a request.
// Msg and Fix may hold {value} and {limit}, which the edge replaces by the
// measures in the caller's units.
type Error struct {
	Kind         Kind
	Field        string // dotted path in the request
	Code         string // stable code of PRACTICE 5.2
	Msg          string
	Fix          string
	Value, Limit *unit.Measure
	Candidates   []Candidate
	Err          error
}

// Error returns the text without measures.
func (e *Error) Error() string {
	var b strings.Builder
	if e.Field != "" {
		b.WriteString(e.Field)
		b.WriteString(": ")
	}
	b.WriteString(e.Msg)
	if e.Err != nil {
		b.WriteString(": ")
		b.WriteString(e.Err.Error())
	}
	return b.String()
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Errors is every fault of one request, in the order found.
type Errors []*Error

// Error joins the faults.
func (es Errors) Error() string {
	texts := make([]string, len(es))
	for i, e := range es {
		texts[i] = e.Error()
	}
	return strings.Join(texts, "; ")
}

// OrNil returns the faults as an error, or nil when there are none.
func (es Errors) OrNil() error {
	if len(es) == 0 {
		return nil
	}
	return es
}

// Faults unpacks any error into the faults it holds; a foreign error becomes one
// Internal fault.
func Faults(err error) Errors {
	if err == nil {
		return nil
	}
	var many Errors
	if errors.As(err, &many) {
		return many
	}
	var one *Error
	if errors.As(err, &one) {
		return Errors{one}
	}
	return Errors{{Kind: Internal, Code: "internal", Msg: "internal error", Err: err}}
}
