package kinematics

import "math"

// Arc is where a tooth is in the work: angles of the cutter's turn, measured from
// the direction in which the chip starts at nothing, in radians.
type Arc struct{ EntryRad, ExitRad float64 }

// SweepRad returns the engagement angle φs in radians.
//
// Range: exit ≥ entry. Errors: none. Source: DIN 6580, geometry.
func (a Arc) SweepRad() float64 { return a.ExitRad - a.EntryRad }

// SweepDeg returns the engagement angle φs in degrees.
//
// Range: exit ≥ entry. Errors: none. Source: DIN 6580, geometry.
func (a Arc) SweepDeg() float64 { return a.SweepRad() * 180 / math.Pi }

// Immersion is a cutter of diameter DC against work of width ae whose middle lies
// at a signed distance from the cutter's axis.
type Immersion struct{ DiameterMM, WidthMM, OffsetMM float64 }

// EngagementArc returns entry and exit: a work edge at signed distance u from the
// axis is met at φ = arccos(−2u/DC).
//
// Range: |offset| + ae/2 ≤ DC/2; beyond it the edge is taken at the rim.
// Errors: none; the caller has checked. Source: DIN 6580, geometry.
func EngagementArc(i Immersion) Arc {
	at := func(u float64) float64 { return math.Acos(min(1, max(-1, -2*u/i.DiameterMM))) }
	return Arc{EntryRad: at(i.OffsetMM - i.WidthMM/2), ExitRad: at(i.OffsetMM + i.WidthMM/2)}
}

// AlignedOffsetMM returns the offset that puts one work edge at the rim, so that a
// tooth enters at φ = 0: (DC − ae)/2, the wall of side milling, written as the
// offset of the work's middle.
//
// Range: ae ≤ DC. Errors: none. Source: geometry.
func AlignedOffsetMM(i Immersion) float64 { return (i.WidthMM - i.DiameterMM) / 2 }

// Tooth is the feed per tooth and the cutting edge angle.
type Tooth struct{ FeedPerToothMM, EdgeAngleDeg float64 }

// MillingMaxThicknessMM returns the largest chip over an arc, h = fz·sin κ·sin φ at the φ
// nearest 90° (circular path; the trochoid's share, about fz/(2·π·DC/z), is left out).
//
// Range: 0 < κ ≤ 90. Errors: none. Source: DIN 6580; ISO 3002-3.
func MillingMaxThicknessMM(t Tooth, a Arc) float64 {
	s := 1.0
	if a.ExitRad < math.Pi/2 {
		s = math.Sin(a.ExitRad)
	} else if a.EntryRad > math.Pi/2 {
		s = math.Sin(a.EntryRad)
	}
	return t.FeedPerToothMM * sinDeg(t.EdgeAngleDeg) * s
}

// MillingMeanThicknessMM returns the mean chip over the arc,
// hm = fz·sin κ·(cos φ1 − cos φ2)/φs.
//
// Range: φs > 0. Errors: none; an empty arc gives 0. Source: DIN 6580, geometry.
func MillingMeanThicknessMM(t Tooth, a Arc) float64 {
	if a.SweepRad() <= 0 {
		return 0
	}
	return t.FeedPerToothMM * sinDeg(t.EdgeAngleDeg) * (math.Cos(a.EntryRad) - math.Cos(a.ExitRad)) / a.SweepRad()
}

// EdgesInCutCount returns the mean number of edges in the work, z·φs/360°.
//
// Range: z ≥ 1. Errors: none. Source: geometry.
func EdgesInCutCount(a Arc, edges float64) float64 { return edges * a.SweepRad() / (2 * math.Pi) }

// MillingRemoval is what the removal rate of milling is made of.
type MillingRemoval struct{ AxialMM, RadialMM, FeedRateMMPerMin float64 }

// MillingRemovalCM3PerMin returns Q = ap·ae·vf/1000 in cm³/min.
//
// Range: any. Errors: none. Source: DIN 6580, geometry.
func MillingRemovalCM3PerMin(m MillingRemoval) float64 {
	return m.AxialMM * m.RadialMM * m.FeedRateMMPerMin / 1000
}

// HelixLagRad returns the angle by which the top of a helical edge trails its tip,
// ψ = 2·ap·tan λ/DC, in radians.
//
// Range: 0 ≤ λ < 90. Errors: none. Source: geometry.
func HelixLagRad(h Helix) float64 {
	return 2 * h.AxialMM * math.Tan(h.HelixAngleDeg*math.Pi/180) / h.DiameterMM
}

// Helix is a length of helical edge on a cutter.
type Helix struct{ AxialMM, HelixAngleDeg, DiameterMM float64 }

// ThinChipRatio returns by how much fz may rise so that the largest chip equals
// that of half immersion, DC/(2·√(ae·(DC − ae))), on the basis of hmax.
//
// Range: 0 < ae < DC/2; from half immersion on it is 1. Errors: none.
// Source: geometry; 1.25 at 20 %, 1.67 at 10 %, 2.29 at 5 % of the diameter.
func ThinChipRatio(i Immersion) float64 {
	if i.WidthMM >= i.DiameterMM/2 {
		return 1
	}
	return i.DiameterMM / (2 * math.Sqrt(i.WidthMM*(i.DiameterMM-i.WidthMM)))
}

// Circle is a cutter going round from one diameter to another.
type Circle struct {
	CutterMM, StartMM, EndMM float64
	Internal                 bool
}

// CircleWidthMM returns the working engagement on a circular path, at the cutter's
// centre: inside ae' = (Dm² − Dw²)/(4·(Dm − DC)), outside (Dw² − Dm²)/(4·(Dm + DC)),
// Dw before and Dm after the cut.
//
// Range: the cutter fits. Errors: none; the caller has checked. Source: geometry: the
// ring's area over the length of the centre's path.
func CircleWidthMM(c Circle) float64 {
	if c.Internal {
		return (c.EndMM*c.EndMM - c.StartMM*c.StartMM) / (4 * (c.EndMM - c.CutterMM))
	}
	return (c.StartMM*c.StartMM - c.EndMM*c.EndMM) / (4 * (c.EndMM + c.CutterMM))
}

// Sweep is a cutter and the angle over which its teeth cut.
type Sweep struct{ DiameterMM, EngagementAngleDeg float64 }

// SweepWidthMM returns the width that gives an engagement angle,
// ae = DC·(1 − cos φs)/2.
//
// Range: 0 < φs ≤ 180. Errors: none. Source: DIN 6580, geometry.
func SweepWidthMM(s Sweep) float64 {
	return s.DiameterMM * (1 - math.Cos(s.EngagementAngleDeg*math.Pi/180)) / 2
}
