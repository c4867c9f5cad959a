package api

import (
	"strconv"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/unit"
	"swarf/domain/ways"
)

// mending says which verdicts are told what would mend them.
type mending uint8

// From none to all that are no yes.
const (
	mendNone mending = iota
	mendNoes
	mendAll
)

// mostMended is how many pairs of one request, or how many of the first items of a batch,
// are told what would mend them: that takes hundreds of times as long as to check one.
// Conditionals are told in requests that have no more pairs than that.
const mostMended = 100

// mendingOf is what an item of a batch of so many is told, by its place.
func mendingOf(at, items int) mending {
	switch {
	case at >= mostMended:
		return mendNone
	case items > mostMended:
		return mendNoes
	}
	return mendAll
}

// mendSome tells the pairs of one request what would mend them, the first of them where
// there are many.
func (p *pairing) mendSome(results []wire.SpindleResult, system unit.System) {
	which := mendingOf(0, len(results))
	var chosen []int
	for at := range results {
		r := &results[at]
		if len(chosen) < mostMended && which.wanted(r) {
			chosen = append(chosen, at)
		} else {
			p.mend(r, at, mendNone, system)
		}
	}
	shareBy(1, len(chosen), func(i int) { p.mend(&results[chosen[i]], chosen[i], which, system) }, givingWay)
}

// wanted reports a verdict that is told what would mend it.
func (m mending) wanted(r *wire.SpindleResult) bool {
	switch domain.Verdict(r.Verdict) {
	case domain.No:
		return m >= mendNoes
	case domain.Conditional:
		return m >= mendAll
	}
	return false
}

// mend tells a pair what would turn it into a yes, and a no that is one of too many that it
// was not looked for.
func (p *pairing) mend(r *wire.SpindleResult, pair int, which mending, system unit.System) {
	if which.wanted(r) {
		c, _, _ := p.at(pair)
		found, none := ways.Of(estimate.Of(c), ways.Judge{Answered: p.answered, Open: func(e *estimate.Estimate) []domain.Finding { return p.open(p.judge(e)) }})
		r.Ways, r.NoWays = waysOf(found, system), noWaysOf(none)
	} else if r.Verdict == string(domain.No) {
		r.Unchecked = append(r.Unchecked, wire.Unchecked{Check: "ways", Needs: "a smaller request: the first " + strconv.Itoa(mostMended) + " are told"})
	}
}

func waysOf(found []ways.Way, system unit.System) []wire.Way {
	out := make([]wire.Way, len(found))
	for i, w := range found {
		out[i] = wire.Way{Lever: w.Lever, Field: w.Field, From: wire.Amount(w.Quantity.FromMetric(system, w.From)), To: wire.Amount(w.Quantity.FromMetric(system, w.To)),
			Unit: w.Quantity.Code(system), TimeFactor: above(w.TimeRatio), Verdict: string(w.Verdict), Gear: w.Gear}
		if first := w.Pilot; first != nil {
			out[i].Pilot = &wire.Pilot{CuttingDiameter: unit.Some(first.DiameterMM), CuttingSpeed: unit.Some(first.CuttingSpeedMPerMin), SpindleSpeed: unit.Some(first.SpindleSpeedPerMin),
				FeedPerRevolution: unit.Some(first.FeedPerRevolutionMM), FeedRate: unit.Some(first.FeedRateMMPerMin), Cutting: first.CuttingMinutes}
		}
	}
	return out
}

func noWaysOf(none []ways.NoWay) []wire.NoWay {
	out := make([]wire.NoWay, len(none))
	for i, n := range none {
		out[i] = wire.NoWay(n)
	}
	return out
}
