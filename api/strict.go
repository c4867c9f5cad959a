package api

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
)

// strict reads how a caller wants holds handled: as a problem instead of an answer, by
// Prefer: handling=strict (RFC 7240) or, for callers that cannot set headers, by the
// parameter handling.
func (x *exchange) strict(faults *cut.Faults) bool {
	switch text := x.query.text("handling"); text {
	case "strict":
		if x.format.drawn() {
			faults.Conflict("handling", "a picture has no findings to be strict about: ask for another format first")
		}
		return true
	case "lenient":
		return false
	case "":
	default:
		faults.Any(fault(domain.Invalid, "value-out-of-range", "handling", "handling is "+quoteClipped(text), "say strict or lenient"))
	}
	if value, _ := x.prefers("handling"); value == "strict" && !x.format.drawn() {
		x.applied("handling=strict")
		return true
	}
	return false
}

// holding is the error of an answer that a strict caller does not get: what holds it, and what
// refuses it.
type holding struct {
	faults    []wire.Fault
	code, why string // of the problem, when it is another than held
}

func (h *holding) Error() string { return "held by " + strconv.Itoa(len(h.faults)) + " findings" }

// problem is the document of it: the faults are the findings, with their own codes.
func (h *holding) problem() wire.Problem {
	kind := problemBySlug[cmp.Or(h.code, "held")]
	p := wire.Problem{Type: "/problems/" + kind.Slug, Title: kind.Title, Status: kind.Status, Code: kind.Slug, Detail: detail(h.faults), Faults: h.faults}
	if h.why != "" {
		p.Detail = h.why + ": " + p.Detail
	}
	return p
}

// holds looks through an answer for what a strict caller must not overlook.
func holds(answer any) error {
	h := &holding{}
	h.answer("", answer)
	if len(h.faults) == 0 {
		return nil
	}
	return h
}

func (h *holding) answer(prefix string, answer any) {
	switch a := answer.(type) {
	case *wire.Answer:
		if a != nil {
			h.findings(prefix, a.Findings)
		}
	case *wire.CorrectionAnswer:
		h.findings(prefix, a.Findings)
	case *wire.SpindleResult:
		if a.Verdict != string(domain.Yes) { // else overrides have answered the holds
			h.findings(prefix, a.Findings)
		}
	case *wire.SpindleResults:
		for i := range a.Results {
			h.findings(index("results", i)+".", open(a.Results[i].Findings, a.Overrides))
		}
	case *wire.Plan:
		for i := range a.Cuts {
			h.answer(index("cuts", i)+".", a.Cuts[i].Answer)
		}
		for i := range a.Findings {
			h.findings("", []wire.Finding{a.Findings[i].Finding})
		}
	}
}

// open are the findings that no override answers.
func open(list []wire.Finding, overrides []wire.Override) []wire.Finding {
	return slices.DeleteFunc(slices.Clone(list), func(f wire.Finding) bool {
		return f.Severity == domain.Hold.String() && slices.ContainsFunc(overrides, func(o wire.Override) bool { return o.Code == f.Code })
	})
}

func (h *holding) findings(prefix string, list []wire.Finding) {
	for _, f := range list {
		if f.Severity == domain.Hold.String() || f.Severity == domain.Refusal.String() {
			h.faults = append(h.faults, wire.Fault{Field: strings.TrimSuffix(prefix+f.Field, "."), Code: f.Code, Message: f.Message, Fix: f.Fix})
		}
	}
}
