package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/unit"
)

func (e *Estimate) explainThread(t *trail) {
	b, l := bitesOf(e.Cut), &e.Sharp
	n := *e.Cut.Engagement.PassesCount
	t.add("passes", "after pass i of N: depth·√(i/N)", put("depth", *e.Cut.Engagement.ThreadDepthMM, "N", n), n, unit.None, "geometry of a V groove")
	t.add("groove_section", "A(t) = t·(P/8 + t·tan 30°); the largest difference between two passes", put("P", *e.Cut.Engagement.PitchMM), b.areaMM2, unit.None, "ISO 68-1 geometry, mm²")
	t.add("chip_width", "b = P/8 + 2·t/cos 30°, both flanks and the flat", put("P", *e.Cut.Engagement.PitchMM), b.contourMM, unit.Length, "ISO 68-1 geometry")
	t.add("chip_thickness", "h = A/b", put("A", b.areaMM2, "b", b.contourMM), b.thicknessMM, unit.Length, "geometry")
	t.add("removal_rate", "Q = vc·A", put("vc", e.Motion.CuttingSpeedMPerMin, "A", b.areaMM2), l.RemovalCM3PerMin, unit.RemovalRate, dinMotion)
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, b.thicknessMM)
	t.add("cutting_force", "Fc = kc·A", put("kc", l.SpecificForceNPerMM2, "A", b.areaMM2), l.CuttingForceN, unit.Force, dinForce)
	t.add("cutting_power", "Pc = Fc·vc/60,000", put("Fc", l.CuttingForceN, "vc", e.Motion.CuttingSpeedMPerMin), l.PowerKW, unit.Power, dinForce)
	t.add("torque", "M = Fc·D/2000", put("Fc", l.CuttingForceN, "D", e.Motion.DiameterMM), l.TorqueNm, unit.Torque, "definition")
}

func (e *Estimate) explainTap(t *trail) {
	c, l := e.Cut, &e.Sharp
	hole, h := cut.ThreadOf(c), tapChip(c)
	deep := (hole.NominalMM - hole.HoleMM) / 2
	first := e.Thread.Percent
	t.add("thread_percent", "100·(D − D0)/base, base "+first.Base, put("D", hole.NominalMM, "D0", hole.HoleMM, "P", hole.PitchMM), 100*first.PercentRatio, unit.None, "ISO 724; a forming tap's rule is recalled")
	t.add("groove_section", "A = t·(P/8 + t·tan 30°), t = (D − D0)/2", put("t", deep, "P", hole.PitchMM), hole.GrooveAreaMM2(), unit.None, "ISO 68-1 geometry, mm²")
	t.add("chip_thickness", "h = t/(flutes·threads of the lead)", put("t", deep, "flutes", *c.Tool.EffectiveEdgesCount, "lead", *c.Tool.ChamferThreadsCount), h, unit.Length, "geometry")
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, h)
	friction := force.TappingFrictionRatio
	if c.Operation.Name == "thread-forming" {
		friction *= force.FormingRatio
	}
	t.add("torque", "M = kc·A·(D + D0)/4,000·friction", put("kc", l.SpecificForceNPerMM2, "A", hole.GrooveAreaMM2(), "D", hole.NominalMM, "D0", hole.HoleMM, "friction", friction), l.TorqueNm, unit.Torque, dinForce+"; friction is common practice")
	t.add("cutting_power", "Pc = M·n/9549.3", put("M", l.TorqueNm, "n", e.Motion.SpindleSpeedPerMin), l.PowerKW, unit.Power, dinForce)
}
