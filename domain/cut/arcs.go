package cut

import (
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

var trochoidalMilling = Operation{
	Name: "trochoidal-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling"},
	Required: []string{"axial_depth", "slot_width"},
	OneOf:    [][]string{{"radial_width", "engagement_angle"}},
	Optional: []string{"length", "approach", "direction"},
	Check: func(c *Cut, f *Faults) {
		d, en := *c.Tool.CuttingDiameterMM, &c.Engagement
		if *en.SlotWidthMM <= d {
			f.Impossible("engagement.slot_width", "in a slot of {value} a cutter of {limit} cannot go round",
				unit.Of(unit.Length, *en.SlotWidthMM), unit.Of(unit.Length, d), "a narrower cutter, or slot-milling")
		}
		if en.RadialWidthMM != nil && en.EngagementAngleDeg != nil {
			f.Conflict("engagement", "radial_width and engagement_angle both say how wide the cut is")
		}
		checkMilling(c, f)
	},
}

var circularMilling = Operation{
	Name: "circular-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling"},
	Required: []string{"start_diameter", "end_diameter", "internal"},
	OneOf:    [][]string{{"axial_depth", "pitch"}},
	Optional: []string{"approach", "direction", "passes"},
	Check:    checkCircle,
}

var threadMilling = Operation{
	Name: "thread-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling", Class: "mill-end"},
	Required: []string{"start_diameter", "end_diameter", "internal"},
	OneOf:    [][]string{{"axial_depth", "pitch"}},
	Optional: []string{"approach", "direction", "hand", "passes"},
	Check:    checkCircle,
}

// checkCircle refuses circles that leave nothing to cut or no room for the cutter.
func checkCircle(c *Cut, f *Faults) {
	d, start, end := *c.Tool.CuttingDiameterMM, *c.Engagement.StartDiameterMM, *c.Engagement.EndDiameterMM
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	checkPasses(c, f)
	if *c.Engagement.Internal {
		if start <= d {
			f.Impossible("engagement.start_diameter", "a bore of {value} is not larger than the cutter of {limit}", length(start), length(d), "a smaller cutter, or a larger hole first")
		}
		if end <= start {
			f.Impossible("engagement.end_diameter", "a bore grows: end_diameter {value} is not over start_diameter {limit}", length(end), length(start), "send the finished diameter")
		}
	} else if end >= start {
		f.Impossible("engagement.end_diameter", "a boss shrinks: end_diameter {value} is not under start_diameter {limit}", length(end), length(start), "send the finished diameter")
	}
	if n := c.Engagement.PassesCount; *c.Engagement.Internal && end <= d || n != nil && (*n < 1 || *n > 1000) {
		return
	}
	for _, r := range RoundsOf(c) {
		if ae := kinematics.CircleWidthMM(r); r.CentreMM() > 0 && ae > d*hair {
			f.Impossible("engagement.end_diameter", "in one round the cutter would be {value} wide in the work, more than its {limit}", length(ae), length(d), "more passes, or a larger cutter")
			return
		}
	}
}

// CircleOf is the circle of circular and thread milling.
//
// Range: a checked cut with both diameters. Errors: none. Source: definition.
func CircleOf(c *Cut) kinematics.Circle {
	return kinematics.Circle{CutterMM: *c.Tool.CuttingDiameterMM, StartMM: *c.Engagement.StartDiameterMM, EndMM: *c.Engagement.EndDiameterMM, Internal: *c.Engagement.Internal}
}

// RoundsOf are the rounds in which it is milled: one where no passes are asked for.
//
// Range: as CircleOf. Errors: none. Source: as kinematics.RoundsOf.
func RoundsOf(c *Cut) []kinematics.Circle {
	n := 1.0
	if c.Engagement.PassesCount != nil {
		n = *c.Engagement.PassesCount
	}
	return kinematics.RoundsOf(CircleOf(c), kinematics.Split{RoundsCount: n, Groove: c.Operation.Name == "thread-milling"})
}
