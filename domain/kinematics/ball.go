package kinematics

import "math"

// Ball is a ball-nosed cutter at a depth along its axis' side of the surface, the
// axis tilted from the surface's normal.
type Ball struct{ DiameterMM, DepthMM, TiltDeg float64 }

// BallContactDeg returns the angle on the ball, from its lowest point, at which it
// leaves the stock: arccos(1 − 2·ap/DC). A tilt of at least that keeps the tip, which
// does not move, out of the cut.
//
// Range: 0 < ap ≤ DC/2. Errors: none. Source: geometry; 16.3° at ap 0.2, DC 10.
func BallContactDeg(b Ball) float64 {
	return math.Acos(max(-1, 1-2*b.DepthMM/b.DiameterMM)) * 180 / math.Pi
}

// BallDiameterMM returns the effective diameter, the largest at which the ball cuts:
// De = DC·sin(β + arccos(1 − 2·ap/DC)), DC itself once the sum passes 90°.
//
// Range: 0 < ap ≤ DC/2, 0 ≤ β ≤ 90. Errors: none. Source: geometry.
func BallDiameterMM(b Ball) float64 {
	angle := b.TiltDeg + BallContactDeg(b)
	if angle >= 90 {
		return b.DiameterMM
	}
	return b.DiameterMM * sinDeg(angle)
}

// BallWidthMM returns how wide the ball is at its depth, 2·√(ap·(DC − ap)): the widest
// step that leaves no ridge standing.
//
// Range: 0 < ap ≤ DC/2. Errors: none. Source: geometry.
func BallWidthMM(b Ball) float64 { return 2 * math.Sqrt(b.DepthMM*(b.DiameterMM-b.DepthMM)) }

// Ridge is a ball and the step between its passes.
type Ridge struct{ DiameterMM, StepMM float64 }

// ScallopHeightUM returns the height of the ridge between two passes on a flat face,
// R − √(R² − (step/2)²), in µm.
//
// Range: step ≤ DC. Errors: none. Source: geometry.
func ScallopHeightUM(r Ridge) float64 {
	radius, half := r.DiameterMM/2, r.StepMM/2
	// the same without the difference of two nearly equal numbers
	return 1000 * half * half / (radius + math.Sqrt(radius*radius-half*half))
}
