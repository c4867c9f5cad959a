package force

import (
	"math"

	"swarf/domain/kinematics"
)

// straightPeak returns the largest Σ sin^a φ over a revolution for straight teeth.
// With n teeth in cut the sum is concave in the turn and even about the middle
// tooth at 90°, so the best turn is the one that puts their middle nearest 90°.
func straightPeak(a, edges float64, arc kinematics.Arc) float64 {
	pitch := 2 * math.Pi / edges
	sweep := arc.SweepRad()
	few := math.Floor(sweep/pitch + 1e-12)
	rest := sweep - few*pitch
	best := 0.0
	// while the first tooth is up to rest past entry, few+1 teeth cut; after, few
	for _, segment := range [2]struct{ count, from, to float64 }{{few + 1, 0, rest}, {few, rest, pitch}} {
		if segment.count < 1 || segment.to < segment.from {
			continue
		}
		middle := arc.EntryRad + (segment.count-1)*pitch/2
		first := arc.EntryRad + min(segment.to, max(segment.from, math.Pi/2-middle))
		sum := 0.0
		for k := 0.0; k < segment.count; k++ {
			if sin := math.Sin(first + k*pitch); sin > 0 {
				sum += math.Pow(sin, a)
			}
		}
		best = max(best, sum)
	}
	return best
}

// helix is the torque of helical teeth over one pitch: each tooth is the mean of
// sin^a over the part of its lag that lies in the arc.
type helix struct {
	s           *sineIntegral
	arc         kinematics.Arc
	pitch, lag  float64
	entry, exit float64 // S at the ends of the arc
}

// helicalPeak returns the largest mean-over-the-lag sum of sin^a over a revolution.
// The slope only jumps where a tooth's tip or top passes an end of the arc; between
// such turns its zeros are found by sampling and bisection, and the sum is evaluated
// at jumps and zeros.
func helicalPeak(s *sineIntegral, edges, lag float64, arc kinematics.Arc) float64 {
	h := helix{s: s, arc: arc, pitch: 2 * math.Pi / edges, lag: lag, entry: s.at(arc.EntryRad), exit: s.at(arc.ExitRad)}
	turns := [5]float64{}
	for i, jump := range [4]float64{arc.EntryRad, arc.ExitRad, arc.EntryRad + lag, arc.ExitRad + lag} {
		turns[i] = jump - h.pitch*math.Floor(jump/h.pitch)
	}
	sortFour(&turns)
	turns[4] = turns[0] + h.pitch
	best := 0.0
	for i := range 4 {
		from, to := turns[i], turns[i+1]
		best = max(best, h.sum(from))
		if to-from < 1e-9 {
			continue
		}
		const samples = 6
		step := (to - from) / samples
		left := from + step*1e-6
		leftSlope := h.slope(left)
		for k := 1.0; k <= samples; k++ {
			right := from + step*k
			if k == samples {
				right -= step * 1e-6
			}
			rightSlope := h.slope(right)
			if leftSlope > 0 && rightSlope <= 0 {
				best = max(best, h.sum(h.zero(left, right, leftSlope, rightSlope)))
			}
			left, leftSlope = right, rightSlope
		}
	}
	return best
}

func sortFour(t *[5]float64) {
	for i := 1; i < 4; i++ {
		for j := i; j > 0 && t[j] < t[j-1]; j-- {
			t[j], t[j-1] = t[j-1], t[j]
		}
	}
}

// first returns the tip angle of the first tooth at or past the entry.
func (h *helix) first(turn float64) float64 {
	return turn + h.pitch*math.Ceil((h.arc.EntryRad-turn)/h.pitch)
}

// sum is the torque at a turn: (1/ψ)·Σ [S(tip) − S(top)] clipped to the arc.
func (h *helix) sum(turn float64) float64 {
	total := 0.0
	for tip := h.first(turn); tip-h.lag < h.arc.ExitRad; tip += h.pitch {
		upper, lower := h.exit, h.entry
		if tip < h.arc.ExitRad {
			upper = h.s.at(tip)
		}
		if top := tip - h.lag; top > h.arc.EntryRad {
			lower = h.s.at(top)
		}
		total += upper - lower
	}
	return total / h.lag
}

// slope is the sum's derivative times ψ.
func (h *helix) slope(turn float64) float64 {
	total := 0.0
	for tip := h.first(turn); tip-h.lag < h.arc.ExitRad; tip += h.pitch {
		if tip < h.arc.ExitRad {
			total += h.sinePower(tip)
		}
		if top := tip - h.lag; top > h.arc.EntryRad {
			total -= h.sinePower(top)
		}
	}
	return total
}

func (h *helix) sinePower(phi float64) float64 {
	sin := math.Sin(phi)
	if sin <= 0 {
		return 0
	}
	return math.Pow(sin, h.s.a)
}

// zero finds where the slope passes from above to below nought (Illinois form of
// false position: the end that stays twice counts half).
func (h *helix) zero(left, right, leftSlope, rightSlope float64) float64 {
	side := 0
	for range 12 {
		middle := (left*rightSlope - right*leftSlope) / (rightSlope - leftSlope)
		slope := h.slope(middle)
		if math.Abs(slope) < 1e-7 || right-left < 1e-9 {
			return middle
		}
		if slope > 0 {
			left, leftSlope = middle, slope
			if side == 1 {
				rightSlope /= 2
			}
			side = 1
		} else {
			right, rightSlope = middle, slope
			if side == -1 {
				leftSlope /= 2
			}
			side = -1
		}
	}
	return (left + right) / 2
}
