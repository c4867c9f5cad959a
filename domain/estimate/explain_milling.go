package estimate

import (
	"math"

	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// explainMilling gives the steps of each way of milling.
func (e *Estimate) explainMilling(t *trail) {
	switch e.Cut.Operation.Name {
	case "plunge-milling":
		e.explainPlunge(t)
	case "ball-milling":
		e.explainBall(t)
	case "chamfer-milling":
		e.explainChamfer(t)
	default:
		e.explainRim(t)
	}
	if b := e.Moves.Bend; b != nil {
		t.add("bend_feed_rate", "vf·factor, (Dm − DC)/Dm inside, (Dm + DC)/Dm outside, or what keeps the torque where the cutter turns on the spot", put("factor", b.FactorRatio), b.FeedRateMMPerMin, unit.FeedRate, "geometry")
	}
}

func (e *Estimate) explainRim(t *trail) {
	c, l := e.Cut, &e.Sharp
	arc := arcOf(c)
	d, ap, ae, k := e.Motion.DiameterMM, DepthMM(c), WidthMM(c), *c.Tool.CuttingEdgeAngleDeg
	deg := func(rad float64) float64 { return rad * 180 / math.Pi }
	t.add("entry_angle", "φ1 = arccos(−2·u1/DC)", put("u1", -d/2*math.Cos(arc.EntryRad), "DC", d), deg(arc.EntryRad), unit.Angle, dinMotion)
	t.add("exit_angle", "φ2 = arccos(−2·u2/DC)", put("u2", -d/2*math.Cos(arc.ExitRad), "DC", d), deg(arc.ExitRad), unit.Angle, dinMotion)
	t.add("edges_in_cut", "z·φs/360°", put("z", *c.Tool.EffectiveEdgesCount, "φs", arc.SweepDeg()), e.Chip.EdgesInCutCount, unit.None, "geometry")
	t.add("thickness_max", "hmax = fz·sin κ·sin φ nearest 90°", put("fz", e.Motion.FeedPerToothMM, "κ", k), e.Chip.ThicknessMaxMM, unit.Length, dinMotion)
	t.add("thickness_mean", "hm = fz·sin κ·(cos φ1 − cos φ2)/φs", put("fz", e.Motion.FeedPerToothMM, "κ", k, "φs rad", arc.SweepRad()), e.Chip.ThicknessMeanMM, unit.Length, dinMotion)
	t.add("removal_rate", "Q = ap·ae·vf/1000", put("ap", ap, "ae", ae, "vf", e.Motion.FeedRateMMPerMin), l.RemovalCM3PerMin, unit.RemovalRate, dinMotion)
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, e.Chip.ThicknessMeanMM)
	a := 1 - e.law.ThicknessExp
	sinK := math.Sin(k * math.Pi / 180)
	full := e.law.SpecificForce11NPerMM2 * ap / sinK * math.Pow(e.Motion.FeedPerToothMM*sinK, a)
	integral := l.TorqueNm * 4000 * math.Pi / (*c.Tool.EffectiveEdgesCount * d * full)
	t.add("tooth_force_at_90", "F90 = kc1.1·ΠK·(ap/sin κ)·(fz·sin κ)^(1−mc)", put("ap", ap, "fz", e.Motion.FeedPerToothMM, "mc", e.law.ThicknessExp), full, unit.Force, e.lawSource())
	t.add("arc_integral", "∫ sin^(1−mc) φ dφ from φ1 to φ2", put("φ1 rad", arc.EntryRad, "φ2 rad", arc.ExitRad), integral, unit.None, "incomplete beta function")
	t.add("torque", "M = z·DC·F90·integral/(4000·π), the exact mean", put("z", *c.Tool.EffectiveEdgesCount, "DC", d, "F90", full, "integral", integral), l.TorqueNm, unit.Torque, dinForce)
	lag := kinematics.HelixLagRad(kinematics.Helix{AxialMM: ap, HelixAngleDeg: value(c.Tool.FluteHelixAngleDeg, 0), DiameterMM: d})
	t.add("torque_peak", "largest sum over the teeth in cut, each spread over ψ = 2·ap·tan λ/DC", put("ψ rad", lag), l.TorquePeakNm, unit.Torque, dinForce)
	e.explainMilled(t)
}

// explainMilled ends every way of milling: power and force from the torque.
func (e *Estimate) explainMilled(t *trail) {
	l := &e.Sharp
	t.add("cutting_power", "Pc = M·n/9549.3", put("M", l.TorqueNm, "n", e.Motion.SpindleSpeedPerMin), l.PowerKW, unit.Power, dinForce)
	t.add("cutting_force", "Fc = 2000·M/D", put("M", l.TorqueNm, "D", e.Motion.DiameterMM), l.CuttingForceN, unit.Force, "definition")
	t.add("specific_cutting_force_mean", "60,000·Pc/Q", put("Pc", l.PowerKW, "Q", l.RemovalCM3PerMin), l.SpecificForceNPerMM2, unit.SpecificForce, "definition")
}

func (e *Estimate) explainPlunge(t *trail) {
	band, l := PlungeOf(e.Cut), &e.Sharp
	area := force.PlungeAreaMM2(band)
	t.add("thickness_max", "h = fz: the end edges lie across the axis", put("fz", e.Motion.FeedPerToothMM), e.Chip.ThicknessMaxMM, unit.Length, "geometry")
	t.add("edges_in_cut", "z·φs/360°", put("z", band.EdgesCount, "φs", e.Chip.EngagementAngleDeg), e.Chip.EdgesInCutCount, unit.None, "geometry")
	t.add("removal_rate", "Q = A·vf/1000, A the cutter's face between two lines at u1 and u2 from its axis", put("A", area, "u1", band.FromMM, "u2", band.ToMM, "vf", e.Motion.FeedRateMMPerMin), l.RemovalCM3PerMin, unit.RemovalRate, "geometry")
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, e.Chip.ThicknessMaxMM)
	t.add("torque", "M = kc·fz·z·A/(2000·π), the exact mean", put("kc", e.law.SpecificForceNPerMM2(e.Chip.ThicknessMaxMM), "fz", e.Motion.FeedPerToothMM, "z", band.EdgesCount, "A", area), l.TorqueNm, unit.Torque, dinForce)
	t.add("torque_peak", "largest Σ kc·fz·(r2² − r1²)/2000 over the teeth in cut, each from r1 to r2", put("fz", e.Motion.FeedPerToothMM), l.TorquePeakNm, unit.Torque, dinForce)
	t.add("thrust", "Ff ≈ 0.5·kc·fz·length of edge in cut, rough to 40 %", put("fz", e.Motion.FeedPerToothMM), l.FeedForceN.V, unit.Force, "textbook practice (recalled)")
	e.explainMilled(t)
}

func (e *Estimate) explainBall(t *trail) {
	c, l, b := e.Cut, &e.Sharp, ballOf(e.Cut)
	step, z := *c.Engagement.StepOverMM, *c.Tool.EffectiveEdgesCount
	t.add("effective_diameter", "De = DC·sin(β + arccos(1 − 2·ap/DC)), DC once the sum passes 90°", put("DC", b.DiameterMM, "β", b.TiltDeg, "ap", b.DepthMM), e.Motion.DiameterMM, unit.Length, "geometry")
	t.add("tip_clear_from", "β = arccos(1 − 2·ap/DC)", put("ap", b.DepthMM, "DC", b.DiameterMM), kinematics.BallContactDeg(b), unit.Angle, "geometry")
	t.add("thickness_max", "hmax = fz·cos θ, θ between the feed and the ball's normal where the stock is nearest to its middle", put("fz", e.Motion.FeedPerToothMM), e.Chip.ThicknessMaxMM, unit.Length, "geometry")
	t.add("edges_in_cut", "z·arccos(1 − 2·step/De)/360°", put("z", z, "step", step, "De", e.Motion.DiameterMM), e.Chip.EdgesInCutCount, unit.None, "convention of this service")
	t.add("scallop_height", "R − √(R² − (step/2)²)", put("R", b.DiameterMM/2, "step", step), e.Finish.ScallopHeightUM.V, unit.Roughness, "geometry")
	t.add("removal_rate", "Q = ap·step·vf/1000", put("ap", b.DepthMM, "step", step, "vf", e.Motion.FeedRateMMPerMin), l.RemovalCM3PerMin, unit.RemovalRate, dinMotion)
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, e.Chip.ThicknessMeanMM)
	integral := 2000 * math.Pi * l.TorqueNm / (z * e.law.SpecificForce11NPerMM2 * math.Pow(e.Motion.FeedPerToothMM, 1-e.law.ThicknessExp))
	t.add("section_integral", "∫ cos θ^(−mc) dA over the section taken out, as large as ap·step", put("ap", b.DepthMM, "step", step, "mc", e.law.ThicknessExp), integral, unit.None, "quadrature")
	t.add("torque", "M = z·kc1.1·ΠK·fz^(1−mc)·integral/(2000·π), the exact mean", put("z", z, "fz", e.Motion.FeedPerToothMM, "integral", integral), l.TorqueNm, unit.Torque, dinForce)
	t.add("torque_peak", "M times peak over mean of a flat cutter of De, as wide as the step", put("M", l.TorqueNm), l.TorquePeakNm, unit.Torque, "convention of this service")
	e.explainMilled(t)
}

func (e *Estimate) explainChamfer(t *trail) {
	corner, l := chamferOf(e.Cut), &e.Sharp
	t.add("depth", "ap = width·tan κ", put("width", corner.WidthMM, "κ", corner.EdgeAngleDeg), corner.DepthMM(), unit.Length, "geometry")
	t.add("chip_width", "b = ap/sin κ", put("ap", corner.DepthMM(), "κ", corner.EdgeAngleDeg), e.Chip.WidthMM, unit.Length, dinMotion)
	t.add("thickness_max", "hmax = fz·sin κ·sin φs, φs at the face", put("fz", e.Motion.FeedPerToothMM, "κ", corner.EdgeAngleDeg, "φs", e.Chip.EngagementAngleDeg), e.Chip.ThicknessMaxMM, unit.Length, dinMotion)
	t.add("removal_rate", "Q = A·vf/1000, A the section of the corner", put("A", force.ChamferAreaMM2(corner), "vf", e.Motion.FeedRateMMPerMin), l.RemovalCM3PerMin, unit.RemovalRate, "geometry")
	if !e.HasLoads {
		return
	}
	e.explainLaw(t, e.Chip.ThicknessMeanMM)
	t.add("torque", "M = Σ over slices of z·d·kc1.1·ΠK·dz/sin κ·(fz·sin κ)^(1−mc)·∫ sin^(1−mc) φ dφ/(4000·π)", put("z", corner.EdgesCount, "fz", e.Motion.FeedPerToothMM, "κ", corner.EdgeAngleDeg, "mc", e.law.ThicknessExp), l.TorqueNm, unit.Torque, dinForce)
	t.add("torque_peak", "M times peak over mean of the slice at the face", put("M", l.TorqueNm), l.TorquePeakNm, unit.Torque, dinForce)
	e.explainMilled(t)
}
