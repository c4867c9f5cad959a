package estimate

import (
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// explainHolding gives what bends and what holds.
func (e *Estimate) explainHolding(t *trail) {
	side, _ := e.SideForceN()
	if d := e.Deflection.ToolMM; d.OK {
		s, _ := ShaftOf(e.Cut)
		t.add("side_force", "across the axis, at its largest: √(Ft² + Fn²) in milling, √(Fc² + Fp²) of a bar", put("F", side), side, unit.Force, "resultant")
		t.add("tool_deflection", "δ = F·(L1³/(3·E·I1) + (L³ − L1³)/(3·E·I2)), I = π·d⁴/64", put("F", side, "L", s.LengthMM, "L1", s.TipLengthMM, "d1", s.TipDiameterMM, "d2", s.RootDiameterMM, "E GPa", s.ModulusGPa), d.V, unit.Length, "beam theory")
	}
	if d := e.Deflection.WallMM; d.OK {
		w := e.Cut.Wall
		t.add("wall_deflection", "δ = 4·F·h³/(E·w·t³)", put("F", side, "h", *w.HeightMM, "w", *w.WidthMM, "t", *w.ThicknessMM), d.V, unit.Length, "beam theory")
	}
	if g := e.Grip; g != nil {
		h := Holding(e.Cut)
		t.add("grip_speed", "n at which least grip is left over: the cut's, or the highest on the way to the centre", put("n", e.Motion.SpindleSpeedPerMin), g.SpeedPerMin, unit.Rotation, "mechanics of rotation")
		t.add("grip_needed", "S·√((2000·M/Dg)² + Ff²)/μ, worn edge", put("S", h.SafetyRatio.Or(gripSafetyRatio), "M", g.TorqueNm, "Dg", h.GripDiameterMM.V, "Ff", g.AxialForceN, "μ", h.FrictionRatio.V), g.NeededN, unit.Force, "dry friction")
		t.add("centrifugal_loss", "z·m·r·(π·n/30)²", put("z", h.JawsCount.V, "m kg", h.JawMassKg.V, "r m", h.JawRadiusMM.V/1000, "n", g.SpeedPerMin), g.LossN, unit.Force, lossSource(h))
		t.add("grip_at_speed", "grip at rest − loss, not under nought", put("at rest", h.StaticGripN.V, "loss", g.LossN), g.AtSpeedN, unit.Force, "definition")
	}
}

func lossSource(h *machine.WorkHolding) string {
	if h.JawMassKg.OK {
		return "mechanics of rotation"
	}
	return "mechanics of rotation; the jaws are not known and their loss is left out"
}
