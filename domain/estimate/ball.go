package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

func ballOf(c *cut.Cut) kinematics.Ball {
	return kinematics.Ball{DiameterMM: *c.Tool.CuttingDiameterMM, DepthMM: *c.Engagement.AxialDepthMM, TiltDeg: *c.Engagement.TiltAngleDeg}
}

// ball computes a pass of a ball-nosed cutter, the same depth and step all along.
func (e *Estimate) ball() {
	c, m := e.Cut, &e.Motion
	pass := force.BallMilled{
		FeedPerToothMM: m.FeedPerToothMM, DiameterMM: *c.Tool.CuttingDiameterMM, DepthMM: *c.Engagement.AxialDepthMM,
		StepMM: *c.Engagement.StepOverMM, TiltDeg: *c.Engagement.TiltAngleDeg, EdgesCount: *c.Tool.EffectiveEdgesCount,
	}
	arc, chip := force.BallArc(pass), force.BallChipOf(pass)
	e.Chip = Chip{
		ThicknessMeanMM: chip.ThicknessMeanMM, ThicknessMaxMM: chip.ThicknessMaxMM, WidthMM: pass.StepMM,
		EngagementAngleDeg: arc.SweepDeg(), EdgesInCutCount: kinematics.EdgesInCutCount(arc, pass.EdgesCount),
	}
	e.Sharp.RemovalCM3PerMin = kinematics.MillingRemovalCM3PerMin(kinematics.MillingRemoval{AxialMM: pass.DepthMM, RadialMM: pass.StepMM, FeedRateMMPerMin: m.FeedRateMMPerMin})
	if !e.serve() {
		return
	}
	pass.Law = e.law
	loads := force.BallMilling(pass)
	e.milled(loads)
	e.Sharp.PassiveForceN = unit.Some(loads.AxialForceN)
	e.compare(func(law force.Law) float64 {
		pass.Law = law
		return force.BallTorqueNm(pass)
	})
}
