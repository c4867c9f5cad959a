package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

func chamferOf(c *cut.Cut) force.Chamfered {
	en := &c.Engagement
	return force.Chamfered{
		EdgeAngleDeg: *c.Tool.CuttingEdgeAngleDeg, WidthMM: *en.ChamferWidthMM, DiameterMM: *c.Tool.CuttingDiameterMM,
		EdgesCount: *c.Tool.EffectiveEdgesCount, WorkMM: value(en.WorkDiameterMM, 0), Internal: en.Internal != nil && *en.Internal,
	}
}

// chamfer computes a corner taken off with the outer end of an inclined edge.
func (e *Estimate) chamfer() {
	c, m := e.Cut, &e.Motion
	corner := chamferOf(c)
	corner.FeedPerToothMM = m.FeedPerToothMM
	e.Chip = arcChip(kinematics.Tooth{FeedPerToothMM: m.FeedPerToothMM, EdgeAngleDeg: corner.EdgeAngleDeg}, force.ChamferArc(corner), corner.EdgesCount)
	e.Chip.WidthMM = kinematics.TurningChip(kinematics.Turned{DepthMM: corner.DepthMM(), EdgeAngleDeg: corner.EdgeAngleDeg}).WidthMM
	e.Sharp.RemovalCM3PerMin = kinematics.FeedVolumeCM3PerMin(kinematics.Section{AreaMM2: force.ChamferAreaMM2(corner), FeedRateMMPerMin: m.FeedRateMMPerMin})
	if !e.serve() {
		return
	}
	corner.Law = e.law
	loads := force.Chamfering(corner)
	e.milled(loads)
	e.Sharp.PassiveForceN = unit.Some(loads.AxialForceN)
	e.compare(func(law force.Law) float64 {
		corner.Law = law
		return force.Chamfering(corner).TorqueNm
	})
}
