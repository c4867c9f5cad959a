package recommend_test

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

func n(v float64) *float64 { return &v }

func operation(name string) *cut.Operation {
	o, ok := cut.Find(name)
	if !ok {
		panic(name)
	}
	return o
}

var (
	insert = &tool.Class{ID: "turning-external", Operations: []string{"turning", "facing"}, Edge: tool.Honed, ToolMaterial: "HC"}
	drill  = &tool.Class{ID: "drill-solid-carbide", Operations: []string{"drilling"}, Edge: tool.Ground, ToolMaterial: "HC"}
	mill   = &tool.Class{ID: "mill-end", Operations: []string{"side-milling", "slot-milling"}, Edge: tool.Ground, ToolMaterial: "HC"}
)

// work is a carbon steel with one invented force pair.
func work() cut.Work {
	grade := &material.Material{ID: "steel", Group: material.P}
	return cut.Work{Grade: grade, Group: material.P, ConditionGiven: true,
		Force: cut.ForceChoice{Served: &material.Force{Method: material.Kienzle, Process: "general",
			Provenance:                    material.Provenance{ID: "kc", Basis: domain.Demo, Source: "invented"},
			SpecificCuttingForce11NPerMM2: unit.Some(1800), ChipThicknessExp: unit.Some(0.25),
			ChipThickness: domain.Range{Quantity: unit.Length, Low: unit.Some(0.01), High: unit.Some(2.5)}}}}
}

func turningCut() *cut.Cut {
	return &cut.Cut{Operation: operation("turning"), Material: work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: insert, EffectiveEdgesCount: n(1), CuttingEdgeAngleDeg: n(95), CornerRadiusMM: n(0.8), Material: "HC"},
		Engagement: cut.Engagement{WorkDiameterMM: n(80), DepthOfCutMM: n(2)},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: n(150), FeedPerRevolutionMM: n(0.25)},
		Coolant:    cut.Coolant{Delivery: "external"}}
}

func drillingCut() *cut.Cut {
	yes := true
	return &cut.Cut{Operation: operation("drilling"), Material: work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: drill, CuttingDiameterMM: n(12), EffectiveEdgesCount: n(2), PointAngleDeg: n(140), UsableLengthMM: n(60), Material: "HC"},
		Engagement: cut.Engagement{HoleDepthMM: n(30), Through: &yes},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: n(80), FeedPerRevolutionMM: n(0.2)},
		Coolant:    cut.Coolant{Delivery: "through-tool"}}
}

func millingCut() *cut.Cut {
	return &cut.Cut{Operation: operation("side-milling"), Material: work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: mill, CuttingDiameterMM: n(12), EffectiveEdgesCount: n(4), CuttingEdgeAngleDeg: n(90), FluteHelixAngleDeg: n(30), Material: "HC"},
		Engagement: cut.Engagement{AxialDepthMM: n(10), RadialWidthMM: n(4)},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: n(120), FeedPerToothMM: n(0.06)},
		Coolant:    cut.Coolant{Delivery: "external"}}
}

// spindle makes a machine with two gears, the upper one also rated for a short time.
func spindle(powerKW, torqueNm, speed float64) *machine.Machine {
	return &machine.Machine{ID: "m", Process: machine.Milling, Axes: machine.Axes{MaxFeedRateMMPerMin: unit.Some(20000), MaxFeedForceN: unit.Some(8000)},
		Spindle: machine.Spindle{MaxSpeedPerMin: speed, EfficiencyRatio: 0.9, IdlePowerKW: 0.5, Gears: []machine.Gear{
			{Name: "low", MaxSpeedPerMin: speed / 4, Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: powerKW, TorqueNm: 3 * torqueNm}}},
			{Name: "high", MaxSpeedPerMin: speed, Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: powerKW, TorqueNm: torqueNm},
				{Duty: machine.Duty{Type: "S6", Percent: 40, CycleMinutes: 10}, PowerKW: 1.3 * powerKW, TorqueNm: 1.3 * torqueNm}}},
		}}}
}
