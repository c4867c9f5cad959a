package estimate

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/stiffness"
	"swarf/domain/unit"
)

// Grip is what a chuck must hold with the worn edge and what it holds, at the speed where
// least is left over.
type Grip struct {
	NeededN, LossN, AtSpeedN float64
	SpeedPerMin              float64
	TorqueNm, AxialForceN    float64 // what it must hold, worn edge
}

// gripSafetyRatio is how many times over a chuck shall hold where nobody says. Common
// practice, no source.
const gripSafetyRatio = 2.0

// Holding is what holds the part: the cut's own, completed from the machine's unless the
// cut names another kind; nil without either.
func Holding(c *cut.Cut) *machine.WorkHolding {
	own := c.WorkHolding
	if c.Machine == nil || c.Machine.WorkHolding == nil {
		return own
	}
	under := c.Machine.WorkHolding
	if own == nil {
		return under
	}
	if own.Kind != "" && own.Kind != under.Kind {
		return own
	}
	both := own.Over(under)
	return &both
}

// workTurns reports cuts whose work turns in a chuck: turning, and holes on the axis of a
// turning machine or where the request says so.
func workTurns(c *cut.Cut) bool {
	switch c.Operation.Family {
	case cut.TurningFamily:
		return true
	case cut.MillingFamily:
		return false
	}
	turning := c.Machine != nil && c.Machine.Process == machine.Turning
	return c.Engagement.Rotating == "work" || turning && c.Engagement.Rotating == ""
}

// grip holds a turning part. What is not known is left to the findings on clamping.
func (e *Estimate) grip() {
	c := e.Cut
	h := Holding(c)
	if !workTurns(c) || h == nil || !e.HasLoads || !h.StaticGripN.OK {
		return
	}
	if !h.FrictionRatio.OK || !h.GripDiameterMM.OK {
		e.unchecked("grip", "work_holding.friction and work_holding.grip_diameter")
		return
	}
	if !h.SafetyRatio.OK {
		e.assume("work_holding.safety", unit.None, gripSafetyRatio, "usual where nobody says")
	}
	worn := e.Worn()
	here := Grip{SpeedPerMin: e.Motion.SpindleSpeedPerMin, TorqueNm: worn.TorqueNm}
	if c.Operation.Family == cut.TurningFamily {
		here.AxialForceN = worn.FeedForceN.V
	}
	if !h.JawsCount.OK || !h.JawMassKg.OK || !h.JawRadiusMM.OK {
		e.unchecked("centrifugal_loss", "work_holding.jaws, jaw_mass and jaw_radius")
	}
	here.hold(h)
	e.Grip = &here
	fastest, known := e.fastest(h)
	if !known {
		e.unchecked("grip_near_centre", "the highest speed of chuck or machine: the speed rises towards the centre")
		return
	}
	// the force stays while the diameter falls, so the torque falls with the speed's rise
	inner := here
	inner.SpeedPerMin, inner.TorqueNm = fastest, here.TorqueNm*here.SpeedPerMin/fastest
	inner.hold(h)
	if fastest > here.SpeedPerMin && inner.left(h) < here.left(h) {
		e.Grip = &inner
	}
}

// hold computes what is needed and what is held.
func (g *Grip) hold(h *machine.WorkHolding) {
	chuck := stiffness.Chuck{StaticGripN: h.StaticGripN.V, JawsCount: h.JawsCount.V, JawMassKg: h.JawMassKg.V, JawRadiusMM: h.JawRadiusMM.V,
		GripDiameterMM: h.GripDiameterMM.V, FrictionRatio: h.FrictionRatio.V}
	g.LossN = chuck.LossN(g.SpeedPerMin)
	g.AtSpeedN = max(0, chuck.StaticGripN-g.LossN)
	g.NeededN = chuck.NeededN(stiffness.Turned{TorqueNm: g.TorqueNm, AxialForceN: g.AxialForceN, SafetyRatio: h.SafetyRatio.Or(gripSafetyRatio)})
}

// left is the grip over what is needed, under nought where the jaws have let go. It is
// concave in the speed, so that the least of it is at one end of a range of speeds.
func (g *Grip) left(h *machine.WorkHolding) float64 { return h.StaticGripN.V - g.LossN - g.NeededN }

// fastest is the highest speed of a cut towards the centre at constant cutting speed:
// that of its smallest diameter, or of chuck and machine before. Elsewhere, and at a speed
// given in turns, it is the cut's own. known is false where nothing bounds it.
func (e *Estimate) fastest(h *machine.WorkHolding) (n float64, known bool) {
	c := e.Cut
	n = e.Motion.SpindleSpeedPerMin
	depth := -1.0
	switch en := &c.Engagement; {
	case c.Parameters.SpindleSpeedPerMin != nil || en.Direction == "axial":
	case en.DepthMM != nil && c.Operation.Family == cut.TurningFamily:
		depth = *en.DepthMM
	case c.Operation.Name == "facing":
		depth = value(en.LengthMM, *en.WorkDiameterMM/2)
	}
	if depth < 0 {
		return n, true
	}
	top := math.Inf(1)
	if h.MaxSpeedPerMin.OK {
		top = h.MaxSpeedPerMin.V
	}
	if m := c.Machine; m != nil {
		top = min(top, m.Spindle.MaxSpeedPerMin)
	}
	if smallest := *c.Engagement.WorkDiameterMM - 2*depth; smallest > 0 {
		top = min(top, n**c.Engagement.WorkDiameterMM/smallest)
	}
	return max(n, top), !math.IsInf(top, 1)
}

// assume lists a number that this package took for granted.
func (e *Estimate) assume(field string, q unit.Quantity, amount float64, why string) {
	e.Assumed = append(e.Assumed, domain.Assumption{Field: field, Number: unit.Of(q, amount), Why: why})
}
