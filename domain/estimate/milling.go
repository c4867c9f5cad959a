package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// arcOf is the engagement of a milling cut: centred on the width in face and slot
// milling, edge-aligned in side milling, or as the caller set it.
func arcOf(c *cut.Cut) kinematics.Arc {
	i := kinematics.Immersion{DiameterMM: *c.Tool.CuttingDiameterMM, WidthMM: *c.Engagement.RadialWidthMM}
	switch {
	case c.Engagement.CutterOffsetMM != nil:
		i.OffsetMM = *c.Engagement.CutterOffsetMM
	case c.Operation.Name == "side-milling":
		i.OffsetMM = kinematics.AlignedOffsetMM(i)
	}
	return kinematics.EngagementArc(i)
}

// mill computes face, side and slot milling.
func (e *Estimate) mill() {
	c, m := e.Cut, &e.Motion
	ap, ae, z := *c.Engagement.AxialDepthMM, *c.Engagement.RadialWidthMM, *c.Tool.EffectiveEdgesCount
	arc := arcOf(c)
	tooth := kinematics.Tooth{FeedPerToothMM: m.FeedPerToothMM, EdgeAngleDeg: *c.Tool.CuttingEdgeAngleDeg}
	e.Chip = Chip{
		ThicknessMeanMM:    kinematics.MillingMeanThicknessMM(tooth, arc),
		ThicknessMaxMM:     kinematics.MillingMaxThicknessMM(tooth, arc),
		WidthMM:            kinematics.TurningChip(kinematics.Turned{DepthMM: ap, EdgeAngleDeg: tooth.EdgeAngleDeg}).WidthMM,
		EngagementAngleDeg: arc.SweepDeg(),
		EdgesInCutCount:    kinematics.EdgesInCutCount(arc, z),
	}
	e.Sharp.RemovalCM3PerMin = kinematics.MillingRemovalCM3PerMin(kinematics.MillingRemoval{AxialMM: ap, RadialMM: ae, FeedRateMMPerMin: m.FeedRateMMPerMin})
	if !e.serve() {
		return
	}
	milled := force.Milled{
		Law: e.law, FeedPerToothMM: m.FeedPerToothMM, EdgeAngleDeg: tooth.EdgeAngleDeg, AxialMM: ap,
		DiameterMM: m.DiameterMM, EdgesCount: z, HelixAngleDeg: *c.Tool.FluteHelixAngleDeg, Arc: arc,
	}
	loads := force.Milling(milled)
	l := &e.Sharp
	l.TorqueNm, l.TorquePeakNm = loads.TorqueNm, loads.TorquePeakNm
	l.PowerKW = force.PowerKW(force.Rotating{TorqueNm: l.TorqueNm, SpindleSpeedPerMin: m.SpindleSpeedPerMin})
	l.CuttingForceN = 2000 * l.TorqueNm / m.DiameterMM
	l.SpecificForceNPerMM2 = 60000 * l.PowerKW / l.RemovalCM3PerMin
	l.FeedForceN, l.PassiveForceN = unit.Some(loads.FeedForceN), unit.Some(loads.AxialForceN)
	e.HasLoads = true
	e.compare(func(law force.Law) float64 {
		milled.Law = law
		return force.MillingTorqueNm(milled)
	})
	if e.Served != nil {
		e.cite(e.Served, "loads")
	}
}
