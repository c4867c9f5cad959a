package api

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/unit"
)

// kindStatus is the one table from the kind of a fault to a status. The code of
// the fault comes first (problemKinds); this serves codes that are not in it.
var kindStatus = map[domain.Kind]int{
	domain.Internal:    http.StatusInternalServerError,
	domain.Unreadable:  http.StatusBadRequest,
	domain.Invalid:     http.StatusUnprocessableEntity,
	domain.NotFound:    http.StatusNotFound,
	domain.Conflict:    http.StatusConflict,
	domain.Unavailable: http.StatusServiceUnavailable,
}

// faultStatus is the status that a fault would have alone.
func faultStatus(e *domain.Error) int {
	if e.Kind == domain.Internal {
		return http.StatusInternalServerError
	}
	if kind, ok := problemBySlug[e.Code]; ok {
		return kind.Status
	}
	return kindStatus[e.Kind]
}

// overall finds the code and the status of a whole request: the common code, or
// request-invalid; 400 as soon as one fault could not be read. A fault of ours
// hides all others.
func overall(faults domain.Errors) (code string, status int) {
	code, status = faults[0].Code, faultStatus(faults[0])
	for _, e := range faults {
		own := faultStatus(e)
		if own == http.StatusInternalServerError {
			return "internal", own
		}
		if own == http.StatusBadRequest {
			status = own
		}
		if e.Code != code {
			code = requestInvalid
		}
	}
	return code, status
}

// settle drops faults that only repeat another: a member that could not be read is
// absent afterwards, and would be reported missing a second time.
func settle(faults domain.Errors) domain.Errors {
	if len(faults) < 2 {
		return faults
	}
	kept := make(domain.Errors, 0, len(faults))
	for _, e := range faults {
		if !repeats(kept, e) {
			kept = append(kept, e)
		}
	}
	return kept
}

// repeats reports whether a fault says nothing that an earlier one has not said.
func repeats(earlier domain.Errors, e *domain.Error) bool {
	missing := e.Code == "field-missing" || e.Code == "alternative-missing" || e.Code == "units-missing"
	for _, before := range earlier {
		switch {
		case before == e:
			return true
		case before.Field == e.Field && before.Code == e.Code && (missing || before.Msg == e.Msg):
			return true
		case !missing || before.Code == "unknown-field" || before.Code == "unknown-parameter":
			// A misspelt member and the one it should have been are both told.
		case before.Field == e.Field, strings.HasPrefix(before.Field, e.Field+".") && e.Field != "":
			return true
		}
	}
	return false
}

// newProblem turns faults into a problem document with every measure in the
// caller's units. Faults of ours keep their cause to themselves.
func newProblem(faults domain.Errors, system unit.System) wire.Problem {
	faults = settle(faults)
	code, status := overall(faults)
	p := wire.Problem{Type: "/problems/" + code, Status: status, Code: code}
	p.Title = http.StatusText(status)
	if kind, ok := problemBySlug[code]; ok {
		p.Title = kind.Title
	}
	if code == "internal" {
		kind := problemBySlug[code]
		p.Detail = kind.When
		p.Faults = []wire.Fault{{Code: code, Message: kind.When, Fix: kind.Fix}}
		return p
	}
	p.Faults = make([]wire.Fault, len(faults))
	for i, e := range faults {
		p.Faults[i] = wire.Fault{
			Field:   e.Field,
			Code:    e.Code,
			Message: fillText(e.Msg, e, system),
			Fix:     fillText(e.Fix, e, system),
		}
		for _, c := range e.Candidates {
			p.Candidates = append(p.Candidates, wire.Candidate{ID: c.ID, Name: c.Name, Group: c.Group})
		}
	}
	p.Detail = detail(p.Faults)
	return p
}

func fillText(text string, e *domain.Error, system unit.System) string {
	if e.Value == nil && e.Limit == nil {
		return text
	}
	return wire.Fill(text, e.Value, e.Limit, system)
}

// detail says in one text what the faults say one by one.
func detail(faults []wire.Fault) string {
	var b strings.Builder
	if len(faults) > 1 {
		fmt.Fprintf(&b, "The request has %d faults. ", len(faults))
	}
	for i, f := range faults {
		if i == 3 && len(faults) > 4 {
			fmt.Fprintf(&b, "; and %d more", len(faults)-i)
			break
		}
		if i > 0 {
			b.WriteString("; ")
		}
		if f.Field != "" {
			b.WriteString(f.Field)
			b.WriteString(": ")
		}
		b.WriteString(f.Message)
		if f.Fix != "" {
			b.WriteString(" (")
			b.WriteString(f.Fix)
			b.WriteByte(')')
		}
	}
	return b.String()
}

// fault makes one fault of the edge itself.
func fault(kind domain.Kind, code, field, msg, fix string) *domain.Error {
	return &domain.Error{Kind: kind, Code: code, Field: field, Msg: msg, Fix: fix}
}

// notFound is a record that does not exist.
func notFound(what, id, list string) *domain.Error {
	return fault(domain.NotFound, "not-found", "", fmt.Sprintf("there is no %s with the id %q", what, clip(id)), "see "+list+" for those there are")
}

// quoteClipped is a caller's text for an error message.
func quoteClipped(text string) string { return strconv.Quote(clip(text)) }

// clip shortens a caller's text for an error message.
func clip(text string) string {
	const longest = 80
	runes := []rune(text)
	if len(runes) <= longest {
		return text
	}
	return string(runes[:longest]) + "…"
}
