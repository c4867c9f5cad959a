// Package life says how long an edge lasts and what that costs: F. W. Taylor's law and the
// economics built on it.
package life

import "math"

// Taylor is the law vc·Tⁿ = C: the exponent and the speed at which an edge lasts one
// minute. A small n is the touchy one: a little more speed costs much life.
type Taylor struct{ LifeExp, OneMinuteSpeedMPerMin float64 }

// LifeMinutes returns the life at a cutting speed, T = (C/vc)^(1/n).
//
// Range: vc, C, n > 0; the record's own speeds. Errors: none. Source: F. W. Taylor, On the
// Art of Cutting Metals (1907); ISO 3685.
func (t Taylor) LifeMinutes(speedMPerMin float64) float64 {
	return math.Pow(t.OneMinuteSpeedMPerMin/speedMPerMin, 1/t.LifeExp)
}

// SpeedMPerMin returns the speed for a life, vc = C/Tⁿ.
//
// Range: T > 0. Errors: none. Source: as LifeMinutes.
func (t Taylor) SpeedMPerMin(lifeMinutes float64) float64 {
	return t.OneMinuteSpeedMPerMin / math.Pow(lifeMinutes, t.LifeExp)
}

// Tested is one test of an edge: a speed and how long it lasted.
type Tested struct{ SpeedMPerMin, LifeMinutes float64 }

// Through returns the law through two tests, n = ln(v1/v2)/ln(T2/T1), C = v1·T1ⁿ. Two
// points determine two numbers and say nothing of their error.
//
// Range: two different speeds and lives. Errors: none. Source: as LifeMinutes.
func Through(a, b Tested) Taylor {
	n := math.Log(a.SpeedMPerMin/b.SpeedMPerMin) / math.Log(b.LifeMinutes/a.LifeMinutes)
	return Taylor{LifeExp: n, OneMinuteSpeedMPerMin: a.SpeedMPerMin * math.Pow(a.LifeMinutes, n)}
}

// LifeRatio returns what a change of speed leaves of the life, ratio^(−1/n).
//
// Range: ratio > 0. Errors: none. Source: as LifeMinutes; n 0.25: a fifth more speed
// leaves 48 % of the life.
func (t Taylor) LifeRatio(speedRatio float64) float64 { return math.Pow(speedRatio, -1/t.LifeExp) }

// Extended is the law with feed and depth in it, vc·Tⁿ·f^x·ap^y = C, f and ap in mm: C is
// the speed at which a cut of 1 mm feed and 1 mm depth lasts a minute.
type Extended struct {
	LifeExp, FeedExp, DepthExp float64
	UnitSpeedMPerMin           float64
}

// Cut is speed, feed and depth of a cut.
type Cut struct{ SpeedMPerMin, FeedMM, DepthMM float64 }

// Fitted returns the law of given exponents through one test.
//
// Range: all above nought. Errors: none. Source: P. C. Sharma, A Textbook of Production
// Engineering, 11th ed. (2008), example 14.4.
func Fitted(e Extended, at Cut, lifeMinutes float64) Extended {
	e.UnitSpeedMPerMin = at.SpeedMPerMin * math.Pow(lifeMinutes, e.LifeExp) * e.share(at)
	return e
}

func (e Extended) share(c Cut) float64 {
	return math.Pow(c.FeedMM, e.FeedExp) * math.Pow(c.DepthMM, e.DepthExp)
}

// LifeMinutes returns the life of a cut, T = (C/(vc·f^x·ap^y))^(1/n).
//
// Range: as Fitted. Errors: none. Source: as Fitted.
func (e Extended) LifeMinutes(c Cut) float64 {
	return math.Pow(e.UnitSpeedMPerMin/(c.SpeedMPerMin*e.share(c)), 1/e.LifeExp)
}
