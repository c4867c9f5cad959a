package stiffness

import "math"

// GuidedEndRatio is k of a column that is clamped at one end and guided at the other, such
// as a drill between its holder and its pilot hole: π over the first root of tan x = x.
const GuidedEndRatio = 0.6992

// Column is a slender round rod that is pushed along its axis; EndRatio is k, the length
// of the equal column with free ends over its own.
type Column struct{ LengthMM, DiameterMM, ModulusGPa, EndRatio float64 }

// BucklingN returns the push at which the rod gives way sideways, π²·E·I/(k·L)², I = π·d⁴/64.
//
// Range: slender rods, elastic. Errors: none. Source: L. Euler's column; S. P. Timoshenko,
// J. M. Gere, Theory of Elastic Stability, ch. 2 (recalled).
func (c Column) BucklingN() float64 {
	inertia := math.Pi * math.Pow(c.DiameterMM, 4) / 64
	return math.Pi * math.Pi * 1000 * c.ModulusGPa * inertia / math.Pow(c.EndRatio*c.LengthMM, 2)
}
