// Package ways answers "what would turn this into a yes?": for each lever a planner has, the
// smallest change of one number of the cut after which nothing stands against it, checked in
// full and priced in cutting time; and for the levers that have none, what stands in their
// way. It goes round packages estimate and finding.
package ways

import (
	"cmp"
	"slices"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// Way is one change that makes a cut possible.
type Way struct {
	Lever     string // speed, feed, depth, width, gear, passes, tool
	Field     string // the member of the cut that changes
	Quantity  unit.Quantity
	From, To  float64 // in the metric unit of the quantity
	TimeRatio float64 // cutting time of the whole depth and width over that as asked
	Verdict   domain.Verdict
	Gear      string // the gear then chosen, where it is another
	Pilot     *Pilot // the hole that is drilled first
}

// NoWay is what stands in the way of levers that have none: codes of findings.
type NoWay struct {
	Levers []string
	Codes  []string
	Why    string
}

// Judge is how a cut is judged where the ways are asked for.
type Judge struct {
	// Answered reports a hold that somebody has answered.
	Answered func(code string) bool
	// Open are the findings of a whole estimate that nobody has answered.
	Open func(e *estimate.Estimate) []domain.Finding
}

// Of lists the ways of an estimate that is no yes, the quickest cut first, one for each
// lever that has one: to a yes where the lever reaches one, else from a no to a conditional.
// The levers without one are in the second list, with what stands in their way. Of a yes
// both are empty, of any other one at least is not.
//
// Range: an estimate on a machine. Errors: none. Source: the contract's section 3.3.
func Of(e *estimate.Estimate, j Judge) ([]Way, []NoWay) {
	asked := j.Open(e)
	verdict := domain.VerdictOf(asked)
	if verdict == domain.Yes {
		return nil, nil
	}
	all := levers(e)
	aims, stuck := aimsOf(asked, verdict)
	if len(aims) == 0 {
		return nil, []NoWay{{Levers: names(all), Codes: stuck, Why: whyFixed}}
	}
	least := aims[len(aims)-1]
	var list []Way
	var none []NoWay
	for i := range all {
		s := newSearch(e, j, &all[i])
		if w, ok := s.mend(aims); ok {
			list = append(list, w)
		} else if n, ok := s.noWay(codesFrom(asked, least), least); ok {
			none = grouped(none, n)
		}
	}
	slices.SortStableFunc(list, func(a, b Way) int { return cmp.Compare(a.TimeRatio, b.TimeRatio) })
	return list, none
}

// aimsOf are the mildest severities that shall no longer stand, the best aim first; none
// where what stands against the cut is not for a lever to move, and then what it is.
func aimsOf(asked []domain.Finding, verdict domain.Verdict) (aims []domain.Severity, stuck []string) {
	var held []string
	for i := range asked {
		f := &asked[i]
		switch {
		case !fixed(f.Code):
		case f.Severity == domain.Refusal:
			stuck = appendNew(stuck, f.Code)
		case f.Severity == domain.Hold:
			held = appendNew(held, f.Code)
		}
	}
	switch {
	case len(stuck) > 0:
		return nil, stuck
	case len(held) == 0 && verdict == domain.No:
		return []domain.Severity{domain.Hold, domain.Refusal}, nil
	case verdict == domain.No:
		return []domain.Severity{domain.Refusal}, nil
	case len(held) == 0:
		return []domain.Severity{domain.Hold}, nil
	}
	return nil, held
}

// grouped adds what stands in the way of one more lever, beside those of which the same is said.
func grouped(list []NoWay, n NoWay) []NoWay {
	for i := range list {
		if same := &list[i]; same.Why == n.Why && slices.Equal(same.Codes, n.Codes) {
			same.Levers = appendNew(same.Levers, n.Levers[0])
			return list
		}
	}
	return append(list, n)
}

func appendNew(list []string, name string) []string {
	if slices.Contains(list, name) {
		return list
	}
	return append(list, name)
}

// codesFrom are the codes of findings from a severity on, each once.
func codesFrom(findings []domain.Finding, mildest domain.Severity) []string {
	var codes []string
	for i := range findings {
		if f := &findings[i]; f.Severity >= mildest {
			codes = appendNew(codes, f.Code)
		}
	}
	return codes
}
