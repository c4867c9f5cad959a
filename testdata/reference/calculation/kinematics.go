package calculation

import "swarf/domain/kinematics"

// motions are the calculations of package kinematics.
type motions struct{ *given }

func (in motions) spindleSpeed() float64 {
	if in.has("spindle_speed") {
		return in.in("spindle_speed", "/min")
	}
	return kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: in.in("diameter", "mm"), SpeedMPerMin: in.in("cutting_speed", "m/min")})
}

func (in motions) cuttingSpeed() float64 {
	if in.has("cutting_speed") {
		return in.in("cutting_speed", "m/min")
	}
	return kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: in.in("diameter", "mm"), SpindleSpeedPerMin: in.in("spindle_speed", "/min")})
}

func (in motions) feedRate() float64 {
	if in.has("feed_rate") {
		return in.in("feed_rate", "mm/min")
	}
	f := 0.0
	if in.has("feed_per_tooth") {
		f = kinematics.FeedPerRevolutionMM(kinematics.Teeth{FeedPerToothMM: in.in("feed_per_tooth", "mm"), EdgesCount: in.in("effective_edges", "1")})
	} else {
		f = in.in("feed_per_revolution", "mm")
	}
	return kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: f, SpindleSpeedPerMin: in.spindleSpeed()})
}

func (in motions) turned() kinematics.Chip {
	return kinematics.TurningChip(kinematics.Turned{FeedPerRevolutionMM: in.in("feed_per_revolution", "mm"), DepthMM: in.in("depth_of_cut", "mm"), EdgeAngleDeg: in.in("cutting_edge_angle", "deg")})
}

func (in motions) immersion() kinematics.Immersion {
	i := kinematics.Immersion{DiameterMM: in.in("diameter", "mm"), WidthMM: in.in("radial_width", "mm")}
	i.OffsetMM = in.or("offset", "mm", kinematics.AlignedOffsetMM(i))
	return i
}

func (in motions) tooth() kinematics.Tooth {
	return kinematics.Tooth{FeedPerToothMM: in.in("feed_per_tooth", "mm"), EdgeAngleDeg: in.in("cutting_edge_angle", "deg")}
}

// pointLength is nought for a flat point.
func (in motions) pointLength() float64 {
	return kinematics.PointLengthMM(kinematics.Point{DiameterMM: in.in("diameter", "mm"), PointAngleDeg: in.in("point_angle", "deg")})
}

func (in motions) ball() kinematics.Ball {
	return kinematics.Ball{DiameterMM: in.in("diameter", "mm"), DepthMM: in.in("axial_depth", "mm"), TiltDeg: in.in("tilt_angle", "deg")}
}

func (in motions) nose() kinematics.Nose {
	return kinematics.Nose{FeedPerRevolutionMM: in.in("feed_per_revolution", "mm"), CornerRadiusMM: in.in("corner_radius", "mm")}
}

var motionTable = table[motions]{
	"spindle_speed": {"/min", motions.spindleSpeed},
	"cutting_speed": {"m/min", motions.cuttingSpeed},
	"feed_rate":     {"mm/min", motions.feedRate},
	"feed_per_tooth": {"mm", func(in motions) float64 {
		// the inverse: what the feed rate must have been made of
		vf, n, z := in.in("feed_rate", "mm/min"), in.spindleSpeed(), in.in("effective_edges", "1")
		fz := vf / n / z
		f := kinematics.FeedPerRevolutionMM(kinematics.Teeth{FeedPerToothMM: fz, EdgesCount: z})
		return fz * kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: f, SpindleSpeedPerMin: n}) / vf
	}},
	"minutes": {"min", func(in motions) float64 {
		return kinematics.Minutes(kinematics.Path{LengthMM: in.in("length", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"speed_for_minutes": {"m/min", func(in motions) float64 {
		n := in.in("length", "mm") / in.in("time", "min") / in.in("feed_per_revolution", "mm")
		return kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: in.in("diameter", "mm"), SpindleSpeedPerMin: n})
	}},
	"chip_section":      {"mm2", func(in motions) float64 { c := in.turned(); return c.ThicknessMM * c.WidthMM }},
	"turning_thickness": {"mm", func(in motions) float64 { return in.turned().ThicknessMM }},
	"turning_width":     {"mm", func(in motions) float64 { return in.turned().WidthMM }},
	"turning_removal_rate": {"cm3/min", func(in motions) float64 {
		return kinematics.TurningRemovalCM3PerMin(kinematics.TurningRemoval{SpeedMPerMin: in.cuttingSpeed(), DepthMM: in.in("depth_of_cut", "mm"), FeedPerRevolutionMM: in.in("feed_per_revolution", "mm")})
	}},
	"milling_removal_rate": {"cm3/min", func(in motions) float64 {
		return kinematics.MillingRemovalCM3PerMin(kinematics.MillingRemoval{AxialMM: in.in("axial_depth", "mm"), RadialMM: in.in("radial_width", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"engagement_angle": {"deg", func(in motions) float64 { return kinematics.EngagementArc(in.immersion()).SweepDeg() }},
	"max_thickness": {"mm", func(in motions) float64 {
		return kinematics.MillingMaxThicknessMM(in.tooth(), kinematics.EngagementArc(in.immersion()))
	}},
	"mean_thickness": {"mm", func(in motions) float64 {
		return kinematics.MillingMeanThicknessMM(in.tooth(), kinematics.EngagementArc(in.immersion()))
	}},
	"edges_in_cut": {"1", func(in motions) float64 {
		return kinematics.EdgesInCutCount(kinematics.EngagementArc(in.immersion()), in.in("effective_edges", "1"))
	}},
	"thin_chip_ratio": {"1", func(in motions) float64 { return kinematics.ThinChipRatio(in.immersion()) }},
	"drilling_removal_rate": {"cm3/min", func(in motions) float64 {
		return kinematics.DrillingRemovalCM3PerMin(kinematics.Bore{DiameterMM: in.in("diameter", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"point_length":     {"mm", motions.pointLength},
	"programmed_depth": {"mm", func(in motions) float64 { return -(in.in("depth", "mm") + in.pointLength()) }},
	"drilling_minutes": {"min", func(in motions) float64 {
		return kinematics.Minutes(kinematics.Path{LengthMM: in.in("depth", "mm") + in.pointLength() + in.or("overtravel", "mm", 0), FeedRateMMPerMin: in.feedRate()})
	}},
	"profile_height": {"um", func(in motions) float64 { return kinematics.ProfileHeightUM(in.nose()) }},
	"cusp_height": {"mm", func(in motions) float64 {
		return kinematics.CuspHeightMM(kinematics.Pair{DiameterMM: in.in("diameter", "mm"), PitchMM: in.in("pitch", "mm")})
	}},
	"ball_diameter": {"mm", func(in motions) float64 { return kinematics.BallDiameterMM(in.ball()) }},
	"ball_width":    {"mm", func(in motions) float64 { return kinematics.BallWidthMM(in.ball()) }},
	"scallop_height": {"um", func(in motions) float64 {
		return kinematics.ScallopHeightUM(kinematics.Ridge{DiameterMM: in.in("diameter", "mm"), StepMM: in.in("step_over", "mm")})
	}},
	"ramp_path": {"mm", func(in motions) float64 {
		return kinematics.RampPathMM(kinematics.Ramp{DepthMM: in.in("axial_depth", "mm"), AngleDeg: in.in("ramp_angle", "deg")})
	}},
	"helix_angle": {"deg", func(in motions) float64 {
		return kinematics.HelixAngleDeg(kinematics.Turns{PitchMM: in.in("pitch", "mm"), CentreDiameterMM: in.in("centre_diameter", "mm")})
	}},
	"ideal_ra": {"um", func(in motions) float64 { return kinematics.IdealRaUM(in.nose()) }},
}
