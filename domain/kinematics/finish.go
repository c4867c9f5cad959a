package kinematics

import "math"

// Nose is a feed per revolution and the corner radius that leaves the marks.
type Nose struct{ FeedPerRevolutionMM, CornerRadiusMM float64 }

// ProfileHeightUM returns the theoretical height of turned feed marks,
// Rt = f²/(8·RE), in µm.
//
// Range: f well under 2·RE (at f = RE it is 2 % under the exact arc). Errors: none.
// Source: DIN 4768 practice; geometry of two arcs.
func ProfileHeightUM(n Nose) float64 {
	return 1000 * n.FeedPerRevolutionMM * n.FeedPerRevolutionMM / (8 * n.CornerRadiusMM)
}

// IdealRaUM returns the arithmetic mean of the same profile, Ra = f²/(18·√3·RE), in µm.
//
// Range: as ProfileHeightUM. Errors: none. Source: integral of the parabola between
// two feed marks.
func IdealRaUM(n Nose) float64 {
	return 1000 * n.FeedPerRevolutionMM * n.FeedPerRevolutionMM / (18 * math.Sqrt(3) * n.CornerRadiusMM)
}

// Path is a distance and the feed speed along it.
type Path struct{ LengthMM, FeedRateMMPerMin float64 }

// Minutes returns the time along a path at feed, in minutes.
//
// Range: vf > 0. Errors: none. Source: definition.
func Minutes(p Path) float64 { return p.LengthMM / p.FeedRateMMPerMin }

// Section is what is cut off across the path, and the feed speed along it.
type Section struct{ AreaMM2, FeedRateMMPerMin float64 }

// FeedVolumeCM3PerMin returns the removal rate of a section moved at feed, A·vf/1000.
//
// Range: any. Errors: none. Source: DIN 6580, geometry.
func FeedVolumeCM3PerMin(s Section) float64 { return s.AreaMM2 * s.FeedRateMMPerMin / 1000 }
