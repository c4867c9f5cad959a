package kinematics

import "math"

// Split is how many rounds a circle is milled in, and whether it is a thread's groove,
// which widens as it deepens.
type Split struct {
	RoundsCount float64
	Groove      bool
}

// RoundsOf returns the rounds of a circle: equal rings, D² = Dw² + (Dm² − Dw²)·i/N, or equal
// sections of a groove, D = Dw + (Dm − Dw)·√(i/N).
//
// Range: N ≥ 1, whole. Errors: none. Source: geometry; the groove as in thread turning,
// depth·√(i/N).
func RoundsOf(c Circle, s Split) []Circle {
	rounds := make([]Circle, 0, int(s.RoundsCount))
	before := c.StartMM
	for i := 1.0; i <= s.RoundsCount; i++ {
		at := math.Sqrt(c.StartMM*c.StartMM + (c.EndMM*c.EndMM-c.StartMM*c.StartMM)*i/s.RoundsCount)
		if s.Groove {
			at = c.StartMM + (c.EndMM-c.StartMM)*math.Sqrt(i/s.RoundsCount)
		}
		rounds = append(rounds, Circle{CutterMM: c.CutterMM, StartMM: before, EndMM: at, Internal: c.Internal})
		before = at
	}
	return rounds
}

// CentreMM returns the diameter of the circle of the cutter's centre, Dm − DC inside,
// Dm + DC outside.
//
// Range: the cutter fits. Errors: none. Source: geometry.
func (c Circle) CentreMM() float64 {
	if c.Internal {
		return c.EndMM - c.CutterMM
	}
	return c.EndMM + c.CutterMM
}
