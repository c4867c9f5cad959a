package life

import "math"

// Rates are what time and edges cost, in any one currency: the machine with its operator per
// minute, an edge, and the minutes it takes to change one.
type Rates struct{ MachineCostPerMin, EdgeCost, ChangeMinutes float64 }

// CheapestLifeMinutes returns the life at which a part costs least,
// T = (1/n − 1)·(tc + Ce/Cm).
//
// Range: n < 1, Cm > 0. Errors: none. Source: M. P. Groover, Fundamentals of Modern
// Manufacturing, 4th ed., section 24.4; textbooks of production engineering.
func (r Rates) CheapestLifeMinutes(t Taylor) float64 {
	return (1/t.LifeExp - 1) * (r.ChangeMinutes + r.EdgeCost/r.MachineCostPerMin)
}

// FastestLifeMinutes returns the life at which a part takes least time, T = (1/n − 1)·tc.
//
// Range: n < 1, tc > 0. Errors: none. Source: as CheapestLifeMinutes.
func (r Rates) FastestLifeMinutes(t Taylor) float64 { return (1/t.LifeExp - 1) * r.ChangeMinutes }

// CheapestSpeedMPerMin returns the speed of least cost.
//
// Range: as CheapestLifeMinutes. Errors: none. Source: as CheapestLifeMinutes.
func (r Rates) CheapestSpeedMPerMin(t Taylor) float64 {
	return t.SpeedMPerMin(r.CheapestLifeMinutes(t))
}

// FastestSpeedMPerMin returns the speed of least time.
//
// Range: as FastestLifeMinutes. Errors: none. Source: as CheapestLifeMinutes.
func (r Rates) FastestSpeedMPerMin(t Taylor) float64 {
	return t.SpeedMPerMin(r.FastestLifeMinutes(t))
}

// Worn is a cut as edges see it: how long it takes and how long one lasts.
type Worn struct{ CuttingMinutes, LifeMinutes float64 }

// Edges returns how many edges a part takes, tm/T.
//
// Range: T > 0. Errors: none. Source: definition; fractions are kept.
func (w Worn) Edges() float64 { return w.CuttingMinutes / w.LifeMinutes }

// MinutesPerPart returns cutting time with its share of changing edges,
// tm + tc·tm/T.
//
// Range: T > 0. Errors: none. Source: as CheapestLifeMinutes; handling is left out.
func (r Rates) MinutesPerPart(w Worn) float64 { return w.CuttingMinutes + r.ChangeMinutes*w.Edges() }

// CostPerPart returns Cm·(tm + tc·tm/T) + Ce·tm/T.
//
// Range: T > 0. Errors: none. Source: as CheapestLifeMinutes; handling is left out.
func (r Rates) CostPerPart(w Worn) float64 {
	return r.MachineCostPerMin*r.MinutesPerPart(w) + r.EdgeCost*w.Edges()
}

// EqualSpeedMPerMin returns the speed at which two edges last as long, above which the one
// of the larger n lasts longer.
//
// Range: different n. Errors: none; equal n give no number. Source: both laws set equal.
func EqualSpeedMPerMin(a, b Taylor) float64 {
	// (C1/v)^(1/n1) = (C2/v)^(1/n2)
	p, q := 1/a.LifeExp, 1/b.LifeExp
	return math.Exp((p*math.Log(a.OneMinuteSpeedMPerMin) - q*math.Log(b.OneMinuteSpeedMPerMin)) / (p - q))
}
