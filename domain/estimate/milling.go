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
	i := kinematics.Immersion{DiameterMM: *c.Tool.CuttingDiameterMM, WidthMM: WidthMM(c)}
	switch {
	case c.Engagement.CutterOffsetMM != nil:
		i.OffsetMM = *c.Engagement.CutterOffsetMM
	case AlongWall(c):
		i.OffsetMM = kinematics.AlignedOffsetMM(i)
	}
	return kinematics.EngagementArc(i)
}

// AlongWall reports operations in which one work edge lies at the cutter's rim.
func AlongWall(c *cut.Cut) bool {
	return c.Operation.Name != "face-milling" && c.Operation.Name != "slot-milling"
}

// WidthMM is the working engagement ae of a milling cut: as it was given, or from the
// engagement angle or the circle.
//
// Range: a checked milling cut. Errors: none. Source: geometry.
func WidthMM(c *cut.Cut) float64 {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	switch {
	case en.RadialWidthMM != nil:
		return *en.RadialWidthMM
	case en.EngagementAngleDeg != nil:
		return kinematics.SweepWidthMM(kinematics.Sweep{DiameterMM: d, EngagementAngleDeg: *en.EngagementAngleDeg})
	}
	return kinematics.CircleWidthMM(kinematics.Circle{CutterMM: d, StartMM: *en.StartDiameterMM, EndMM: *en.EndDiameterMM, Internal: *en.Internal})
}

// DepthMM is the axial depth ap of a milling cut; one pitch where only that is given.
//
// Range: a checked milling cut. Errors: none. Source: geometry.
func DepthMM(c *cut.Cut) float64 {
	if ap := c.Engagement.AxialDepthMM; ap != nil {
		return *ap
	}
	return *c.Engagement.PitchMM
}

// mill computes milling on straight paths, loops and circles.
func (e *Estimate) mill() {
	c, m := e.Cut, &e.Motion
	ap, ae, z := DepthMM(c), WidthMM(c), *c.Tool.EffectiveEdgesCount
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
		DiameterMM: m.DiameterMM, EdgesCount: z, HelixAngleDeg: value(c.Tool.FluteHelixAngleDeg, 0), Arc: arc,
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
