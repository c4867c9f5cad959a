// Package thread holds the dimensions of 60° threads: ISO 68-1 and 724, ASME B1.1. D is
// the nominal diameter, P the pitch, H = √3/2·P the height of the sharp triangle.
package thread

import "math"

// Thread is a nominal diameter and a pitch.
type Thread struct{ NominalMM, PitchMM float64 }

// Depths on diameter per pitch: of the internal thread (5/8 H twice), of the American
// National form that drill tables still count with (3/4 H twice), and of the screw
// with its rounded root (17/24 H twice).
const (
	internalRatio = 1.0825317547305484 // 5·√3/8
	nationalRatio = 1.299038105676658  // 3·√3/4
	screwRatio    = 1.2268693222946215 // 17·√3/24
	pitchRatio    = 0.649519052838329  // 3·√3/8
)

// MinorMM returns the basic minor diameter of the internal thread,
// D1 = D − 1.082532·P.
//
// Range: D > 1.3·P. Errors: none. Source: ISO 724; ISO 68-1.
func (t Thread) MinorMM() float64 { return t.NominalMM - internalRatio*t.PitchMM }

// PitchDiameterMM returns the basic pitch diameter, D2 = D − 0.649519·P.
//
// Range: as MinorMM. Errors: none. Source: ISO 724; ISO 68-1.
func (t Thread) PitchDiameterMM() float64 { return t.NominalMM - pitchRatio*t.PitchMM }

// ScrewMinorMM returns the minor diameter of a screw at its rounded root,
// d3 = d − 1.226869·P.
//
// Range: as MinorMM. Errors: none. Source: ISO 68-1 as tabulated beside ISO 724.
func (t Thread) ScrewMinorMM() float64 { return t.NominalMM - screwRatio*t.PitchMM }

// Base is what 100 % of thread means: a depth on diameter, per pitch.
type Base struct {
	Name       string
	DepthRatio float64
}

// The bases in use. A percent of thread means nothing without one of them.
var (
	Internal = Base{"1.082532P", internalRatio}
	National = Base{"1.299038P", nationalRatio}
	Screw    = Base{"1.226869P", screwRatio}
	Formed   = Base{"0.68P", 0.68}
)

// Hole is a thread and the hole it is made in.
type Hole struct {
	Thread
	HoleMM float64
}

// PercentOn returns the percent of thread on a base, 100·(D − D0)/(base·P).
//
// Range: D0 < D. Errors: none. Source: ISO 724 for 1.082532; Machinery's Handbook 31,
// p. 2155, whose table counts with 1.299038; ISO 68-1, the screw at its root, for 1.226869; the rule of forming taps (recalled) for 0.68.
func (h Hole) PercentOn(b Base) float64 {
	return 100 * (h.NominalMM - h.HoleMM) / (b.DepthRatio * h.PitchMM)
}

// Wanted is a thread and the percent of it that is wanted on a base.
type Wanted struct {
	Thread
	Base
	PercentRatio float64 // 0.75 for 75 %
}

// HoleMM returns the hole for a percent of thread, D − base·P·share: for forming taps
// D − 0.0068·%·P.
//
// Range: 0 < share ≤ 1. Errors: none. Source: as PercentOn.
func (w Wanted) HoleMM() float64 { return w.NominalMM - w.DepthRatio*w.PitchMM*w.PercentRatio }

// GrooveAreaMM2 returns the section of the groove that a tap cuts beside a hole,
// A = t·(P/8 + t·tan 30°), t = (D − D0)/2.
//
// Range: D0 < D. Errors: none. Source: ISO 68-1 geometry: a trapezoid on the crest's P/8.
func (h Hole) GrooveAreaMM2() float64 {
	return Groove{DepthMM: (h.NominalMM - h.HoleMM) / 2, PitchMM: h.PitchMM}.AreaMM2()
}

// Groove is a thread's groove cut to a depth.
type Groove struct{ DepthMM, PitchMM float64 }

var tan30 = math.Tan(math.Pi / 6)

// AreaMM2 returns the section of the groove, t·(P/8 + t·tan 30°).
//
// Range: t ≥ 0. Errors: none. Source: ISO 68-1 geometry.
func (g Groove) AreaMM2() float64 { return g.DepthMM * (g.PitchMM/8 + g.DepthMM*tan30) }

// ContourMM returns the length of edge that cuts the groove: both flanks and the flat,
// P/8 + 2·t/cos 30°.
//
// Range: t ≥ 0. Errors: none. Source: ISO 68-1 geometry.
func (g Groove) ContourMM() float64 { return g.PitchMM/8 + 2*g.DepthMM/math.Cos(math.Pi/6) }
