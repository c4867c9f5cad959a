package estimate

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
)

// Bend is a curved stretch of the path: the feed of the cutter's centre there, the feed
// that leaves at the wall, what the one is of the feed on a straight, and how far round
// a tooth cuts there and on the straight.
type Bend struct {
	FeedRateMMPerMin, WallFeedRateMMPerMin, FactorRatio float64
	EngagementAngleDeg, StraightAngleDeg                float64 // 0: the path has no straight
}

// slowestBendRatio is how far the feed goes down in a corner; the engagement there is a
// finding of its own. Common practice, no source.
const slowestBendRatio = 0.2

// bendOf gives the feed on circles and in corners of a milling path. On a circle the cut is
// already computed with the centre's feed; in a corner the feed on the straight is
// carried over so that the wall sees it unchanged.
func (e *Estimate) bendOf() *Bend {
	c, vf := e.Cut, e.Motion.FeedRateMMPerMin
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	if en.EndDiameterMM != nil {
		ratio := kinematics.CentreFeedRatio(kinematics.Bend{CutterMM: d, RadiusMM: *en.EndDiameterMM / 2, Internal: *en.Internal})
		return &Bend{FeedRateMMPerMin: vf, WallFeedRateMMPerMin: vf / ratio, FactorRatio: ratio, EngagementAngleDeg: e.Chip.EngagementAngleDeg}
	}
	radius := value(en.PathRadiusMM, 0)
	if radius == 0 {
		return nil
	}
	b := &Bend{StraightAngleDeg: e.Chip.EngagementAngleDeg}
	arc := cornerArc(c, radius)
	b.EngagementAngleDeg = arc.SweepDeg()
	if radius > 0 && radius <= d/2*(1+1e-9) { // the cutter turns on the spot: the torque of the straight holds
		b.FactorRatio = e.sameTorque(arc)
		b.WallFeedRateMMPerMin = 0
	} else {
		b.FactorRatio = kinematics.CentreFeedRatio(kinematics.Bend{CutterMM: d, RadiusMM: math.Abs(radius), Internal: radius > 0})
		b.WallFeedRateMMPerMin = vf
	}
	if b.FactorRatio < slowestBendRatio {
		b.FactorRatio = slowestBendRatio
		b.WallFeedRateMMPerMin = 0 // no longer the wall's feed
	}
	b.FeedRateMMPerMin = vf * b.FactorRatio
	return b
}

// cornerArc is the engagement in a bend of the wall. In one no larger than the cutter a
// tooth stays in the work a quarter turn longer, a square corner.
func cornerArc(c *cut.Cut, radius float64) kinematics.Arc {
	d, ae := *c.Tool.CuttingDiameterMM, WidthMM(c)
	if radius > 0 && radius <= d/2*(1+1e-9) {
		straight := arcOf(c)
		return kinematics.Arc{EntryRad: straight.EntryRad, ExitRad: min(math.Pi, straight.ExitRad+math.Pi/2)}
	}
	circle := kinematics.Circle{CutterMM: d, EndMM: 2 * radius, StartMM: max(0, 2*(radius-ae)), Internal: true}
	if radius < 0 {
		circle = kinematics.Circle{CutterMM: d, EndMM: -2 * radius, StartMM: 2 * (ae - radius)}
	}
	i := kinematics.Immersion{DiameterMM: d, WidthMM: min(d, kinematics.CircleWidthMM(circle))}
	i.OffsetMM = kinematics.AlignedOffsetMM(i)
	return kinematics.EngagementArc(i)
}

// sameTorque is the share of the feed at which the longer arc takes the torque of the
// straight; without a force law, the removal rate.
func (e *Estimate) sameTorque(arc kinematics.Arc) float64 {
	straight := arcOf(e.Cut)
	law := e.law
	if law.SpecificForce11NPerMM2 == 0 {
		law = force.EnergyLaw(1)
	}
	of := func(a kinematics.Arc) float64 {
		return force.MillingTorqueNm(force.Milled{Law: law, FeedPerToothMM: e.Motion.FeedPerToothMM, EdgeAngleDeg: *e.Cut.Tool.CuttingEdgeAngleDeg,
			AxialMM: 1, DiameterMM: 2, EdgesCount: 1, Arc: a})
	}
	return math.Pow(of(straight)/of(arc), 1/(1-law.ThicknessExp))
}
