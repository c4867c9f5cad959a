package kinematics

import "math"

// Drilled is a drill at work: diameter D, existing hole d, feed per revolution f,
// edges z, point angle σ.
type Drilled struct {
	DiameterMM, StartDiameterMM, FeedPerRevolutionMM, EdgesCount, PointAngleDeg float64
}

// DrillingChip returns the chip of one edge, h = (f/z)·sin(σ/2) and
// b = (D − d)/(2·sin(σ/2)).
//
// Range: 0 < σ ≤ 180, d < D. Errors: none; the caller has checked.
// Source: DIN 6580; ISO 3002-3.
func DrillingChip(d Drilled) Chip {
	s := sinDeg(d.PointAngleDeg / 2)
	return Chip{
		ThicknessMM: d.FeedPerRevolutionMM / d.EdgesCount * s,
		WidthMM:     (d.DiameterMM - d.StartDiameterMM) / (2 * s),
	}
}

// Bore is a hole being opened from one diameter to another at a feed speed.
type Bore struct{ DiameterMM, StartDiameterMM, FeedRateMMPerMin float64 }

// DrillingRemovalCM3PerMin returns Q = π/4·(D² − d²)·vf/1000 in cm³/min.
//
// Range: d < D. Errors: none. Source: geometry.
func DrillingRemovalCM3PerMin(b Bore) float64 {
	return math.Pi / 4 * (b.DiameterMM*b.DiameterMM - b.StartDiameterMM*b.StartDiameterMM) * b.FeedRateMMPerMin / 1000
}

// Point is a drill point: the part between an existing hole and the diameter.
type Point struct{ DiameterMM, StartDiameterMM, PointAngleDeg float64 }

// PointLengthMM returns the axial length of the point, (D − d)/2/tan(σ/2): 0.182·D
// at 140°, 0.300·D at 118°, nothing at 180°.
//
// Range: 0 < σ ≤ 180. Errors: none. Source: geometry.
func PointLengthMM(p Point) float64 {
	if p.PointAngleDeg >= 180 {
		return 0
	}
	return (p.DiameterMM - p.StartDiameterMM) / 2 / math.Tan(p.PointAngleDeg*math.Pi/360)
}

// Slope is a drill on a face that is not square to its axis.
type Slope struct{ DiameterMM, SlopeDeg float64 }

// SlopeEntryMM returns the feed travel until the whole diameter is in on a slope,
// D·tan(slope).
//
// Range: 0 ≤ slope < 90. Errors: none. Source: geometry.
func SlopeEntryMM(s Slope) float64 { return s.DiameterMM * math.Tan(s.SlopeDeg*math.Pi/180) }

// Wall is a drill going sideways into a cylinder.
type Wall struct{ DiameterMM, RadiusMM float64 }

// WallEntryMM returns the feed travel until the whole diameter is in on a cylinder,
// R − √(R² − D²/4).
//
// Range: R ≥ D/2; below it the drill never closes and R is returned.
// Errors: none. Source: geometry (sagitta).
func WallEntryMM(w Wall) float64 {
	r := math.Abs(w.RadiusMM)
	rest := r*r - w.DiameterMM*w.DiameterMM/4
	if rest <= 0 {
		return r
	}
	return r - math.Sqrt(rest)
}
