package cut_test

import (
	"slices"
	"testing"

	"swarf/domain/cut"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

func n(v float64) *float64 { return &v }

func class(operation string) *tool.Class {
	length := func(name string) tool.Property {
		return tool.Property{Name: name, Quantity: unit.Length, Low: unit.Some(0.1), High: unit.Some(500)}
	}
	return &tool.Class{ID: "c", Operations: []string{operation}, Properties: []tool.Property{length("cutting_diameter"),
		{Name: "effective_edges", Default: unit.Some(2)}, {Name: "cutting_edge_angle", Default: unit.Some(90)},
		{Name: "point_angle", Default: unit.Some(140)}, {Name: "flute_helix_angle", Default: unit.Some(30)}}}
}

func sound(operation string) *cut.Cut {
	o, _ := cut.Find(operation)
	yes := true
	c := &cut.Cut{Operation: o, Confidence: 0.9, Tool: tool.Tool{Class: class(operation), CuttingDiameterMM: n(12)},
		Parameters: cut.Parameters{SpindleSpeedPerMin: n(1000), FeedRateMMPerMin: n(100)}}
	switch o.Family {
	case cut.TurningFamily:
		c.Engagement = cut.Engagement{WorkDiameterMM: n(50), DepthOfCutMM: n(2)}
		if operation == "grooving" || operation == "parting" {
			c.Engagement = cut.Engagement{WorkDiameterMM: n(50), WidthMM: n(3), DepthMM: n(5)}
		}
		if operation == "thread-turning" {
			c.Engagement = cut.Engagement{WorkDiameterMM: n(50), PitchMM: n(3), ThreadDepthMM: n(1.84), PassesCount: n(12)}
		}
	case cut.ThreadFamily:
		no := false
		c.Engagement = cut.Engagement{NominalDiameterMM: n(12), PitchMM: n(1.75), HoleDiameterMM: n(10.2), ThreadDepthMM: n(20), HoleDepthMM: n(25), Through: &no}
	case cut.MillingFamily:
		c.Engagement = cut.Engagement{AxialDepthMM: n(5), RadialWidthMM: n(6)}
		switch operation {
		case "trochoidal-milling":
			c.Engagement.SlotWidthMM = n(20)
		case "ball-milling":
			c.Engagement = cut.Engagement{AxialDepthMM: n(0.5), StepOverMM: n(0.6), TiltAngleDeg: n(15)}
		case "chamfer-milling":
			c.Engagement, c.Tool.CuttingEdgeAngleDeg = cut.Engagement{ChamferWidthMM: n(1), ChamferAngleDeg: n(45)}, n(45)
		case "circular-milling", "thread-milling":
			c.Engagement = cut.Engagement{StartDiameterMM: n(30), EndDiameterMM: n(33), Internal: &yes, PitchMM: n(2)}
		}
	default:
		c.Engagement = cut.Engagement{HoleDepthMM: n(30), Through: &yes}
		if operation == "chain-drilling" {
			c.Engagement = cut.Engagement{SlotWidthMM: n(14), SlotLengthMM: n(60), SlotDepthMM: n(20), PitchMM: n(13), WallAllowanceMM: n(1), FloorAllowanceMM: n(0.3)}
		}
		if operation == "reaming" || operation == "boring-rotating" {
			c.Engagement.StartDiameterMM = n(11)
		}
	}
	return c
}

func faultsOf(c *cut.Cut, purpose cut.Purpose) (list []string) {
	for _, e := range cut.Check(c, purpose) {
		list = append(list, e.Code+" "+e.Field)
	}
	return list
}

func TestSoundCutsHaveNoFaults(t *testing.T) {
	for _, name := range cut.Names() {
		if got := faultsOf(sound(name), cut.ToEstimate); len(got) > 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestFaultsOfACut(t *testing.T) {
	for _, x := range []struct {
		operation string
		change    func(*cut.Cut)
		want      []string
	}{
		{"turning", func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(25.1) }, []string{"engagement-impossible engagement.depth_of_cut"}},
		{"chain-drilling", func(c *cut.Cut) { c.Engagement.SlotWidthMM = n(13.9) }, []string{"engagement-impossible engagement.slot_width"}},
		{"chain-drilling", func(c *cut.Cut) { c.Engagement.FloorAllowanceMM = n(20) }, []string{"engagement-impossible engagement.floor_allowance"}},
		{"trochoidal-milling", func(c *cut.Cut) { c.Engagement.SlotWidthMM = n(12) }, []string{"engagement-impossible engagement.slot_width"}},
		{"trochoidal-milling", func(c *cut.Cut) { c.Engagement.EngagementAngleDeg = n(50) }, []string{"fields-conflict engagement"}},
		{"trochoidal-milling", func(c *cut.Cut) { c.Engagement.RadialWidthMM = nil }, []string{"alternative-missing engagement"}},
		{"thread-turning", func(c *cut.Cut) { c.Engagement.ThreadDepthMM = n(3.1) }, []string{"engagement-impossible engagement.thread_depth"}},
		{"thread-turning", func(c *cut.Cut) { c.Engagement.PassesCount = n(3.5) }, []string{"value-out-of-range engagement.passes"}},
		{"tapping", func(c *cut.Cut) { c.Engagement.HoleDiameterMM = n(12) }, []string{"engagement-impossible engagement.hole_diameter"}},
		{"tapping", func(c *cut.Cut) { c.Engagement.HoleDiameterMM = n(9.7) }, []string{"engagement-impossible engagement.hole_diameter"}}, // 12 − 1.3·1.75 = 9.725
		{"tapping", func(c *cut.Cut) { c.Engagement.PitchMM = n(7) }, []string{"engagement-impossible engagement.pitch"}},
		{"tapping", func(c *cut.Cut) { c.Engagement.ThreadDepthMM = n(25.1) }, []string{"engagement-impossible engagement.thread_depth"}},
		{"thread-forming", func(c *cut.Cut) { c.Engagement.NominalDiameterMM = n(11) }, []string{"engagement-impossible tool.cutting_diameter"}},
		{"thread-forming", func(c *cut.Cut) { c.Parameters.FeedRateMMPerMin = nil }, nil},
		{"plunge-milling", func(c *cut.Cut) { c.Engagement.RadialWidthMM = n(12.1) }, []string{"engagement-impossible engagement.radial_width"}},
		{"ball-milling", func(c *cut.Cut) { c.Engagement.AxialDepthMM = n(6.01) }, []string{"engagement-impossible engagement.axial_depth"}},
		{"ball-milling", func(c *cut.Cut) { c.Engagement.StepOverMM = n(4.8) }, []string{"engagement-impossible engagement.step_over"}}, // 2·√(0.5·11.5) = 4.796
		{"ball-milling", func(c *cut.Cut) { c.Engagement.TiltAngleDeg = nil }, []string{"field-missing engagement.tilt_angle"}},
		{"chamfer-milling", func(c *cut.Cut) { c.Engagement.ChamferAngleDeg = n(30) }, []string{"engagement-impossible engagement.chamfer_angle"}},
		{"chamfer-milling", func(c *cut.Cut) { c.Engagement.ChamferWidthMM = n(6) }, []string{"engagement-impossible engagement.chamfer_width"}},
		{"chamfer-milling", func(c *cut.Cut) { c.Engagement.WorkDiameterMM = n(30) }, []string{"field-missing engagement.internal"}},
		{"chamfer-milling", func(c *cut.Cut) {
			inside := true
			c.Engagement.WorkDiameterMM, c.Engagement.Internal = n(10), &inside
		}, []string{"engagement-impossible engagement.work_diameter"}},
		{"circular-milling", func(c *cut.Cut) { c.Engagement.StartDiameterMM = n(12) }, []string{"engagement-impossible engagement.start_diameter"}},
		{"circular-milling", func(c *cut.Cut) { c.Engagement.EndDiameterMM = n(30) }, []string{"engagement-impossible engagement.end_diameter"}},
		{"thread-milling", func(c *cut.Cut) { no := false; c.Engagement.Internal = &no }, []string{"engagement-impossible engagement.end_diameter"}},
		{"grooving", func(c *cut.Cut) { c.Engagement.DepthMM = n(25.1) }, []string{"engagement-impossible engagement.depth"}},
		{"reaming", func(c *cut.Cut) { c.Engagement.StartDiameterMM = nil }, []string{"field-missing engagement.start_diameter"}},
		{"boring-rotating", func(c *cut.Cut) { c.Engagement.StartDiameterMM = n(12) }, []string{"engagement-impossible engagement.start_diameter"}},
		{"turning", func(c *cut.Cut) { c.Engagement.HoleDepthMM = n(1) }, []string{"unknown-field engagement.hole_depth"}},
		{"turning", func(c *cut.Cut) { c.Engagement = cut.Engagement{} }, []string{"field-missing engagement.work_diameter", "field-missing engagement.depth_of_cut"}},
		{"turning", func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0) }, []string{"value-out-of-range engagement.depth_of_cut"}},
		{"turning", func(c *cut.Cut) { c.Engagement.WorkDiameterMM = n(50_001) }, []string{"value-out-of-range engagement.work_diameter"}},
		{"side-milling", func(c *cut.Cut) { c.Engagement.RadialWidthMM = n(12.1) }, []string{"engagement-impossible engagement.radial_width"}},
		{"side-milling", func(c *cut.Cut) { c.Engagement.CutterOffsetMM = n(3.1) }, []string{"engagement-impossible engagement.cutter_offset"}},
		{"face-milling", func(c *cut.Cut) { c.Tool.CuttingEdgeAngleDeg = n(95) }, []string{"value-out-of-range tool.cutting_edge_angle"}},
		{"drilling", func(c *cut.Cut) { c.Engagement.StartDiameterMM = n(12) }, []string{"engagement-impossible engagement.start_diameter"}},
		{"drilling", func(c *cut.Cut) { c.Engagement.WallRadiusMM = n(5) }, []string{"engagement-impossible engagement.wall_radius"}},
		{"drilling", func(c *cut.Cut) { c.Engagement.Through = nil }, []string{"field-missing engagement.through"}},
		{"drilling", func(c *cut.Cut) { c.Tool.CuttingDiameterMM = nil }, []string{"field-missing tool.cutting_diameter"}},
		{"drilling", func(c *cut.Cut) { c.Tool.CuttingDiameterMM = n(501) }, []string{"value-out-of-range tool.cutting_diameter"}},
		{"drilling", func(c *cut.Cut) { c.Tool.EffectiveEdgesCount = n(1.5) }, []string{"value-out-of-range tool.effective_edges"}},
		{"drilling", func(c *cut.Cut) { c.Tool.Class = class("turning") }, []string{"tool-class-unfit tool.class"}},
		{"drilling", func(c *cut.Cut) { c.Parameters.CuttingSpeedMPerMin = n(80) }, []string{"fields-conflict parameters"}},
		{"drilling", func(c *cut.Cut) { c.Parameters = cut.Parameters{} }, []string{"alternative-missing parameters", "alternative-missing parameters"}},
		{"drilling", func(c *cut.Cut) { c.Force = &cut.ForceData{SpecificCuttingForce11NPerMM2: n(2000)} }, []string{"field-missing force_data.chip_thickness_exponent"}},
		{"drilling", func(c *cut.Cut) { c.Force = &cut.ForceData{ChipThicknessExp: n(0.2), SpecificEnergyJPerMM3: n(2)} }, []string{"fields-conflict force_data"}},
		{"drilling", func(c *cut.Cut) { c.Confidence = 1.2 }, []string{"value-out-of-range confidence"}},
		{"drilling", func(c *cut.Cut) { // all of them at once
			c.Confidence, c.Parameters, c.Tool.EffectiveEdgesCount = 0.4, cut.Parameters{SpindleSpeedPerMin: n(-1)}, n(0)
			c.Engagement = cut.Engagement{HoleDepthMM: n(-3), DepthOfCutMM: n(1)}
		}, []string{"unknown-field engagement.depth_of_cut", "value-out-of-range engagement.hole_depth", "field-missing engagement.through",
			"value-out-of-range tool.effective_edges", "value-out-of-range parameters.spindle_speed", "alternative-missing parameters", "value-out-of-range confidence"}},
	} {
		c := sound(x.operation)
		x.change(c)
		if got := faultsOf(c, cut.ToEstimate); !slices.Equal(got, x.want) {
			t.Errorf("%s: faults %q, want %q", x.operation, got, x.want)
		}
	}
}

// What is left out is no reason to pass over what is there.
func TestRecommendationsCheckWhatIsGiven(t *testing.T) {
	c := sound("ball-milling")
	c.Engagement.AxialDepthMM, c.Engagement.StepOverMM, c.Parameters = n(6.01), nil, cut.Parameters{}
	if got := faultsOf(c, cut.ToRecommend); len(got) != 1 || got[0] != "engagement-impossible engagement.axial_depth" {
		t.Errorf("a ball deeper than its middle: %v", got)
	}
}

func TestRecommendationsChooseWhatIsLeftOut(t *testing.T) {
	for name, change := range map[string]func(*cut.Cut){
		"turning":      func(c *cut.Cut) { c.Engagement.DepthOfCutMM = nil },
		"face-milling": func(c *cut.Cut) { c.Engagement.RadialWidthMM, c.Engagement.AxialDepthMM = nil, nil },
		"drilling":     func(*cut.Cut) {},
	} {
		c := sound(name)
		change(c)
		c.Parameters = cut.Parameters{}
		if got := faultsOf(c, cut.ToRecommend); len(got) > 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestDefaultsAreAssumedOpenly(t *testing.T) {
	c := sound("drilling")
	cut.Check(c, cut.ToEstimate)
	assumed := map[string]float64{}
	for _, a := range c.Assumed {
		if a.Number != nil {
			assumed[a.Field] = a.Number.Amount
		}
	}
	if assumed["tool.effective_edges"] != 2 || assumed["tool.point_angle"] != 140 || *c.Tool.PointAngleDeg != 140 {
		t.Errorf("assumed %v", assumed)
	}
	slot := sound("slot-milling")
	slot.Engagement.RadialWidthMM = nil
	if got := faultsOf(slot, cut.ToEstimate); len(got) > 0 || *slot.Engagement.RadialWidthMM != 12 {
		t.Errorf("a slot without a width: %v, %v", got, slot.Engagement.RadialWidthMM)
	}
}
