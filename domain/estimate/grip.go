package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/stiffness"
)

// Grip is what a chuck must hold and holds at speed, for the worn edge.
type Grip struct{ NeededN, LossN, AtSpeedN float64 }

// gripSafetyRatio is how many times over a chuck shall hold where nobody says. Common
// practice, no source.
const gripSafetyRatio = 2.0

// Holding is what holds the part: the cut's own, else the machine's; nil without either.
func Holding(c *cut.Cut) *machine.WorkHolding {
	if c.WorkHolding == nil && c.Machine != nil {
		return c.Machine.WorkHolding
	}
	return c.WorkHolding
}

// grip holds a turned part. What is not known is left to the findings on clamping.
func (e *Estimate) grip() {
	c := e.Cut
	h := Holding(c)
	if c.Operation.Family != cut.TurningFamily || h == nil || !e.HasLoads || !h.StaticGripN.OK || !h.FrictionRatio.OK || !h.GripDiameterMM.OK {
		return
	}
	chuck := stiffness.Chuck{StaticGripN: h.StaticGripN.V, JawsCount: h.JawsCount.V, JawMassKg: h.JawMassKg.V, JawRadiusMM: h.JawRadiusMM.V,
		GripDiameterMM: h.GripDiameterMM.V, FrictionRatio: h.FrictionRatio.V}
	g := &Grip{}
	if h.JawsCount.OK && h.JawMassKg.OK && h.JawRadiusMM.OK {
		g.LossN = chuck.LossN(e.Motion.SpindleSpeedPerMin)
	} else {
		e.unchecked("centrifugal_loss", "work_holding.jaws, jaw_mass and jaw_radius")
	}
	g.AtSpeedN = max(0, chuck.StaticGripN-g.LossN)
	worn := e.Worn()
	g.NeededN = chuck.NeededN(stiffness.Turned{TorqueNm: worn.TorqueNm, AxialForceN: worn.FeedForceN.V, SafetyRatio: h.SafetyRatio.Or(gripSafetyRatio)})
	e.Grip = g
}
