package wire

import "swarf/domain/unit"

// drillAnswer is an answer of ordinary size. Its numbers are made up, only their
// shape counts here.
func drillAnswer() *Answer {
	some := unit.Some
	value, limit := Amount(38.197), Amount(40)
	loads := func(factor float64) *Loads {
		return &Loads{
			SpecificCuttingForce: some(3510.7214 * factor), CuttingForce: some(6319.2985 * factor), FeedForce: some(3159.64927 * factor),
			PassiveForce: some(0), Torque: some(47.3947392 * factor), TorquePeak: some(47.3947392 * factor),
			CuttingPower: some(7.89912318 * factor), RemovalRate: some(135.000017),
			Interval: &Interval{
				CuttingPower: &Band{some(6.112345), some(10.20894), 0.9},
				Torque:       &Band{some(36.6740729), some(61.253678), 0.9},
				CuttingForce: &Band{some(4889.87639), some(8167.15705), 0.9},
			},
		}
	}
	a := &Answer{
		Ref: "op-30", Units: "metric", DataRevision: 7, ModelVersion: "1.0", Verdict: "conditional",
		Material:   WorkMaterial{ID: "x5crni18-10", Name: "X5CrNi18-10", Group: "M", Condition: "annealed", Record: "kc-x5crni18-10-example", Basis: "request"},
		Operation:  "drilling",
		Engagement: &Engagement{HoleDepth: number(60), Through: truth(true)},
		Parameters: &Motion{some(150), some(1591.5494309), some(0.12), some(0.12), some(190.985931)},
		Chip:       &Chip{some(0.12), some(0.12), some(15), some(0), some(1)},
		EdgeState:  "sharp", Loads: loads(1), LoadsWorn: loads(1.3),
		Machine: &MachineLoad{ID: "vmc-50", Rating: "S1", Gear: "high", AvailablePower: some(15.3), AvailableTorque: some(91.7983), MotorPower: some(9.29309),
			Limits: []Limit{
				{"torque", 47.3947392, 91.7983, "N.m", some(0.516292), some(0.671180), some(0.9981), true},
				{"power", 7.89912318, 15.3, "kW", some(0.516282), some(0.671167), some(0.9981), false},
				{"spindle_speed", 1591.5494309, 8000, "/min", some(0.198944), some(0.198944), some(1), false},
				{"feed_rate", 190.985931, 15000, "mm/min", some(0.0127324), some(0.0127324), some(1), false},
			}},
		Time:     &Timing{Cutting: some(0.33510321), Total: some(0.36), Allowances: []Allowance{{"approach", some(0.0249), "3 mm before the cut"}}},
		ToolLife: &ToolLife{Median: some(18.25), Low: some(11.0625)},
		Findings: []Finding{
			{"coolant-below-practice", "hold", "coolant.delivery", some(float64(value)), some(float64(limit)), "mm", "the hole is 60 mm deep, 2 times the diameter; drills of this class want coolant through the tool beyond 1.5 times", "drill in steps with full retract, or take a machine that has it"},
			{"exit-slug", "warning", "engagement.through", unit.Opt{}, unit.Opt{}, "", "an indexable drill leaves a disc when it breaks through", "guard the work space; half the feed at the exit"},
			{Code: "unit-slip-suspected", Severity: "warning", Field: "parameters.cutting_speed", Message: "150 m/min is far from the record's", Fix: "check the unit"},
		},
		Assumed:   []Assumed{{"rating", "S1", "", "continuous duty is what a machine is rated for"}, {"tool.usable_length", 90.0, "mm", "the default of the class"}},
		Unchecked: []Unchecked{{"feed_force", "axes.max_feed_force of the machine"}, {"tool_speed", "tool.max_spindle_speed"}},
		Sources:   []Used{{"request", "request", "force", "", ""}, {"common-practice", "common-practice", "coolant", "", "h 0.05 to 0.4 mm"}},
	}
	return a
}

func number(v float64) *float64 { return &v }
func truth(v bool) *bool        { return &v }
