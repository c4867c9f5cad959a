package ways

import (
	"math"
	"slices"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/seek"
)

// search looks along one lever for the nearest value at which nothing from a severity on
// stands against the cut.
type search struct {
	e     *estimate.Estimate
	j     Judge
	lever *lever
	tried map[float64]standing
	whole []string // codes that stood against the whole estimate of what was found
}

// standing is what stands against a cut at one value of a lever.
type standing struct {
	worst         domain.Severity // a note: nothing
	refused, held []string        // codes; none of a value that belongs to another lever
}

func newSearch(e *estimate.Estimate, j Judge, l *lever) *search {
	return &search{e: e, j: j, lever: l, tried: make(map[float64]standing, 64)}
}

// mend finds the way of a lever. What the search found is judged whole before it is told.
func (s *search) mend(aims []domain.Severity) (Way, bool) {
	l := s.lever
	for _, aim := range aims {
		to, ok := s.nearest(aim)
		if !ok {
			continue
		}
		full := estimate.Of(l.at(s.e.Cut, to))
		open := s.j.Open(full)
		w := Way{Lever: l.name, Field: l.field, Quantity: l.quantity, From: l.from, To: to}
		minutes := 0.0
		if l.pilot {
			first := estimate.Of(pilotCut(s.e, to))
			open = append(open, s.j.Open(first)...)
			w.Pilot, minutes = pilotOf(first), first.Time.CuttingMinutes.V
		}
		// Where even the search for a yes ends in a conditional, the smaller change to one
		// is told.
		w.Verdict = domain.VerdictOf(open)
		if w.Verdict == domain.Yes || w.Verdict == domain.Conditional && aim == domain.Refusal {
			w.TimeRatio = l.timeRatio(s.e, full, to, minutes)
			if m := full.Machine; m.Gear != nil && s.e.Machine.Gear != nil && m.Gear.Name != s.e.Machine.Gear.Name {
				w.Gear = m.Gear.Name
			}
			return w, true
		}
		s.whole = codesFrom(open, aim)
	}
	return Way{}, false
}

// passes reports a value at which nothing from a severity on stands against the cut.
func (s *search) passes(to float64, aim domain.Severity) bool { return s.at(to).worst < aim }

// at is what stands against the cut at a value.
func (s *search) at(to float64) standing {
	if known, ok := s.tried[to]; ok {
		return known
	}
	e := estimate.Lean(s.lever.at(s.e.Cut, to))
	if wanted := s.lever.gear; wanted != nil && !wanted(e.Machine.Gear) {
		s.tried[to] = standing{worst: domain.Refusal} // another lever's
		return s.tried[to]
	}
	found := s.open(e)
	if e.Machine.Gear == nil { // torque and power are not judged there, and no way leads there
		found = append(found, domain.Finding{Code: noGear, Severity: domain.Refusal})
	}
	if s.rubs(e, found) {
		found = append(found, domain.Finding{Code: tooThin, Severity: domain.Refusal})
	}
	if s.lever.pilot {
		first := estimate.Lean(pilotCut(s.e, to))
		found = append(found, s.open(first)...)
		if first.Chip.ThicknessMaxMM < finding.MinimumChipMM(first.Cut)*(1-1e-9) {
			found = append(found, domain.Finding{Code: tooThin, Severity: domain.Refusal})
		}
	}
	s.tried[to] = standingOf(found)
	return s.tried[to]
}

// open are the refusals of an estimate, and the holds that nobody has answered.
func (s *search) open(e *estimate.Estimate) []domain.Finding {
	return slices.DeleteFunc(finding.Grave(e), func(f domain.Finding) bool { return f.Severity == domain.Hold && s.j.Answered(f.Code) })
}

// Codes of what no way leads to: an edge that rubs instead of cutting, a speed in no gear.
const (
	tooThin   = "chip-too-thin"
	underSkin = "cut-inside-hardened-layer"
	noGear    = "spindle-speed-not-in-gear"
)

// rubs reports a change after which the edge rubs: a chip under the least one that is thinner
// than as asked, in any metal, though in most a person may choose it; or a layer taken so
// thin that it lies in the skin of the last.
func (s *search) rubs(e *estimate.Estimate, found []domain.Finding) bool {
	h := e.Chip.ThicknessMaxMM
	if h > 0 && h < finding.MinimumChipMM(e.Cut)*(1-1e-9) && h < s.e.Chip.ThicknessMaxMM*(1-1e-9) {
		return true
	}
	return s.lever.thins && slices.ContainsFunc(found, func(f domain.Finding) bool { return f.Code == tooThin || f.Code == underSkin })
}

func standingOf(found []domain.Finding) standing {
	var out standing
	for i := range found {
		f := &found[i]
		out.worst = max(out.worst, f.Severity)
		switch f.Severity {
		case domain.Refusal:
			out.refused = appendNew(out.refused, f.Code)
		case domain.Hold:
			out.held = appendNew(out.held, f.Code)
		}
	}
	return out
}

// nearest is the value closest to the one as asked, by its ratio, at which the cut passes.
func (s *search) nearest(aim domain.Severity) (to float64, ok bool) {
	l := s.lever
	for _, value := range l.values { // nearest first
		if s.passes(value, aim) {
			return value, true
		}
	}
	if l.values != nil {
		return 0, false
	}
	down, found := s.towards(l.low, aim, math.Inf(1))
	nearer := math.Inf(1)
	if found {
		nearer = l.from / down
	}
	if up, also := s.towards(l.high, aim, nearer); also && up/l.from < nearer {
		return up, true
	}
	return down, found
}

// towards walks from the value as asked to the end of the lever, no further than is nearer
// than so many times, and closes in on where it first passes.
func (s *search) towards(ratio float64, aim domain.Severity, nearer float64) (to float64, ok bool) {
	from := s.lever.from
	bad := from
	for _, value := range s.lever.steps(ratio) {
		if bad > from*nearer {
			return 0, false
		}
		if s.passes(value, aim) {
			// The edge is told with six digits, on the side that passes.
			edge := seek.Edge{GoodRatio: value / from, BadRatio: bad / from}.Closed(func(k float64) bool { return s.passes(from*k, aim) })
			if value = sixDigits(from*edge.GoodRatio, ratio < 1); s.passes(value, aim) {
				return value, true
			}
		}
		bad = value
	}
	return 0, false
}

// sixDigits rounds to six digits on the side away from the value as asked, with room for
// the six digits of the same number in other units.
func sixDigits(v float64, down bool) float64 {
	const room = 1.2e-5
	unit := math.Pow(10, math.Floor(math.Log10(v))-5)
	if down {
		return math.Floor(v*(1-room)/unit) * unit
	}
	return math.Ceil(v*(1+room)/unit) * unit
}
