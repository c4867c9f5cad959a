package kinematics

import "math"

// Pair is two equal holes and the distance of their axes.
type Pair struct{ DiameterMM, PitchMM float64 }

// CuspHeightMM returns how far the cusp between two overlapping holes stands in from
// their common tangent, D/2 − √((D/2)² − (pitch/2)²).
//
// Range: pitch ≤ D. Errors: none. Source: geometry.
func CuspHeightMM(p Pair) float64 {
	r, half := p.DiameterMM/2, p.PitchMM/2
	return r - math.Sqrt(r*r-half*half)
}

// SharedAreaMM2 returns the area that two overlapping holes have in common.
//
// Range: pitch ≤ D. Errors: none. Source: geometry: two segments of a circle.
func SharedAreaMM2(p Pair) float64 {
	r, half := p.DiameterMM/2, p.PitchMM/2
	return 2 * (r*r*math.Acos(half/r) - half*math.Sqrt(r*r-half*half))
}
