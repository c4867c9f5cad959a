package force

import (
	"math"

	"swarf/domain/kinematics"
)

// BallMilled is a pass of a ball-nosed cutter beside an earlier one. The tilt of its
// axis does not enter the mean torque: it moves a point of the ball faster, not
// through more metal.
type BallMilled struct {
	Law
	FeedPerToothMM, DiameterMM, DepthMM, StepMM, TiltDeg, EdgesCount float64
}

func (m BallMilled) ball() kinematics.Ball {
	return kinematics.Ball{DiameterMM: m.DiameterMM, DepthMM: m.DepthMM, TiltDeg: m.TiltDeg}
}

// BallChip is the chip of a ball: its thickest, and its mean over the contact.
type BallChip struct{ ThicknessMaxMM, ThicknessMeanMM float64 }

// contact is the part of a ball that cuts, seen along the feed: between its rim and
// the boundary of what the last pass and the old surface left. Directions are angles
// from straight down, positive toward the last pass; lengths are over the radius.
type contact struct {
	surface float64    // depth of the old surface below the centre
	step    float64    // to the last pass's centre
	turns   [4]float64 // directions at which the boundary changes, in order
}

func contactOf(m BallMilled) contact {
	c := contact{surface: 1 - 2*m.DepthMM/m.DiameterMM, step: 2 * m.StepMM / m.DiameterMM}
	widest := math.Acos(c.surface)
	rim := min(widest, math.Asin(min(1, c.step/2))) // where the last pass meets the rim
	last := max(rim, min(c.corner(), widest))
	inside := func(direction float64) float64 { return min(last, max(-widest, direction)) }
	tangent := -widest // beyond it a ray crosses the last pass
	if c.step > 1 {
		tangent = math.Acos(1 / c.step)
	}
	middle := [2]float64{inside(c.corner()), inside(tangent)}
	if middle[0] > middle[1] {
		middle[0], middle[1] = middle[1], middle[0]
	}
	c.turns = [4]float64{-widest, middle[0], middle[1], last}
	return c
}

// corner is the direction of the edge between old surface and last pass.
func (c contact) corner() float64 {
	return math.Atan2(c.step-math.Sqrt(1-c.surface*c.surface), c.surface)
}

// ray is what (1 − s²)^exponent gains between where a ray enters the stock and where
// it leaves, the bite of the last pass taken out; at the rim it is nothing.
func (c contact) ray(direction, exponent float64) float64 {
	gain := func(s float64) float64 { return math.Pow(1-s*s, exponent) }
	sin, cos := math.Sincos(direction)
	enter := min(1, c.surface/cos)
	root := 1 - c.step*c.step*cos*cos
	if root < 0 {
		return gain(enter) // passes the last pass by
	}
	root = math.Sqrt(root)
	near := min(1, max(enter, c.step*sin-root))
	far := min(1, max(enter, c.step*sin+root))
	return gain(enter) - gain(near) + gain(far)
}

// integral is the sum of rays over the directions of contact.
func (c contact) integral(exponent float64) float64 {
	sum := 0.0
	for i, to := range c.turns[1:] {
		if from := c.turns[i]; to > from {
			sum += integrate(func(d float64) float64 { return c.ray(d, exponent) }, from, to)
		}
	}
	return sum
}

// nearest is the contact's least distance from the centre, where the chip is thickest.
func (c contact) nearest() float64 {
	if half := math.Sqrt(1 - c.surface*c.surface); c.step < half {
		return math.Hypot(c.step-half, c.surface)
	}
	return c.surface
}

// BallChipOf returns the chip of a ball: a point whose direction makes an angle θ with
// the feed takes h = fz·cos θ; the mean is over the contact surface.
//
// Range: ap ≤ DC/2, step ≤ the ball's width at that depth. Errors: none.
// Source: geometry of a sphere moved by fz.
func BallChipOf(m BallMilled) BallChip {
	c := contactOf(m)
	s := c.nearest()
	// projected area over the surface's own: ½·∫(1 − s²) over ∫√(1 − s²)
	return BallChip{
		ThicknessMaxMM:  m.FeedPerToothMM * math.Sqrt(1-s*s),
		ThicknessMeanMM: m.FeedPerToothMM * c.integral(1) / 2 / c.integral(0.5),
	}
}

// BallTorqueNm returns the exact mean torque of a ball over a revolution. A patch of
// the ball that shows the area dA along the feed takes kc1.1·(fz·cos θ)^(1−mc)/cos θ·dA
// per tooth, so that M = z/(2π)·kc1.1·fz^(1−mc)·∫ cos θ^(−mc) dA; the integral over a
// direction is closed. The layer is taken as ap·step: ridges above and below even out.
//
// Range: as BallChipOf, mc < 1. Errors: none. Source: Kienzle's law over the contact
// surface; held against gonum's quadrature of the surface in the tests.
func BallTorqueNm(m BallMilled) float64 {
	c := contactOf(m)
	radius, mc := m.DiameterMM/2, m.ThicknessExp
	area := radius * radius / 2 * c.integral(1)
	weighted := radius * radius / (2 - mc) * c.integral(1-mc/2)
	layer := m.DepthMM * m.StepMM / area
	return m.EdgesCount / (2 * math.Pi) * m.SpecificForce11NPerMM2 *
		math.Pow(m.FeedPerToothMM, 1-mc) * weighted * layer / 1000
}

// BallArc returns the arc over which a tooth of a ball is taken to cut: that of a flat
// cutter of the effective diameter and as wide as the step, at its rim.
//
// Range: as BallChipOf. Errors: none; a wider step is taken as De.
// Source: convention of this service; exact for an upright ball at the old surface.
func BallArc(m BallMilled) kinematics.Arc {
	d := kinematics.BallDiameterMM(m.ball())
	i := kinematics.Immersion{DiameterMM: d, WidthMM: min(m.StepMM, d)}
	i.OffsetMM = kinematics.AlignedOffsetMM(i)
	return kinematics.EngagementArc(i)
}

// BallMilling returns the loads of a ball: the mean torque is BallTorqueNm; peak, feed
// and axial force stand to it as in a flat cutter of BallArc, whose edge is inclined
// as the middle of the contact.
//
// Range: as BallTorqueNm. Errors: none. Source: as BallTorqueNm and Milling; the
// likeness is a convention of this service.
func BallMilling(m BallMilled) MillingLoads {
	ball := m.ball()
	flat := Milling(Milled{
		Law: m.Law, FeedPerToothMM: m.FeedPerToothMM, AxialMM: m.DepthMM, EdgesCount: m.EdgesCount,
		EdgeAngleDeg: min(90, m.TiltDeg+kinematics.BallContactDeg(ball)/2),
		DiameterMM:   kinematics.BallDiameterMM(ball), Arc: BallArc(m),
	})
	torque := BallTorqueNm(m)
	k := torque / flat.TorqueNm
	return MillingLoads{TorqueNm: torque, TorquePeakNm: flat.TorquePeakNm * k, FeedForceN: flat.FeedForceN * k, AxialForceN: flat.AxialForceN * k}
}
