package estimate

import (
	"math"

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

// WidthMM is the working engagement ae of a milling cut: as it was given, a ball's
// step, a chamfer's width, or from the engagement angle or the circle.
//
// Range: a checked milling cut. Errors: none. Source: geometry.
func WidthMM(c *cut.Cut) float64 {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	switch {
	case en.RadialWidthMM != nil:
		return *en.RadialWidthMM
	case en.StepOverMM != nil:
		return *en.StepOverMM
	case en.ChamferWidthMM != nil:
		return *en.ChamferWidthMM
	case en.EngagementAngleDeg != nil:
		return kinematics.SweepWidthMM(kinematics.Sweep{DiameterMM: d, EngagementAngleDeg: *en.EngagementAngleDeg})
	}
	return widestRoundMM(c)
}

// DepthMM is the axial depth ap of a milling cut; that of a
// chamfer; one pitch where only that is given.
//
// Range: a checked milling cut. Errors: none. Source: geometry.
func DepthMM(c *cut.Cut) float64 {
	if ap := c.Engagement.AxialDepthMM; ap != nil {
		return *ap
	}
	if c.Engagement.ChamferWidthMM != nil {
		return chamferOf(c).DepthMM()
	}
	return *c.Engagement.PitchMM
}

// mill computes milling: with the end of the cutter, with a ball, along a corner, or
// with the rim on straight paths, loops and circles.
func (e *Estimate) mill() {
	switch e.Cut.Operation.Name {
	case "plunge-milling":
		e.plunge()
	case "ball-milling":
		e.ball()
	case "chamfer-milling":
		e.chamfer()
	default:
		e.rim()
	}
}

// rim computes milling with the edges at the cutter's rim.
func (e *Estimate) rim() {
	c, m := e.Cut, &e.Motion
	ap, ae, z := DepthMM(c), WidthMM(c), *c.Tool.EffectiveEdgesCount
	arc := arcOf(c)
	tooth := kinematics.Tooth{FeedPerToothMM: m.FeedPerToothMM, EdgeAngleDeg: *c.Tool.CuttingEdgeAngleDeg}
	e.Chip = arcChip(tooth, arc, z)
	e.Chip.WidthMM = kinematics.TurningChip(kinematics.Turned{DepthMM: ap, EdgeAngleDeg: tooth.EdgeAngleDeg}).WidthMM
	e.Sharp.RemovalCM3PerMin = kinematics.MillingRemovalCM3PerMin(kinematics.MillingRemoval{AxialMM: ap, RadialMM: ae, FeedRateMMPerMin: m.FeedRateMMPerMin})
	if !e.serve() {
		return
	}
	milled := e.rimmed()
	loads := force.Milling(milled)
	e.milled(loads)
	e.Sharp.PassiveForceN = unit.Some(loads.AxialForceN)
	e.compare(func(law force.Law) float64 {
		milled.Law = law
		return force.MillingTorqueNm(milled)
	})
}

// rimmed is the cut of the edges at the cutter's rim, by the law that serves.
func (e *Estimate) rimmed() force.Milled {
	c := e.Cut
	return force.Milled{
		Law: e.law, FeedPerToothMM: e.Motion.FeedPerToothMM, EdgeAngleDeg: *c.Tool.CuttingEdgeAngleDeg, AxialMM: DepthMM(c),
		DiameterMM: e.Motion.DiameterMM, EdgesCount: *c.Tool.EffectiveEdgesCount, HelixAngleDeg: value(c.Tool.FluteHelixAngleDeg, 0), Arc: arcOf(c),
	}
}

// Turn is the cut over one revolution of a mill whose edges are at its rim, sharp; nil for
// others and without loads.
func (e *Estimate) Turn(samples int) []force.Instant {
	switch e.Cut.Operation.Name {
	case "plunge-milling", "ball-milling", "chamfer-milling":
		return nil
	}
	if e.Cut.Operation.Family != cut.MillingFamily || !e.HasLoads {
		return nil
	}
	return force.MillingTurn(e.rimmed(), samples)
}

// arcChip is the chip of a tooth over an arc.
func arcChip(tooth kinematics.Tooth, arc kinematics.Arc, edges float64) Chip {
	return Chip{
		ThicknessMeanMM:    kinematics.MillingMeanThicknessMM(tooth, arc),
		ThicknessMaxMM:     kinematics.MillingMaxThicknessMM(tooth, arc),
		EngagementAngleDeg: arc.SweepDeg(),
		EdgesInCutCount:    kinematics.EdgesInCutCount(arc, edges),
	}
}

// milled lays out the loads of a milling cut, whose force acts at the diameter of the
// speed.
func (e *Estimate) milled(loads force.MillingLoads) {
	m, l := &e.Motion, &e.Sharp
	l.TorqueNm, l.TorquePeakNm = loads.TorqueNm, loads.TorquePeakNm
	l.PowerKW = force.PowerKW(force.Rotating{TorqueNm: l.TorqueNm, SpindleSpeedPerMin: m.SpindleSpeedPerMin})
	l.CuttingForceN = 2000 * l.TorqueNm / m.DiameterMM
	l.SpecificForceNPerMM2 = 60000 * l.PowerKW / l.RemovalCM3PerMin
	l.FeedForceN = unit.Some(loads.FeedForceN)
	e.HasLoads = true
	if e.Served != nil {
		e.cite(e.Served, "loads")
	}
}

// TorqueRatioAtEdgeAngle returns what mean and peak torque would be at another cutting edge
// angle, over what they are: (sin κ/sin κ')^mc, since the chip is as much wider as it is
// thinner. ok is false where the angle does more than that.
//
// Range: 0 < κ' < 180, a cut with a force law. Errors: none. Source: Kienzle's law with
// h = fz·sin κ and b = ap/sin κ; held against the whole computation in the tests.
func (e *Estimate) TorqueRatioAtEdgeAngle(edgeDeg float64) (ratio float64, ok bool) {
	c := e.Cut
	switch c.Operation.Name {
	case "plunge-milling", "ball-milling", "chamfer-milling":
		return 0, false
	}
	if c.Operation.Family != cut.MillingFamily || !e.HasLoads {
		return 0, false
	}
	sine := func(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
	return math.Pow(sine(*c.Tool.CuttingEdgeAngleDeg)/sine(edgeDeg), e.law.ThicknessExp), true
}
