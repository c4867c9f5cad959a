package estimate

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// drilledOf is the hole as its edges see it: sharing the feed, or in a stepped boring
// head the width, each with the whole feed.
func drilledOf(c *cut.Cut, m *Motion) kinematics.Drilled {
	edges := *c.Tool.EffectiveEdgesCount
	if c.Tool.Stepped() {
		edges = 1
	}
	return kinematics.Drilled{
		DiameterMM: engagedDiameter(c), StartDiameterMM: value(c.Engagement.StartDiameterMM, 0),
		FeedPerRevolutionMM: m.FeedPerRevolutionMM, EdgesCount: edges, PointAngleDeg: pointAngle(c),
	}
}

// pointAngle is the angle of the edges about the axis: a boring head's is twice its
// cutting edge angle, square at most.
func pointAngle(c *cut.Cut) float64 {
	if c.Operation.Name == "boring-rotating" {
		return min(180, 2**c.Tool.CuttingEdgeAngleDeg)
	}
	return *c.Tool.PointAngleDeg
}

// engagedDiameter is the diameter that cuts: of a spot drill only as far as its
// point is in.
func engagedDiameter(c *cut.Cut) float64 {
	d := *c.Tool.CuttingDiameterMM
	if c.Operation.Name != "spot-drilling" || pointAngle(c) >= 180 {
		return d
	}
	return min(d, 2**c.Engagement.HoleDepthMM*math.Tan(pointAngle(c)*math.Pi/360))
}

// drill computes a hole on the tool's axis: by the handbook's torque and thrust
// method for high-speed-steel twist drills, by the law of the chip for all others.
func (e *Estimate) drill() {
	c, m := e.Cut, &e.Motion
	d := drilledOf(c, m)
	chip := kinematics.DrillingChip(d)
	e.Chip = Chip{ThicknessMeanMM: chip.ThicknessMM, ThicknessMaxMM: chip.ThicknessMM, WidthMM: chip.WidthMM, EdgesInCutCount: *c.Tool.EffectiveEdgesCount}
	if c.Tool.Stepped() {
		e.Chip.WidthMM /= *c.Tool.EffectiveEdgesCount
	}
	e.Sharp.RemovalCM3PerMin = kinematics.DrillingRemovalCM3PerMin(kinematics.Bore{DiameterMM: d.DiameterMM, StartDiameterMM: d.StartDiameterMM, FeedRateMMPerMin: m.FeedRateMMPerMin})
	drilled := func(l force.Law) force.Drilled {
		return force.Drilled{Law: l, ThicknessMM: chip.ThicknessMM, FeedPerRevolutionMM: m.FeedPerRevolutionMM, DiameterMM: d.DiameterMM, StartDiameterMM: d.StartDiameterMM}
	}
	torque := func(l force.Law) float64 { return force.DrillingTorqueNm(drilled(l)) }
	if e.byHandbook(d) {
		e.compare(torque)
		return
	}
	if !e.serve() {
		return
	}
	l := &e.Sharp
	l.SpecificForceNPerMM2 = e.law.SpecificForceNPerMM2(chip.ThicknessMM)
	l.CuttingForceN = force.DrillingForceN(drilled(e.law))
	l.FeedForceN = unit.Some(force.DrillingThrustN(force.Thrust{CuttingForceN: l.CuttingForceN, HalfPointSineRatio: math.Sin(d.PointAngleDeg * math.Pi / 360)}))
	e.rotate(torque(e.law))
	e.compare(torque)
	if e.Served != nil {
		e.cite(e.Served, "loads")
	}
	e.uses(domain.Used{ID: "common-practice", Basis: domain.CommonPractice, UsedFor: "thrust, rough to 40 %"})
}

// rotate fills torque and power of a tool whose torque does not pulse.
func (e *Estimate) rotate(torque float64) {
	l := &e.Sharp
	l.TorqueNm, l.TorquePeakNm = torque, torque
	l.PowerKW = force.PowerKW(force.Rotating{TorqueNm: torque, SpindleSpeedPerMin: e.Motion.SpindleSpeedPerMin})
	e.HasLoads = true
}

// byHandbook computes a high-speed-steel twist drill by the handbook method when
// there is a work material factor; an existing hole takes its own torque off.
func (e *Estimate) byHandbook(d kinematics.Drilled) bool {
	c := e.Cut
	if c.Tool.Class.ID != "drill-twist-hss" || c.Force.HasLaw() {
		return false
	}
	t := force.TwistDrill{FeedPerRevolutionMM: d.FeedPerRevolutionMM, DiameterMM: d.DiameterMM,
		ChiselRatio: value(c.Tool.ChiselRatio, force.StandardChiselRatio), WearRatio: 1}
	switch {
	case c.Force != nil && c.Force.DrillWorkFactor != nil:
		t.WorkFactorRatio, e.Basis = *c.Force.DrillWorkFactor, domain.Request
	case c.Material.DrillWork != nil:
		t.WorkFactorRatio, e.Basis = c.Material.DrillWork.DrillWorkFactor.V, c.Material.DrillWork.Basis
	default:
		return false
	}
	e.SpreadRatio = e.Basis.SpreadRatio()
	if c.Force != nil && c.Force.SpreadRatio != nil {
		e.SpreadRatio = *c.Force.SpreadRatio
	}
	torque, thrust := force.TwistDrillTorqueNm(t), force.TwistDrillThrustN(t)
	if d.StartDiameterMM > 0 { // the middle is not there: no chisel, no inner part
		inner := t
		inner.DiameterMM, inner.ChiselRatio, t.ChiselRatio = d.StartDiameterMM, force.SplitChiselRatio, force.SplitChiselRatio
		torque = force.TwistDrillTorqueNm(t) - force.TwistDrillTorqueNm(inner)
		thrust = force.TwistDrillThrustN(t) - force.TwistDrillThrustN(inner)
	}
	e.handbook, e.workFactor = true, t.WorkFactorRatio
	l := &e.Sharp
	l.FeedForceN = unit.Some(thrust)
	area := d.FeedPerRevolutionMM * (d.DiameterMM*d.DiameterMM - d.StartDiameterMM*d.StartDiameterMM)
	l.SpecificForceNPerMM2 = 8000 * torque / area
	l.CuttingForceN = l.SpecificForceNPerMM2 * d.FeedPerRevolutionMM * (d.DiameterMM - d.StartDiameterMM) / 2
	e.rotate(torque)
	e.uses(domain.Used{ID: "mh31-p1152", Basis: domain.Published, UsedFor: "torque and thrust method of twist drills", Place: "pp. 1152-1153"})
	if r := c.Material.DrillWork; r != nil && e.Basis != domain.Request {
		e.cite(r, "work material factor of the drilling method")
	}
	return true
}
