// Package ways answers "what would turn this no into a yes?": for each lever a planner
// has, the smallest change of one number of the cut after which nothing forbids it, checked
// in full and priced in cutting time. It goes round packages estimate and finding.
package ways

import (
	"cmp"
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
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
}

// Judge is how a cut is judged where the ways are asked for.
type Judge struct {
	// Answered reports a hold that somebody has answered.
	Answered func(code string) bool
	// Verdict judges a whole estimate.
	Verdict func(e *estimate.Estimate) domain.Verdict
}

// Of lists the ways of an estimate that is a no, the quickest cut first, one for each lever
// that has one: to a yes where the lever reaches one, else to a conditional. None for a cut
// that no number can mend.
//
// Range: an estimate on a machine. Errors: none. Source: the contract's section 3.3.
func Of(e *estimate.Estimate, j Judge) []Way {
	var list []Way
	var taken []float64 // speeds
	for _, l := range levers(e) {
		w, ok := mend(e, j, &l)
		if !ok || l.name == "gear" && slices.Contains(taken, w.To) {
			continue
		}
		if l.name == "speed" {
			taken = append(taken, w.To)
		}
		list = append(list, w)
	}
	slices.SortStableFunc(list, func(a, b Way) int { return cmp.Compare(a.TimeRatio, b.TimeRatio) })
	return list
}

// mend finds the way of one lever. What the search found is judged whole before it is told.
func mend(e *estimate.Estimate, j Judge, l *lever) (Way, bool) {
	for _, severest := range [...]domain.Severity{domain.Hold, domain.Refusal} {
		s := search{e: e, j: j, lever: l, severest: severest}
		to, ok := s.nearest()
		if !ok {
			continue
		}
		full := estimate.Of(l.at(e.Cut, to))
		// Where even the search for a yes ends in a conditional, the smaller change to one
		// is told.
		if verdict := j.Verdict(full); verdict == domain.Yes || verdict != domain.No && severest == domain.Refusal {
			return Way{Lever: l.name, Field: l.field, Quantity: l.quantity, From: l.from, To: to, TimeRatio: l.timeRatio(e, full, to), Verdict: verdict}, true
		}
	}
	return Way{}, false
}

// timeRatio is the cutting time for the whole of what was asked over that as asked.
func (l *lever) timeRatio(before, after *estimate.Estimate, to float64) float64 {
	times := 1.0
	if l.rounds != nil {
		times = l.rounds(to)
	}
	if a, b := before.Time.CuttingMinutes, after.Time.CuttingMinutes; a.OK && b.OK && a.V > 0 {
		return times * b.V / a.V
	}
	return times * before.Motion.FeedRateMMPerMin / after.Motion.FeedRateMMPerMin
}

// changed is a copy of a cut with one change; what the copy shares with it is not written to.
func changed(c *cut.Cut, change func(*cut.Cut)) *cut.Cut {
	own := *c
	change(&own)
	return &own
}
