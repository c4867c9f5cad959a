package force

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
