package kinematics

import "math"

// Corner is a turning edge with its corner: depth of cut, cutting edge angle, corner
// radius, feed per revolution.
type Corner struct{ DepthMM, EdgeAngleDeg, CornerRadiusMM, FeedPerRevolutionMM float64 }

// ChordAngleDeg returns the angle, from the feed's direction, of the chord between the two
// ends of the edge that cut: the cutting edge angle that edge and corner have together. A
// corner that is large against the depth makes it small; without a corner and feed it is
// the cutting edge angle.
//
// Range: 0 < κ < 180, ap > 0, RE ≥ 0. Errors: none. Source: geometry; that the chip runs
// off across this chord is L. V. Colwell, Predicting the Angle of Chip Flow for
// Single-Point Cutting Tools, Trans. ASME 76 (1954) (recalled).
func ChordAngleDeg(c Corner) float64 {
	sin, cos := math.Sincos(c.EdgeAngleDeg * math.Pi / 180)
	along := 0.0 // the feed, of the edge from its tip to the surface of the work
	if arc := c.CornerRadiusMM * (1 - cos); c.DepthMM <= arc {
		along = math.Sqrt(c.DepthMM * (2*c.CornerRadiusMM - c.DepthMM))
	} else {
		along = c.CornerRadiusMM*sin + (c.DepthMM-arc)*cos/sin
	}
	return math.Atan2(c.DepthMM, along+c.FeedPerRevolutionMM/2) * 180 / math.Pi
}
