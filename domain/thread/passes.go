package thread

import "math"

// Pass is one pass of a thread cut with a single point.
type Pass struct{ ToDepthMM, InfeedMM float64 }

// Passes returns the passes of a thread turned to a depth, each of about the same area of
// chip: after pass i of N it is depth·√(i/N) deep.
//
// Range: count ≥ 1, whole. Errors: none. Source: geometry of a V groove, whose area grows
// with the square of its depth.
func Passes(s Series) []Pass {
	passes := make([]Pass, int(s.PassesCount))
	last := 0.0
	for i := range passes {
		to := s.DepthMM * math.Sqrt(float64(i+1)/s.PassesCount)
		passes[i] = Pass{ToDepthMM: to, InfeedMM: to - last}
		last = to
	}
	return passes
}

// Series is a depth of thread and the number of passes to it.
type Series struct{ DepthMM, PassesCount float64 }

// usualPasses are passes by pitch, middles of the usual ranges: 4 to 6 to P 0.75, 12 to 16
// at P 4. Common practice, no source.
var usualPasses = []struct{ pitchMM, count float64 }{{0.75, 5}, {1, 6}, {1.5, 7}, {2, 9}, {2.5, 10}, {3, 12}, {4, 14}}

// UsualPassesCount returns how many passes a pitch usually takes; past 4 mm as the
// pitch grows.
//
// Range: P > 0. Errors: none. Source: common practice, no source.
func UsualPassesCount(t Thread) float64 {
	for _, row := range usualPasses {
		if t.PitchMM <= row.pitchMM*(1+1e-9) {
			return row.count
		}
	}
	return math.Ceil(14 * t.PitchMM / 4)
}

// RunUp is a feed speed and the acceleration of the axis that has to reach it.
type RunUp struct{ FeedRateMMPerMin, AccelerationMPerS2 float64 }

// RunInMM returns the way an axis needs to be up to speed, vf²/(2·a).
//
// Range: a > 0. Errors: none. Source: kinematics of even acceleration.
func RunInMM(r RunUp) float64 {
	v := r.FeedRateMMPerMin / 60 // mm/s
	return v * v / (2 * 1000 * r.AccelerationMPerS2)
}
