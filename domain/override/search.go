package override

import (
	"slices"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/seek"
)

// search looks for the ends of a window.
type search struct {
	e       *estimate.Estimate
	held    string
	ignored []string // what the cut passes as programmed and no override answers
}

func newSearch(e *estimate.Estimate) *search {
	s := &search{e: e, held: held(e.Cut)}
	base := estimate.Lean(e.Cut)
	for _, f := range finding.Grave(base) {
		s.ignored = append(s.ignored, f.Code)
	}
	for _, name := range [...]string{forceRecord, startingRecord} {
		if outside(base, name) {
			s.ignored = append(s.ignored, name)
		}
	}
	return s
}

// What limits a window besides the limits of machine and tool and the codes of holds: the
// least chip, a speed between two gears, and the ranges of the records behind the numbers.
const (
	chipFloor      = "chip-floor"
	noGear         = "gear"
	forceRecord    = "force-record"
	startingRecord = "starting-record"
)

// passed names what a cut passes, empty when everything holds: a limit with a worn edge,
// the least chip, a refusal or hold that the cut as programmed has not, or the range of a
// record that the cut as programmed keeps.
func (s *search) passed(c *cut.Cut) string {
	e := estimate.Lean(c)
	if m := e.Machine; m != nil {
		for i := range m.Limits {
			if l := &m.Limits[i]; l.Worn > l.Allowed*(1+1e-9) {
				return l.Name
			}
		}
		if m.Gear == nil {
			return noGear
		}
	}
	if h := e.Chip.ThicknessMaxMM; h > 0 && h < finding.MinimumChipMM(c)*(1-1e-9) {
		return chipFloor
	}
	for _, f := range finding.Grave(e) {
		if !slices.Contains(s.ignored, f.Code) {
			return f.Code
		}
	}
	for _, name := range [...]string{forceRecord, startingRecord} {
		if !slices.Contains(s.ignored, name) && outside(e, name) {
			return name
		}
	}
	return ""
}

// outside reports a cut that leaves the range of a record behind its numbers.
func outside(e *estimate.Estimate, record string) bool {
	if record == forceRecord {
		r := e.Served
		return r != nil && e.Chip.ThicknessMaxMM > 0 && r.ChipThickness.Known() && !r.ChipThickness.Holds(e.Chip.ThicknessMaxMM)
	}
	r := e.Cut.Material.Starting.Served
	if r == nil || e.Cut.Operation.StartsAs.Class != "" {
		return false
	}
	return r.Speed.Known() && !r.Speed.Holds(e.Motion.CuttingSpeedMPerMin) || outsideFeed(e)
}

// outsideFeed reports a feed over the record's: under it the least chip is the limit.
func outsideFeed(e *estimate.Estimate) bool {
	feed := estimate.StartingFeed(e.Cut, e.Cut.Material.Starting.Served)
	high := feed.High
	return feed.Known() && high.OK && !e.Cut.Operation.FeedIsPitch && feed.Of(&e.Motion) > high.V*(1+1e-9)
}

// side finds the range of factors around 1 in which nothing is passed; where the cut as
// programmed passes something, the range nearest to it.
func (s *search) side(at func(float64) *cut.Cut, shifts []float64) Side {
	passed := func(k float64) string { return s.passed(at(k)) }
	middle, why := s.nearest(passed, shifts)
	if middle == 0 {
		return Side{LowLimit: why, HighLimit: why}
	}
	var out Side
	out.LowRatio, out.LowLimit = end(passed, middle, slowest, shifts)
	out.HighRatio, out.HighLimit = end(passed, middle, fastest, shifts)
	out.LowRatio *= 1 + inwardRatio
	out.HighRatio *= 1 - inwardRatio
	if out.LowRatio > out.HighRatio { // a point
		out.LowRatio, out.HighRatio = middle, middle
	}
	return out
}

// nearest is 1 where nothing is passed there, else the factor nearest to it at which
// nothing is, 0 where there is none; why names what 1 passes.
func (s *search) nearest(passed func(float64) string, shifts []float64) (k float64, why string) {
	if why = passed(1); why == "" {
		return 1, ""
	}
	down, up := seek.Walk{FromRatio: 1, ToRatio: slowest, BreaksRatio: shifts}, seek.Walk{FromRatio: 1, ToRatio: fastest, BreaksRatio: shifts}
	list := append(down.Steps(), up.Steps()...)
	slices.SortFunc(list, func(a, b float64) int {
		switch x, y := max(a, 1/a), max(b, 1/b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	for _, k := range list {
		if passed(k) == "" {
			return k, why
		}
	}
	return 0, why
}

// end walks from a factor that is good to the first that is not, and closes in on it.
func end(passed func(float64) string, from, to float64, shifts []float64) (k float64, limit string) {
	walk := seek.Walk{FromRatio: from, ToRatio: to, BreaksRatio: shifts}
	good := from
	for _, bad := range walk.Steps() {
		why := passed(bad)
		if why == "" {
			good = bad
			continue
		}
		edge := seek.Edge{GoodRatio: good, BadRatio: bad}.Closed(func(k float64) bool {
			other := passed(k)
			if other != "" {
				why = other
			}
			return other == ""
		})
		return edge.GoodRatio, why
	}
	return good, NothingMet
}
