package kinematics

import "math"

// Ramp is a way down into the work at an angle.
type Ramp struct{ DepthMM, AngleDeg float64 }

// RampPathMM returns the way along a ramp, ap/sin(angle).
//
// Range: 0 < angle ≤ 90. Errors: none. Source: geometry.
func RampPathMM(r Ramp) float64 { return r.DepthMM / sinDeg(r.AngleDeg) }

// Turns is a helix of one pitch a turn, on the path of the cutter's centre.
type Turns struct{ PitchMM, CentreDiameterMM float64 }

// HelixAngleDeg returns the angle at which a cutter goes down on a helix,
// arctan(P/(π·(Dm − DC))), measured on the path of its centre.
//
// Range: a centre path wider than nothing. Errors: none. Source: geometry.
func HelixAngleDeg(t Turns) float64 {
	return math.Atan(t.PitchMM/(math.Pi*t.CentreDiameterMM)) * 180 / math.Pi
}

// Bend is a curved stretch of wall and the cutter that follows it; the radius is that
// of the wall, positive where the cutter runs inside.
type Bend struct {
	CutterMM, RadiusMM float64
	Internal           bool
}

// CentreFeedRatio returns what the feed of the cutter's centre is of the feed at the
// wall: (Dm − DC)/Dm inside, (Dm + DC)/Dm outside.
//
// Range: inside, a wall wider than the cutter. Errors: none. Source: geometry.
func CentreFeedRatio(b Bend) float64 {
	if b.Internal {
		return (2*b.RadiusMM - b.CutterMM) / (2 * b.RadiusMM)
	}
	return (2*b.RadiusMM + b.CutterMM) / (2 * b.RadiusMM)
}
