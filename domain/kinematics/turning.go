package kinematics

// Turned is a turning cut: feed per revolution f, depth ap, cutting edge angle κ.
type Turned struct{ FeedPerRevolutionMM, DepthMM, EdgeAngleDeg float64 }

// TurningChip returns h = f·sin κ and b = ap/sin κ. The corner radius does not
// enter (see the contract): a nose takes a share of a light cut that this leaves out.
//
// Range: 0 < κ < 180, f > 0, ap > 0. Errors: none; the caller has checked.
// Source: DIN 6580; ISO 3002-3.
func TurningChip(t Turned) Chip {
	s := sinDeg(t.EdgeAngleDeg)
	return Chip{ThicknessMM: t.FeedPerRevolutionMM * s, WidthMM: t.DepthMM / s}
}

// TurningRemoval is what the removal rate of turning is made of.
type TurningRemoval struct{ SpeedMPerMin, DepthMM, FeedPerRevolutionMM float64 }

// TurningRemovalCM3PerMin returns Q = vc·ap·f in cm³/min, with vc at the diameter
// before the cut, so a little high for deep cuts on small diameters.
//
// Range: any. Errors: none. Source: DIN 6580, geometry.
func TurningRemovalCM3PerMin(t TurningRemoval) float64 {
	return t.SpeedMPerMin * t.DepthMM * t.FeedPerRevolutionMM
}
