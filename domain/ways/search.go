package ways

import (
	"math"
	"slices"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/finding"
)

// search looks along one lever for the nearest value at which nothing at or above a
// severity stands against the cut.
type search struct {
	e        *estimate.Estimate
	j        Judge
	lever    *lever
	severest domain.Severity // the mildest that stands against it
}

// good reports a value at which the cut passes.
func (s *search) good(to float64) bool {
	e := estimate.Lean(s.lever.at(s.e.Cut, to))
	if m := e.Machine; m != nil && s.lever.otherGear != "" && (m.Gear == nil || m.Gear.Name == s.lever.otherGear) {
		return false
	}
	for _, f := range finding.Grave(e) {
		if f.Severity >= s.severest && (f.Severity == domain.Refusal || !s.j.Answered(f.Code)) {
			return false
		}
	}
	return true
}

// nearest is the value closest to the one as asked, by its ratio, at which the cut passes.
func (s *search) nearest() (to float64, ok bool) {
	down, found := s.towards(s.lever.low)
	up, also := s.towards(s.lever.high)
	from := s.lever.from
	switch {
	case found && (!also || from/down <= up/from):
		return down, true
	case also:
		return up, true
	}
	return 0, false
}

// towards walks from the value as asked to the end of the lever, and closes in on where it
// first passes.
func (s *search) towards(end float64) (to float64, ok bool) {
	from := s.lever.from
	if end == 1 {
		return 0, false
	}
	if s.lever.whole {
		return s.count(end)
	}
	bad := from
	for _, k := range steps(end) {
		value := from * k
		if !s.good(value) {
			bad = value
			continue
		}
		// The walk steps by 8 %; within the last step the edge is found to six digits and
		// told with six, on the side that passes.
		for range 40 {
			middle := math.Sqrt(bad * value)
			if s.good(middle) {
				value = middle
			} else {
				bad = middle
			}
		}
		value = sixDigits(value, end < 1)
		if s.good(value) {
			return value, true
		}
		bad = value
	}
	return 0, false
}

// count walks by whole numbers.
func (s *search) count(end float64) (to float64, ok bool) {
	last := math.Round(s.lever.from * end)
	step := 1.0
	if end < 1 {
		step = -1
	}
	for n := s.lever.from + step; (last-n)*step >= 0; n += step {
		if s.good(n) {
			return n, true
		}
	}
	return 0, false
}

// steps are factors from just beyond 1 to an end, evenly in their logarithm.
func steps(end float64) []float64 {
	const perDecade = 30
	n := max(1, math.Ceil(perDecade*math.Abs(math.Log10(end))))
	list := make([]float64, int(n))
	for i := range list {
		list[i] = math.Pow(end, float64(i+1)/n)
	}
	return slices.Clip(list)
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
