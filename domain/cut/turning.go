package cut

import "swarf/domain/unit"

var turningOptional = []string{"length", "approach", "dwell"}

var turning = Operation{
	Name: "turning", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    checkOutsideTurning,
}

var facing = Operation{
	Name: "facing", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    func(*Cut, *Faults) {},
}

var boringInternal = Operation{
	Name: "boring-internal", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    func(*Cut, *Faults) {},
}

// checkOutsideTurning refuses a cut deeper than the work's radius.
func checkOutsideTurning(c *Cut, f *Faults) {
	ap, d := c.Engagement.DepthOfCutMM, c.Engagement.WorkDiameterMM
	if ap != nil && d != nil && *ap > *d/2*hair {
		f.Impossible("engagement.depth_of_cut", "depth_of_cut {value} is more than the work's radius {limit}",
			unit.Of(unit.Length, *ap), unit.Of(unit.Length, *d/2), "depth_of_cut is radial; send at most {limit}")
	}
}
