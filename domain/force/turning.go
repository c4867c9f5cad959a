package force

import "math"

// Turned is what the force of turning is made of: feed per revolution, depth of
// cut and the law at its chip.
type Turned struct {
	Law
	ThicknessMM, WidthMM float64
}

// TurningForceN returns Fc = kc·b·h in N.
//
// Range: h, b > 0. Errors: none. Source: O. Kienzle (1952, recalled); DIN 6584.
func TurningForceN(t Turned) float64 {
	return t.SpecificForceNPerMM2(t.ThicknessMM) * t.WidthMM * t.ThicknessMM
}

// AtDiameter is a tangential force at a diameter.
type AtDiameter struct{ ForceN, DiameterMM float64 }

// TangentialTorqueNm returns M = F·D/2000 in N·m.
//
// Range: any. Errors: none. Source: definition of torque.
func TangentialTorqueNm(a AtDiameter) float64 { return a.ForceN * a.DiameterMM / 2000 }

// FeedShareRatio and PassiveShareRatio are the middles of the shares of the cutting
// force that turning sends along the feed (0.3 to 0.5) and out of the cut (0.2 to
// 0.6). Common practice, no source; a record with its own pairs goes before them.
const (
	FeedShareRatio    = 0.4
	PassiveShareRatio = 0.4
)

// Shares are feed and passive force over the cutting force.
type Shares struct{ FeedRatio, PassiveRatio float64 }

// TurningShares returns the shares for the chord of the edge in cut (kinematics.
// ChordAngleDeg): Fp/Fc = 0.2 + 0.4·cos, Ff/Fc = 0.3 + 0.2·sin of its angle, the ends of
// the usual ranges at its ends. The passive force rises as RE/ap grows and κ falls.
//
// Range: 0 to 180°; past 90° the passive force is held at its least. Errors: none.
// Source: the ranges are common practice, no source; the chord after L. V. Colwell (1954,
// recalled).
func TurningShares(chordDeg float64) Shares {
	sin, cos := math.Sincos(chordDeg * math.Pi / 180)
	return Shares{FeedRatio: 0.3 + 0.2*sin, PassiveRatio: 0.2 + 0.4*max(0, cos)}
}
