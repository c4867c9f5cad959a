package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// edgeDepth is how much of the edge cuts: the depth of cut, or a groove's width.
func edgeDepth(c *cut.Cut) float64 {
	if w := c.Engagement.WidthMM; w != nil {
		return *w
	}
	return *c.Engagement.DepthOfCutMM
}

// turn computes turning, facing, internal boring, grooving and parting.
func (e *Estimate) turn() {
	c, m := e.Cut, &e.Motion
	ap := edgeDepth(c)
	chip := kinematics.TurningChip(kinematics.Turned{FeedPerRevolutionMM: m.FeedPerToothMM, DepthMM: ap, EdgeAngleDeg: *c.Tool.CuttingEdgeAngleDeg})
	z := *c.Tool.EffectiveEdgesCount
	e.Chip = Chip{ThicknessMeanMM: chip.ThicknessMM, ThicknessMaxMM: chip.ThicknessMM, WidthMM: chip.WidthMM, EdgesInCutCount: z}
	e.Sharp.RemovalCM3PerMin = kinematics.TurningRemovalCM3PerMin(kinematics.TurningRemoval{SpeedMPerMin: m.CuttingSpeedMPerMin, DepthMM: ap, FeedPerRevolutionMM: m.FeedPerRevolutionMM})
	if !e.serve() {
		return
	}
	force1 := func(l force.Law) float64 {
		return z * force.TurningForceN(force.Turned{Law: l, ThicknessMM: chip.ThicknessMM, WidthMM: chip.WidthMM})
	}
	l := &e.Sharp
	l.SpecificForceNPerMM2 = e.law.SpecificForceNPerMM2(chip.ThicknessMM)
	l.CuttingForceN = force1(e.law)
	l.FeedForceN, l.PassiveForceN = e.turningShares(l.CuttingForceN, chip)
	e.turned()
	e.compare(func(l force.Law) float64 {
		return force.TangentialTorqueNm(force.AtDiameter{ForceN: force1(l), DiameterMM: m.DiameterMM})
	})
}

// turned gives torque and power of a cutting force at the work.
func (e *Estimate) turned() {
	m, l := &e.Motion, &e.Sharp
	l.TorqueNm = force.TangentialTorqueNm(force.AtDiameter{ForceN: l.CuttingForceN, DiameterMM: m.DiameterMM})
	l.TorquePeakNm = l.TorqueNm
	l.PowerKW = force.CuttingPowerKW(force.Moving{ForceN: l.CuttingForceN, SpeedMPerMin: m.CuttingSpeedMPerMin})
	e.HasLoads = true
	if e.Served != nil {
		e.cite(e.Served, "loads")
	}
}

// turningShares gives feed and passive force: by the record's own pairs when it has
// them, else as the middle of the usual shares of the cutting force.
func (e *Estimate) turningShares(fc float64, chip kinematics.Chip) (feed, passive unit.Opt) {
	if r := e.Served; r != nil && r.FeedForce11NPerMM2.OK && r.PassiveForce11NPerMM2.OK {
		return unit.Some(share(r.FeedForce11NPerMM2, r.FeedForceExp, chip)), unit.Some(share(r.PassiveForce11NPerMM2, r.PassiveForceExp, chip))
	}
	return unit.Some(force.FeedShareRatio * fc), unit.Some(force.PassiveShareRatio * fc)
}

func share(k, exponent unit.Opt, chip kinematics.Chip) float64 {
	return force.TurningForceN(force.Turned{
		Law:         force.Law{SpecificForce11NPerMM2: k.V, ThicknessExp: exponent.V},
		ThicknessMM: chip.ThicknessMM, WidthMM: chip.WidthMM,
	})
}
