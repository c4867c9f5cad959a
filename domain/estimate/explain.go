package estimate

import (
	"strings"

	"swarf/domain/cut"
	"swarf/domain/unit"
)

// Step is one step of the derivation, in the metric units of the formulas, so that
// a person can redo it by hand.
type Step struct {
	Name, Formula, PutIn string
	Result               unit.Measure
	Source               string
}

// sources of steps that are geometry or definition.
const (
	dinMotion = "DIN 6580"
	dinForce  = "DIN 6584; ISO 3002-4"
)

// trail collects steps.
type trail struct{ steps []Step }

func (t *trail) add(name, formula, putIn string, result float64, q unit.Quantity, source string) {
	t.steps = append(t.steps, Step{name, formula, putIn, unit.Measure{Amount: result, Quantity: q}, source})
}

// put writes what was put in: name, value pairs.
func put(pairs ...any) string {
	var parts []string
	for i := 0; i+1 < len(pairs); i += 2 {
		parts = append(parts, pairs[i].(string)+" "+number(pairs[i+1].(float64)))
	}
	return strings.Join(parts, ", ")
}

// Explain gives the derivation of the sharp edge's numbers, in order.
func (e *Estimate) Explain() []Step {
	t := &trail{}
	m := &e.Motion
	t.add("spindle_speed", "n = 1000·vc/(π·D)", put("vc", m.CuttingSpeedMPerMin, "D", m.DiameterMM), m.SpindleSpeedPerMin, unit.Rotation, dinMotion)
	if e.Cut.Operation.FeedIsPitch {
		t.add("feed_per_revolution", "f = P", put("P", *e.Cut.Engagement.PitchMM), m.FeedPerRevolutionMM, unit.Length, "a thread's definition")
	} else {
		t.add("feed_per_revolution", "f = z·fz", put("z", *e.Cut.Tool.EffectiveEdgesCount, "fz", m.FeedPerToothMM), m.FeedPerRevolutionMM, unit.Length, dinMotion)
	}
	t.add("feed_rate", "vf = n·f", put("n", m.SpindleSpeedPerMin, "f", m.FeedPerRevolutionMM), m.FeedRateMMPerMin, unit.FeedRate, dinMotion)
	switch e.Cut.Operation.Family {
	case cut.TurningFamily:
		if e.Cut.Operation.FeedIsPitch {
			e.explainThread(t)
		} else {
			e.explainTurning(t)
		}
	case cut.ThreadFamily:
		e.explainTap(t)
	case cut.MillingFamily:
		e.explainMilling(t)
	default:
		e.explainDrilling(t)
	}
	if e.HasLoads {
		t.add("worn_torque", "M·W at the end of the edge's life", put("M", e.Sharp.TorqueNm, "W", e.WearRatio), e.Sharp.TorqueNm*e.WearRatio, unit.Torque, "wear factor, see sources")
	}
	e.explainHolding(t)
	e.explainLife(t)
	if l := e.Machine; l != nil && l.MotorPowerKW.OK {
		s := &l.Machine.Spindle
		t.add("motor_power", "Pm = Pc/η + idle power", put("Pc", e.Sharp.PowerKW, "η", s.EfficiencyRatio, "idle", s.IdlePowerKW), l.MotorPowerKW.V, unit.Power, "definition")
	}
	return t.steps
}

// lawSource names what stands behind the law.
func (e *Estimate) lawSource() string {
	if e.Served == nil {
		return "request"
	}
	return e.Served.Source + " (" + string(e.Served.Basis) + ")"
}

// explainLaw shows kc from the law and its factors, at one chip.
func (e *Estimate) explainLaw(t *trail, h float64) {
	own := e.law.SpecificForce11NPerMM2
	for _, k := range e.factors.list[:e.factors.count] {
		own /= k.ratio
		t.add("factor_"+k.name, "K, "+k.why, "", k.ratio, unit.None, "common practice")
	}
	t.add("specific_cutting_force", "kc = kc1.1·h^(−mc)·ΠK", put("kc1.1", own, "h", h, "mc", e.law.ThicknessExp, "ΠK", e.law.SpecificForce11NPerMM2/own),
		e.law.SpecificForceNPerMM2(h), unit.SpecificForce, e.lawSource())
}

func (e *Estimate) explainTurning(t *trail) {
	c, l := e.Cut, &e.Sharp
	k, ap := *c.Tool.CuttingEdgeAngleDeg, edgeDepth(c)
	t.add("chip_thickness", "h = f·sin κ", put("f", e.Motion.FeedPerToothMM, "κ", k), e.Chip.ThicknessMaxMM, unit.Length, dinMotion)
	t.add("chip_width", "b = ap/sin κ", put("ap", ap, "κ", k), e.Chip.WidthMM, unit.Length, dinMotion)
	t.add("removal_rate", "Q = vc·ap·f", put("vc", e.Motion.CuttingSpeedMPerMin, "ap", ap, "f", e.Motion.FeedPerRevolutionMM), l.RemovalCM3PerMin, unit.RemovalRate, dinMotion)
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, e.Chip.ThicknessMaxMM)
	t.add("cutting_force", "Fc = kc·b·h", put("kc", l.SpecificForceNPerMM2, "b", e.Chip.WidthMM, "h", e.Chip.ThicknessMaxMM), l.CuttingForceN, unit.Force, dinForce)
	e.explainShares(t)
	t.add("cutting_power", "Pc = Fc·vc/60,000", put("Fc", l.CuttingForceN, "vc", e.Motion.CuttingSpeedMPerMin), l.PowerKW, unit.Power, dinForce)
	t.add("torque", "M = Fc·D/2000", put("Fc", l.CuttingForceN, "D", e.Motion.DiameterMM), l.TorqueNm, unit.Torque, "definition")
}

func (e *Estimate) explainDrilling(t *trail) {
	c, l := e.Cut, &e.Sharp
	d, start := *c.Tool.CuttingDiameterMM, value(c.Engagement.StartDiameterMM, 0)
	hole := drilledOf(c, &e.Motion)
	if c.Tool.Stepped() {
		t.add("chip_thickness", "h = f·sin κ, the edges share the width", put("f", e.Motion.FeedPerRevolutionMM, "κ", hole.PointAngleDeg/2), e.Chip.ThicknessMaxMM, unit.Length, dinMotion)
		t.add("chip_width", "b = (D − d)/(2·z·sin κ)", put("D", d, "d", start, "z", *c.Tool.EffectiveEdgesCount, "κ", hole.PointAngleDeg/2), e.Chip.WidthMM, unit.Length, dinMotion)
	} else {
		t.add("chip_thickness", "h = (f/z)·sin(σ/2)", put("f", e.Motion.FeedPerRevolutionMM, "z", hole.EdgesCount, "σ", hole.PointAngleDeg), e.Chip.ThicknessMaxMM, unit.Length, dinMotion)
		t.add("chip_width", "b = (D − d)/(2·sin(σ/2))", put("D", d, "d", start, "σ", hole.PointAngleDeg), e.Chip.WidthMM, unit.Length, dinMotion)
	}
	t.add("removal_rate", "Q = π/4·(D² − d²)·vf/1000", put("D", d, "d", start, "vf", e.Motion.FeedRateMMPerMin), l.RemovalCM3PerMin, unit.RemovalRate, "geometry")
	if !e.HasLoads {
		return
	}
	if e.handbook {
		t.add("torque", "M = Kd·f^0.8·D^1.8·A·W/40,000 (an existing hole takes its own share off)", put("Kd", e.workFactor, "f", e.Motion.FeedPerRevolutionMM, "D", d, "d", start), l.TorqueNm, unit.Torque, "Machinery's Handbook 31, pp. 1152-1153")
		t.add("thrust", "T = 0.05·Kd·f^0.8·D^0.8·B·W + 0.007·Kd·D²·J·W", put("Kd", e.workFactor, "f", e.Motion.FeedPerRevolutionMM, "D", d), l.FeedForceN.V, unit.Force, "Machinery's Handbook 31, pp. 1152-1153")
	} else {
		e.explainLaw(t, e.Chip.ThicknessMaxMM)
		t.add("torque", "M = kc·f·(D² − d²)/8000", put("kc", l.SpecificForceNPerMM2, "f", e.Motion.FeedPerRevolutionMM, "D", d, "d", start), l.TorqueNm, unit.Torque, dinForce)
		t.add("thrust", "Ff ≈ 0.5·kc·f·(D − d)/2·sin(σ/2), rough to 40 %", put("kc", l.SpecificForceNPerMM2), l.FeedForceN.V, unit.Force, "textbook practice (recalled)")
	}
	t.add("cutting_power", "Pc = M·n/9549.3", put("M", l.TorqueNm, "n", e.Motion.SpindleSpeedPerMin), l.PowerKW, unit.Power, dinForce)
}
