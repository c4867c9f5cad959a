// Package cuttest has sound cuts and machines of invented data for the tests of the
// packages that compute and judge cuts.
package cuttest

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// N is a number that was given.
func N(v float64) *float64 { return &v }

// Operation finds an operation that must be there.
func Operation(name string) *cut.Operation {
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

// Work is a carbon steel with one invented force pair.
func Work() cut.Work {
	grade := &material.Material{ID: "steel", Group: material.P}
	return cut.Work{Grade: grade, Group: material.P, ConditionGiven: true,
		Force: cut.ForceChoice{Served: &material.Force{Method: material.Kienzle, Process: "general",
			Provenance:                    material.Provenance{ID: "kc", Basis: domain.Demo, Source: "invented"},
			SpecificCuttingForce11NPerMM2: unit.Some(1800), ChipThicknessExp: unit.Some(0.25),
			ChipThickness: domain.Range{Quantity: unit.Length, Low: unit.Some(0.01), High: unit.Some(2.5)}}}}
}

// Turning is a turned diameter, every member known.
func Turning() *cut.Cut {
	return &cut.Cut{Operation: Operation("turning"), Material: Work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: insert, EffectiveEdgesCount: N(1), CuttingEdgeAngleDeg: N(95), CornerRadiusMM: N(0.8), Material: "HC"},
		Engagement: cut.Engagement{WorkDiameterMM: N(80), DepthOfCutMM: N(2)},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: N(150), FeedPerRevolutionMM: N(0.25)},
		Coolant:    cut.Coolant{Delivery: "external"}}
}

// Drilling is a through hole, every member known.
func Drilling() *cut.Cut {
	yes := true
	return &cut.Cut{Operation: Operation("drilling"), Material: Work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: drill, CuttingDiameterMM: N(12), EffectiveEdgesCount: N(2), PointAngleDeg: N(140), UsableLengthMM: N(60), Material: "HC"},
		Engagement: cut.Engagement{HoleDepthMM: N(30), Through: &yes},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: N(80), FeedPerRevolutionMM: N(0.2)},
		Coolant:    cut.Coolant{Delivery: "through-tool"}}
}

// Milling is a wall, every member known.
func Milling() *cut.Cut {
	return &cut.Cut{Operation: Operation("side-milling"), Material: Work(), Confidence: 0.9, Rating: machine.Continuous,
		Tool:       tool.Tool{Class: mill, CuttingDiameterMM: N(12), EffectiveEdgesCount: N(4), CuttingEdgeAngleDeg: N(90), FluteHelixAngleDeg: N(30), Material: "HC"},
		Engagement: cut.Engagement{AxialDepthMM: N(10), RadialWidthMM: N(4)},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: N(120), FeedPerToothMM: N(0.06)},
		Coolant:    cut.Coolant{Delivery: "external"}}
}

// Drive is what a sample machine can.
type Drive struct{ PowerKW, TorqueNm, MaxSpeedPerMin float64 }

// Machine makes a milling machine with two gears, the upper one also rated for a short
// time; the lower has three times the torque.
func Machine(d Drive) *machine.Machine {
	return &machine.Machine{ID: "m", Process: machine.Milling, Axes: machine.Axes{MaxFeedRateMMPerMin: unit.Some(20000), MaxFeedForceN: unit.Some(8000)},
		Spindle: machine.Spindle{MaxSpeedPerMin: d.MaxSpeedPerMin, EfficiencyRatio: 0.9, IdlePowerKW: 0.5, Gears: []machine.Gear{
			{Name: "low", MaxSpeedPerMin: d.MaxSpeedPerMin / 4, Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: d.PowerKW, TorqueNm: 3 * d.TorqueNm}}},
			{Name: "high", MaxSpeedPerMin: d.MaxSpeedPerMin, Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: d.PowerKW, TorqueNm: d.TorqueNm},
				{Duty: machine.Duty{Type: "S6", Percent: 40, CycleMinutes: 10}, PowerKW: 1.3 * d.PowerKW, TorqueNm: 1.3 * d.TorqueNm}}},
		}}}
}
