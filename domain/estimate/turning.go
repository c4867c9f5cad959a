package estimate

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/material"
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
// them, else as the usual shares of the cutting force for this edge and corner.
func (e *Estimate) turningShares(fc float64, chip kinematics.Chip) (feed, passive unit.Opt) {
	if r := e.Served; ownShares(r) {
		return unit.Some(share(r.FeedForce11NPerMM2, r.FeedForceExp, chip)), unit.Some(share(r.PassiveForce11NPerMM2, r.PassiveForceExp, chip))
	}
	s := sharesOf(e.Cut, &e.Motion)
	e.uses(domain.Used{ID: "common-practice", Basis: domain.CommonPractice, UsedFor: "feed and passive force, as shares of the cutting force"})
	return unit.Some(s.FeedRatio * fc), unit.Some(s.PassiveRatio * fc)
}

// ownShares reports a record that has pairs of its own for feed and passive force.
func ownShares(r *material.Force) bool {
	return r != nil && r.FeedForce11NPerMM2.OK && r.PassiveForce11NPerMM2.OK
}

// sharesOf is by the chord of edge and corner; the middles where the corner is not known.
func sharesOf(c *cut.Cut, m *Motion) force.Shares {
	corner, ok := cornerOf(c, m)
	if !ok {
		return force.Shares{FeedRatio: force.FeedShareRatio, PassiveRatio: force.PassiveShareRatio}
	}
	return force.TurningShares(kinematics.ChordAngleDeg(corner))
}

// cornerOf is a turning or boring edge with its corner; ok is false where that is not
// known. A grooving edge is square: its corners are no part of it.
func cornerOf(c *cut.Cut, m *Motion) (k kinematics.Corner, ok bool) {
	en, t := &c.Engagement, &c.Tool
	if t.CornerRadiusMM == nil || t.CuttingEdgeAngleDeg == nil {
		return k, false
	}
	k = kinematics.Corner{EdgeAngleDeg: *t.CuttingEdgeAngleDeg, CornerRadiusMM: *t.CornerRadiusMM, FeedPerRevolutionMM: m.FeedPerToothMM}
	switch {
	case en.DepthOfCutMM != nil:
		k.DepthMM = *en.DepthOfCutMM
	case c.Operation.Name == "boring-rotating":
		k.DepthMM = (*t.CuttingDiameterMM - *en.StartDiameterMM) / 2
	default:
		return k, false
	}
	return k, true
}

func share(k, exponent unit.Opt, chip kinematics.Chip) float64 {
	return force.TurningForceN(force.Turned{
		Law:         force.Law{SpecificForce11NPerMM2: k.V, ThicknessExp: exponent.V},
		ThicknessMM: chip.ThicknessMM, WidthMM: chip.WidthMM,
	})
}
