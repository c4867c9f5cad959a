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
		worn := e.Worn()
		t.add("grip_needed", "S·√((2000·M/Dg)² + Ff²)/μ, worn edge", put("S", h.SafetyRatio.Or(gripSafetyRatio), "M", worn.TorqueNm, "Dg", h.GripDiameterMM.V, "Ff", worn.FeedForceN.V, "μ", h.FrictionRatio.V), g.NeededN, unit.Force, "dry friction")
		t.add("grip_at_speed", "grip at rest − z·m·r·ω²", put("at rest", h.StaticGripN.V, "z·m·r·ω²", g.LossN), g.AtSpeedN, unit.Force, lossSource(h))
	}
}

func lossSource(h *machine.WorkHolding) string {
	if h.JawMassKg.OK {
		return "mechanics of rotation"
	}
	return "mechanics of rotation; the jaws are not known and their loss is left out"
}
