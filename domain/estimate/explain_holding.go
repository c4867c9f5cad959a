package estimate

import (
	"swarf/domain/kinematics"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// explainHolding gives what bends and what holds.
func (e *Estimate) explainHolding(t *trail) {
	e.explainColumn(t)
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
	if e.Cut.Worn {
		if d := e.Deflection.ToolMM; d.OK {
			t.add("tool_deflection_worn", "δ·W at the end of the edge's life", put("δ", d.V, "W", e.WearRatio), d.V*e.WearRatio, unit.Length, "wear factor, see sources")
		}
		if d := e.Deflection.WallMM; d.OK {
			t.add("wall_deflection_worn", "δ·W at the end of the edge's life", put("δ", d.V, "W", e.WearRatio), d.V*e.WearRatio, unit.Length, "wear factor, see sources")
		}
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

// explainShares gives feed and passive force of turning.
func (e *Estimate) explainShares(t *trail) {
	l, h, b := &e.Sharp, e.Chip.ThicknessMaxMM, e.Chip.WidthMM
	if r := e.Served; ownShares(r) {
		t.add("feed_force", "Ff = kf1.1·b·h^(1−mf)", put("kf1.1", r.FeedForce11NPerMM2.V, "b", b, "h", h, "mf", r.FeedForceExp.V), l.FeedForceN.V, unit.Force, e.lawSource())
		t.add("passive_force", "Fp = kp1.1·b·h^(1−mp)", put("kp1.1", r.PassiveForce11NPerMM2.V, "b", b, "h", h, "mp", r.PassiveForceExp.V), l.PassiveForceN.V, unit.Force, e.lawSource())
		return
	}
	const practice = "common practice; chord after L. V. Colwell (1954, recalled)"
	corner, ok := cornerOf(e.Cut, &e.Motion)
	if !ok {
		t.add("feed_force", "Ff ≈ 0.4·Fc, middle of 0.3 to 0.5", put("Fc", l.CuttingForceN), l.FeedForceN.V, unit.Force, "common practice")
		t.add("passive_force", "Fp ≈ 0.4·Fc, middle of 0.2 to 0.6", put("Fc", l.CuttingForceN), l.PassiveForceN.V, unit.Force, "common practice")
		return
	}
	chord := kinematics.ChordAngleDeg(corner)
	t.add("chord_angle", "angle of the chord between the ends of edge and corner in cut", put("ap", corner.DepthMM, "κ", corner.EdgeAngleDeg, "RE", corner.CornerRadiusMM, "f", corner.FeedPerRevolutionMM), chord, unit.Angle, "geometry")
	t.add("feed_force", "Ff ≈ (0.3 + 0.2·sin chord)·Fc", put("Fc", l.CuttingForceN, "chord", chord), l.FeedForceN.V, unit.Force, practice)
	t.add("passive_force", "Fp ≈ (0.2 + 0.4·cos chord)·Fc, cos not under nought", put("Fc", l.CuttingForceN, "chord", chord), l.PassiveForceN.V, unit.Force, practice)
}
