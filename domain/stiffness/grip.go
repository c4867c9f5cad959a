package stiffness

import "math"

// Chuck is what holds a part from outside: the grip of all jaws at rest, the jaws and
// where their mass is, the diameter they grip on and the friction there.
type Chuck struct {
	StaticGripN, JawsCount, JawMassKg, JawRadiusMM float64
	GripDiameterMM, FrictionRatio                  float64
}

// LossN returns what rotation takes from the grip, z·m·r·ω².
//
// Range: jaws that grip from outside. Errors: none. Source: mechanics of rotation; 4 kg at
// 50 mm and 3,000/min pull with 19.7 kN.
func (c Chuck) LossN(speedPerMin float64) float64 {
	omega := speedPerMin * math.Pi / 30
	return c.JawsCount * c.JawMassKg * c.JawRadiusMM / 1000 * omega * omega
}

// Turned is what a cut asks of the grip: its torque about the axis and its push along it,
// and how many times over it shall hold.
type Turned struct{ TorqueNm, AxialForceN, SafetyRatio float64 }

// NeededN returns the grip that a cut needs, S·√((2000·M/Dg)² + Ff²)/μ.
//
// Range: μ > 0. Errors: none. Source: dry friction; the passive force is left out.
func (c Chuck) NeededN(t Turned) float64 {
	return t.SafetyRatio * math.Hypot(2000*t.TorqueNm/c.GripDiameterMM, t.AxialForceN) / c.FrictionRatio
}
