package kinematics_test

import (
	"testing"

	"swarf/domain/kinematics"
	"swarf/testdata/reference"
)

// inputs reads the inputs of one output, metric, and fails the test where one is
// missing.
type inputs struct {
	t *testing.T
	c *reference.Check
	o *reference.Output
}

func (in inputs) has(name string) bool {
	_, own := in.o.Inputs[name]
	_, shared := in.c.Inputs[name]
	return own || shared
}

func (in inputs) in(name, unit string) float64 {
	in.t.Helper()
	v, err := in.c.Input(in.o, name, unit)
	if err != nil {
		in.t.Fatalf("%s, %s: %v", in.c.ID, in.o.Name, err)
	}
	return v
}

// or is an input, or what the convention takes where a source says nothing.
func (in inputs) or(name, unit string, otherwise float64) float64 {
	if in.has(name) {
		return in.in(name, unit)
	}
	return otherwise
}

func (in inputs) spindleSpeed() float64 {
	if in.has("spindle_speed") {
		return in.in("spindle_speed", "/min")
	}
	return kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: in.in("diameter", "mm"), SpeedMPerMin: in.in("cutting_speed", "m/min")})
}

func (in inputs) cuttingSpeed() float64 {
	if in.has("cutting_speed") {
		return in.in("cutting_speed", "m/min")
	}
	return kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: in.in("diameter", "mm"), SpindleSpeedPerMin: in.in("spindle_speed", "/min")})
}

func (in inputs) feedRate() float64 {
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

func (in inputs) turned() kinematics.Chip {
	return kinematics.TurningChip(kinematics.Turned{FeedPerRevolutionMM: in.in("feed_per_revolution", "mm"), DepthMM: in.in("depth_of_cut", "mm"), EdgeAngleDeg: in.in("cutting_edge_angle", "deg")})
}

func (in inputs) immersion() kinematics.Immersion {
	i := kinematics.Immersion{DiameterMM: in.in("diameter", "mm"), WidthMM: in.in("radial_width", "mm")}
	i.OffsetMM = in.or("offset", "mm", kinematics.AlignedOffsetMM(i))
	return i
}

func (in inputs) tooth() kinematics.Tooth {
	return kinematics.Tooth{FeedPerToothMM: in.in("feed_per_tooth", "mm"), EdgeAngleDeg: in.in("cutting_edge_angle", "deg")}
}

// pointLength is nought for a flat point.
func (in inputs) pointLength() float64 {
	return kinematics.PointLengthMM(kinematics.Point{DiameterMM: in.in("diameter", "mm"), PointAngleDeg: in.in("point_angle", "deg")})
}

func (in inputs) ball() kinematics.Ball {
	return kinematics.Ball{DiameterMM: in.in("diameter", "mm"), DepthMM: in.in("axial_depth", "mm"), TiltDeg: in.in("tilt_angle", "deg")}
}

func (in inputs) nose() kinematics.Nose {
	return kinematics.Nose{FeedPerRevolutionMM: in.in("feed_per_revolution", "mm"), CornerRadiusMM: in.in("corner_radius", "mm")}
}

// calculation gives a quantity of testdata/reference in a metric unit.
type calculation struct {
	unit string
	of   func(inputs) float64
}

var calculations = map[string]calculation{
	"spindle_speed": {"/min", inputs.spindleSpeed},
	"cutting_speed": {"m/min", inputs.cuttingSpeed},
	"feed_rate":     {"mm/min", inputs.feedRate},
	"feed_per_tooth": {"mm", func(in inputs) float64 {
		// the inverse: what the feed rate must have been made of
		vf, n, z := in.in("feed_rate", "mm/min"), in.spindleSpeed(), in.in("effective_edges", "1")
		fz := vf / n / z
		f := kinematics.FeedPerRevolutionMM(kinematics.Teeth{FeedPerToothMM: fz, EdgesCount: z})
		return fz * kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: f, SpindleSpeedPerMin: n}) / vf
	}},
	"minutes": {"min", func(in inputs) float64 {
		return kinematics.Minutes(kinematics.Path{LengthMM: in.in("length", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"chip_section":      {"mm2", func(in inputs) float64 { c := in.turned(); return c.ThicknessMM * c.WidthMM }},
	"turning_thickness": {"mm", func(in inputs) float64 { return in.turned().ThicknessMM }},
	"turning_width":     {"mm", func(in inputs) float64 { return in.turned().WidthMM }},
	"turning_removal_rate": {"cm3/min", func(in inputs) float64 {
		return kinematics.TurningRemovalCM3PerMin(kinematics.TurningRemoval{SpeedMPerMin: in.cuttingSpeed(), DepthMM: in.in("depth_of_cut", "mm"), FeedPerRevolutionMM: in.in("feed_per_revolution", "mm")})
	}},
	"milling_removal_rate": {"cm3/min", func(in inputs) float64 {
		return kinematics.MillingRemovalCM3PerMin(kinematics.MillingRemoval{AxialMM: in.in("axial_depth", "mm"), RadialMM: in.in("radial_width", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"engagement_angle": {"deg", func(in inputs) float64 { return kinematics.EngagementArc(in.immersion()).SweepDeg() }},
	"max_thickness": {"mm", func(in inputs) float64 {
		return kinematics.MillingMaxThicknessMM(in.tooth(), kinematics.EngagementArc(in.immersion()))
	}},
	"mean_thickness": {"mm", func(in inputs) float64 {
		return kinematics.MillingMeanThicknessMM(in.tooth(), kinematics.EngagementArc(in.immersion()))
	}},
	"edges_in_cut": {"1", func(in inputs) float64 {
		return kinematics.EdgesInCutCount(kinematics.EngagementArc(in.immersion()), in.in("effective_edges", "1"))
	}},
	"thin_chip_ratio": {"1", func(in inputs) float64 { return kinematics.ThinChipRatio(in.immersion()) }},
	"drilling_removal_rate": {"cm3/min", func(in inputs) float64 {
		return kinematics.DrillingRemovalCM3PerMin(kinematics.Bore{DiameterMM: in.in("diameter", "mm"), FeedRateMMPerMin: in.feedRate()})
	}},
	"point_length":     {"mm", inputs.pointLength},
	"programmed_depth": {"mm", func(in inputs) float64 { return -(in.in("depth", "mm") + in.pointLength()) }},
	"drilling_minutes": {"min", func(in inputs) float64 {
		return kinematics.Minutes(kinematics.Path{LengthMM: in.in("depth", "mm") + in.pointLength() + in.or("overtravel", "mm", 0), FeedRateMMPerMin: in.feedRate()})
	}},
	"profile_height": {"um", func(in inputs) float64 { return kinematics.ProfileHeightUM(in.nose()) }},
	"cusp_height": {"mm", func(in inputs) float64 {
		return kinematics.CuspHeightMM(kinematics.Pair{DiameterMM: in.in("diameter", "mm"), PitchMM: in.in("pitch", "mm")})
	}},
	"ball_diameter": {"mm", func(in inputs) float64 { return kinematics.BallDiameterMM(in.ball()) }},
	"ball_width":    {"mm", func(in inputs) float64 { return kinematics.BallWidthMM(in.ball()) }},
	"scallop_height": {"um", func(in inputs) float64 {
		return kinematics.ScallopHeightUM(kinematics.Ridge{DiameterMM: in.in("diameter", "mm"), StepMM: in.in("step_over", "mm")})
	}},
	"ramp_path": {"mm", func(in inputs) float64 {
		return kinematics.RampPathMM(kinematics.Ramp{DepthMM: in.in("axial_depth", "mm"), AngleDeg: in.in("ramp_angle", "deg")})
	}},
	"helix_angle": {"deg", func(in inputs) float64 {
		return kinematics.HelixAngleDeg(kinematics.Turns{PitchMM: in.in("pitch", "mm"), CentreDiameterMM: in.in("centre_diameter", "mm")})
	}},
	"ideal_ra": {"um", func(in inputs) float64 { return kinematics.IdealRaUM(in.nose()) }},
}

// recomputedDigits is what the seven digits of the recomputed values can differ by.
const recomputedDigits = 1e-6

func TestReference(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, "kinematics") {
		held++
		t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
			calculate, ok := calculations[o.Quantity]
			if !ok {
				t.Fatalf("no calculation of %s", o.Quantity)
			}
			got, err := reference.Convert(calculate.of(inputs{t, c, o}), calculate.unit, o.Unit)
			if err != nil {
				t.Fatal(err)
			}
			if err := c.Hold(o, got, recomputedDigits); err != nil {
				t.Errorf("%s (%s): %v", c.Title, c.Source, err)
			}
		})
	}
	if held < 50 {
		t.Errorf("only %d outputs were held against kinematics", held)
	}
}
