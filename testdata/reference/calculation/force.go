package calculation

import (
	"swarf/domain/force"
	"swarf/domain/kinematics"
)

// forces are the calculations of package force.
type forces struct{ *given }

// law is a pair, a specific force at the working chip, or a specific energy.
func (g forces) law() force.Law {
	switch {
	case g.has("specific_cutting_force_1_1"):
		return force.Law{SpecificForce11NPerMM2: g.in("specific_cutting_force_1_1", "N/mm2"), ThicknessExp: g.in("chip_thickness_exponent", "1")}
	case g.has("specific_cutting_force"):
		return force.EnergyLaw(g.in("specific_cutting_force", "J/mm3"))
	}
	return force.EnergyLaw(g.in("specific_cutting_energy", "J/mm3"))
}

func (g forces) spindleSpeed() float64 {
	if g.has("spindle_speed") {
		return g.in("spindle_speed", "/min")
	}
	return kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: g.in("diameter", "mm"), SpeedMPerMin: g.in("cutting_speed", "m/min")})
}

func (g forces) cuttingSpeed() float64 {
	if g.has("cutting_speed") {
		return g.in("cutting_speed", "m/min")
	}
	return kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: g.in("diameter", "mm"), SpindleSpeedPerMin: g.spindleSpeed()})
}

func (g forces) turningForce() float64 {
	chip := kinematics.TurningChip(kinematics.Turned{FeedPerRevolutionMM: g.in("feed_per_revolution", "mm"), DepthMM: g.in("depth_of_cut", "mm"), EdgeAngleDeg: g.in("cutting_edge_angle", "deg")})
	return force.TurningForceN(force.Turned{Law: g.law(), ThicknessMM: chip.ThicknessMM, WidthMM: chip.WidthMM})
}

func (g forces) turningPower() float64 {
	return force.CuttingPowerKW(force.Moving{ForceN: g.turningForce(), SpeedMPerMin: g.cuttingSpeed()})
}

func (g forces) powerOfForce() float64 {
	return force.CuttingPowerKW(force.Moving{ForceN: g.in("cutting_force", "N"), SpeedMPerMin: g.cuttingSpeed()})
}

// removalPower is the energy times the removal rate of a turned pass.
func (g forces) removalPower() float64 {
	return force.RemovalPowerKW(force.Removing{EnergyJPerMM3: g.in("specific_cutting_energy", "J/mm3"),
		RemovalCM3PerMin: kinematics.TurningRemovalCM3PerMin(kinematics.TurningRemoval{SpeedMPerMin: g.cuttingSpeed(),
			DepthMM: g.in("depth_of_cut", "mm"), FeedPerRevolutionMM: g.in("feed_per_revolution", "mm")})})
}

// millingTorque is the exact mean; with a constant energy the edge angle does not
// matter.
func (g forces) millingTorque() float64 {
	z := g.in("effective_edges", "1")
	fz := 0.0
	if g.has("feed_rate") {
		fz = g.in("feed_rate", "mm/min") / g.spindleSpeed() / z
	} else {
		fz = g.in("feed_per_tooth", "mm")
	}
	i := kinematics.Immersion{DiameterMM: g.in("diameter", "mm"), WidthMM: g.in("radial_width", "mm")}
	return force.Milling(force.Milled{Law: g.law(), FeedPerToothMM: fz, EdgeAngleDeg: 90, AxialMM: g.in("axial_depth", "mm"),
		DiameterMM: i.DiameterMM, EdgesCount: z, Arc: kinematics.EngagementArc(i)}).TorqueNm
}

func (g forces) drillingTorque() float64 {
	d := kinematics.Drilled{DiameterMM: g.in("diameter", "mm"), FeedPerRevolutionMM: g.in("feed_per_revolution", "mm"), EdgesCount: g.in("effective_edges", "1"), PointAngleDeg: g.in("point_angle", "deg")}
	return force.DrillingTorqueNm(force.Drilled{Law: g.law(), ThicknessMM: kinematics.DrillingChip(d).ThicknessMM, FeedPerRevolutionMM: d.FeedPerRevolutionMM, DiameterMM: d.DiameterMM})
}

func (g forces) rotating(torque float64) float64 {
	return force.PowerKW(force.Rotating{TorqueNm: torque, SpindleSpeedPerMin: g.spindleSpeed()})
}

// cuttingPower is the power of whatever the check gives the inputs of.
func (g forces) cuttingPower() float64 {
	switch {
	case g.has("point_angle"):
		return g.rotating(g.drillingTorque())
	case g.has("axial_depth"):
		return g.rotating(g.millingTorque())
	}
	return g.turningPower()
}

func (g forces) motor(cutting float64) float64 {
	return force.Drive{EfficiencyRatio: g.in("efficiency", "1")}.MotorPowerKW(cutting)
}

func (g forces) twistDrill() force.TwistDrill {
	return force.TwistDrill{WorkFactorRatio: g.in("work_factor", "1"), FeedPerRevolutionMM: g.in("feed_per_revolution", "mm"),
		DiameterMM: g.in("diameter", "mm"), ChiselRatio: g.in("chisel_ratio", "1"), WearRatio: g.in("wear_factor", "1")}
}

// The handbook's factors, taken out of the formulas: with everything else one, the
// torque is a power of feed or diameter, the thrust without its chisel part too.
func feedFactor(f float64) float64 {
	return force.TwistDrillTorqueNm(force.TwistDrill{WorkFactorRatio: 40000, FeedPerRevolutionMM: f, DiameterMM: 1, ChiselRatio: force.SplitChiselRatio, WearRatio: 1})
}

func torqueDiameterFactor(d float64) float64 {
	return force.TwistDrillTorqueNm(force.TwistDrill{WorkFactorRatio: 40000, FeedPerRevolutionMM: 1, DiameterMM: d, ChiselRatio: force.SplitChiselRatio, WearRatio: 1})
}

func thrustDiameterFactor(d float64) float64 { return lipThrust(d, force.SplitChiselRatio) / 1.1 }

// lipThrust is B·D^0.8: the thrust at a feed of 1 mm less that at none.
func lipThrust(d, chisel float64) float64 {
	t := force.TwistDrill{WorkFactorRatio: 20, FeedPerRevolutionMM: 1, DiameterMM: d, ChiselRatio: chisel, WearRatio: 1}
	idle := t
	idle.FeedPerRevolutionMM = 0
	return force.TwistDrillThrustN(t) - force.TwistDrillThrustN(idle)
}

var forceTable = table[forces]{
	"specific_force": {"N/mm2", func(g forces) float64 {
		factor := 1.0
		if g.has("factor") {
			factor = g.in("factor", "1")
		}
		return g.law().Scaled(factor).SpecificForceNPerMM2(g.in("chip_thickness", "mm"))
	}},
	"turning_force":                 {"N", forces.turningForce},
	"turning_power":                 {"kW", forces.turningPower},
	"power_of_force":                {"kW", forces.powerOfForce},
	"removal_power":                 {"kW", forces.removalPower},
	"motor_power":                   {"kW", func(g forces) float64 { return g.motor(g.cuttingPower()) }},
	"motor_power_of_force":          {"kW", func(g forces) float64 { return g.motor(g.powerOfForce()) }},
	"milling_torque":                {"N.m", forces.millingTorque},
	"milling_power":                 {"kW", func(g forces) float64 { return g.rotating(g.millingTorque()) }},
	"drilling_torque":               {"N.m", forces.drillingTorque},
	"drilling_power":                {"kW", func(g forces) float64 { return g.rotating(g.drillingTorque()) }},
	"twist_drill_torque":            {"N.m", func(g forces) float64 { return force.TwistDrillTorqueNm(g.twistDrill()) }},
	"twist_drill_thrust":            {"N", func(g forces) float64 { return force.TwistDrillThrustN(g.twistDrill()) }},
	"twist_drill_power":             {"kW", func(g forces) float64 { return g.rotating(force.TwistDrillTorqueNm(g.twistDrill())) }},
	"twist_drill_motor_power":       {"kW", func(g forces) float64 { return g.motor(g.rotating(force.TwistDrillTorqueNm(g.twistDrill()))) }},
	"feed_factor_inch":              {"1", func(g forces) float64 { return feedFactor(g.in("feed", "[in_i]")) }},
	"feed_factor_metric":            {"1", func(g forces) float64 { return feedFactor(g.in("feed", "mm")) }},
	"thrust_diameter_factor_inch":   {"1", func(g forces) float64 { return thrustDiameterFactor(g.in("diameter", "[in_i]")) }},
	"thrust_diameter_factor_metric": {"1", func(g forces) float64 { return thrustDiameterFactor(g.in("diameter", "mm")) }},
	"torque_diameter_factor_inch":   {"1", func(g forces) float64 { return torqueDiameterFactor(g.in("diameter", "[in_i]")) }},
	"torque_diameter_factor_metric": {"1", func(g forces) float64 { return torqueDiameterFactor(g.in("diameter", "mm")) }},
	"chisel_a": {"1", func(g forces) float64 {
		return force.TwistDrillTorqueNm(force.TwistDrill{WorkFactorRatio: 40000, FeedPerRevolutionMM: 1, DiameterMM: 1, ChiselRatio: g.in("chisel_ratio", "1"), WearRatio: 1})
	}},
	"chisel_b": {"1", func(g forces) float64 { return lipThrust(1, g.in("chisel_ratio", "1")) }},
	"chisel_j": {"1", func(g forces) float64 {
		return force.TwistDrillThrustN(force.TwistDrill{WorkFactorRatio: 1000 / 7.0, DiameterMM: 1, ChiselRatio: g.in("chisel_ratio", "1"), WearRatio: 1})
	}},
}
