package force

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// sineIntegral is S(φ) = ∫₀^φ sin^a, the one integral behind the mean and the peak
// of milling. It is half an incomplete beta function of sin²φ with (a+1)/2 and 1/2,
// mirrored beyond 90°.
type sineIntegral struct {
	a, p, beta float64 // beta is the complete function: S(π/2) = beta/2

	lastSin, lastValue float64 // centred arcs ask for the same sine twice
}

func newSineIntegral(a float64) sineIntegral {
	p := (a + 1) / 2
	return sineIntegral{a: a, p: p, beta: mathext.Beta(p, 0.5), lastSin: -1}
}

// at returns S(φ) for 0 ≤ φ ≤ π.
func (s *sineIntegral) at(phi float64) float64 {
	switch {
	case phi <= 0:
		return 0
	case phi >= math.Pi:
		return s.beta
	case s.a == 1:
		return 1 - math.Cos(phi)
	case phi > math.Pi/2:
		return s.beta - s.at(math.Pi-phi)
	}
	sin := math.Sin(phi)
	if math.Abs(sin-s.lastSin) > 1e-15 {
		s.lastSin, s.lastValue = sin, s.beta/2*mathext.RegIncBeta(s.p, 0.5, sin*sin)
	}
	return s.lastValue
}
