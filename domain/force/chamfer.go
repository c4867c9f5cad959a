package force

import (
	"math"

	"swarf/domain/kinematics"
)

// Chamfered is a cutter with an inclined edge that takes a corner off: the width of the
// chamfer on the face, the diameter where the edge meets that face, and the circle of
// the corner where it is one (WorkMM 0: a straight corner).
type Chamfered struct {
	Law
	FeedPerToothMM, EdgeAngleDeg, WidthMM, DiameterMM, EdgesCount float64
	WorkMM                                                        float64
	Internal                                                      bool
}

// ChamferAreaMM2 returns the section of the corner that is taken off, seen by the cutter's
// centre: width²·tan κ/2 on a straight corner, more in a bore, less on a boss.
//
// Range: 0 < κ < 90. Errors: none. Source: geometry.
func ChamferAreaMM2(c Chamfered) float64 {
	if c.WorkMM == 0 {
		return c.WidthMM * c.DepthMM() / 2
	}
	return c.DepthMM() * integrate(func(share float64) float64 {
		_, width := c.slice(share)
		return width
	}, 0, 1)
}

// DepthMM returns the chamfer's depth along the axis, width·tan κ.
//
// Range: 0 < κ < 90. Errors: none. Source: geometry.
func (c Chamfered) DepthMM() float64 { return c.WidthMM * math.Tan(c.EdgeAngleDeg*math.Pi/180) }

// slice is the cutter at a share of the chamfer's depth, from 0 at its lower end to 1
// at the face: its diameter, and how wide the work is there.
func (c Chamfered) slice(share float64) (diameter, width float64) {
	width = c.WidthMM * share
	diameter = c.DiameterMM - 2*c.WidthMM*(1-share)
	if c.WorkMM == 0 {
		return diameter, width
	}
	circle := kinematics.Circle{CutterMM: diameter, StartMM: c.WorkMM, Internal: c.Internal}
	if c.Internal {
		circle.EndMM = c.WorkMM + 2*width
	} else {
		circle.EndMM = c.WorkMM - 2*width
	}
	return diameter, kinematics.CircleWidthMM(circle)
}

func (c Chamfered) arc(share float64) kinematics.Arc {
	d, w := c.slice(share)
	i := kinematics.Immersion{DiameterMM: d, WidthMM: min(w, d)}
	i.OffsetMM = kinematics.AlignedOffsetMM(i)
	return kinematics.EngagementArc(i)
}

// ChamferArc returns the arc of a tooth where it is longest, at the face.
//
// Range: a chamfer narrower than the cutter. Errors: none. Source: geometry.
func ChamferArc(c Chamfered) kinematics.Arc { return c.arc(1) }

// Chamfering returns the loads of a chamfer: slices of end mills, each as wide as the
// corner is there, h = fz·sin κ·sin φ over its own arc. The peak stands to the mean as in
// the slice at the face.
//
// Range: 0 < κ < 90, a chamfer narrower than the cutter, mc < 1. Errors: none.
// Source: Kienzle's law over the arc of DIN 6580, slice by slice.
func Chamfering(c Chamfered) MillingLoads {
	sinEdge := math.Sin(c.EdgeAngleDeg * math.Pi / 180)
	depth := c.DepthMM()
	a := 1 - c.ThicknessExp
	s := newSineIntegral(a)
	full := c.SpecificForce11NPerMM2 / sinEdge * math.Pow(c.FeedPerToothMM*sinEdge, a) * c.EdgesCount / (2 * math.Pi)
	// √share grows the arc evenly from nothing
	torque := full * depth * integrate(func(u float64) float64 {
		share := u * u
		d, _ := c.slice(share)
		arc := c.arc(share)
		return (s.at(arc.ExitRad) - s.at(arc.EntryRad)) * d / 2000 * 2 * u
	}, 0, 1)
	flat := Milling(Milled{Law: c.Law, FeedPerToothMM: c.FeedPerToothMM, EdgeAngleDeg: c.EdgeAngleDeg, AxialMM: depth,
		DiameterMM: c.DiameterMM, EdgesCount: c.EdgesCount, Arc: c.arc(1)})
	k := torque / flat.TorqueNm
	return MillingLoads{TorqueNm: torque, TorquePeakNm: flat.TorquePeakNm * k, FeedForceN: flat.FeedForceN * k, AxialForceN: flat.AxialForceN * k}
}
