package cut

import "swarf/domain/unit"

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
	Optional: []string{"approach", "direction"},
	Check:    checkCircle,
}

var threadMilling = Operation{
	Name: "thread-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling", Class: "mill-end"},
	Required: []string{"start_diameter", "end_diameter", "internal"},
	OneOf:    [][]string{{"axial_depth", "pitch"}},
	Optional: []string{"approach", "direction", "hand"},
	Check:    checkCircle,
}

// checkCircle refuses circles that leave nothing to cut or no room for the cutter.
func checkCircle(c *Cut, f *Faults) {
	d, start, end := *c.Tool.CuttingDiameterMM, *c.Engagement.StartDiameterMM, *c.Engagement.EndDiameterMM
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	if *c.Engagement.Internal {
		if start <= d {
			f.Impossible("engagement.start_diameter", "a bore of {value} is not larger than the cutter of {limit}", length(start), length(d), "a smaller cutter, or a larger hole first")
		}
		if end <= start {
			f.Impossible("engagement.end_diameter", "a bore grows: end_diameter {value} is not over start_diameter {limit}", length(end), length(start), "send the finished diameter")
		}
		if ae := (end*end - start*start) / (4 * (end - d)); end > d && ae > d {
			f.Impossible("engagement.end_diameter", "in one round the cutter would be {value} wide in the work, more than its {limit}", length(ae), length(d), "more rounds, or a larger cutter")
		}
		return
	}
	if end >= start {
		f.Impossible("engagement.end_diameter", "a boss shrinks: end_diameter {value} is not under start_diameter {limit}", length(end), length(start), "send the finished diameter")
	}
	if ae := (start*start - end*end) / (4 * (end + d)); ae > d {
		f.Impossible("engagement.end_diameter", "in one round the cutter would be {value} wide in the work, more than its {limit}", length(ae), length(d), "more rounds, or a larger cutter")
	}
}
