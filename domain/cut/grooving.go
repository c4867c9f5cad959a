package cut

import "swarf/domain/unit"

// A groove is cut across the edge's whole width; its depth is radial, or along the
// axis when direction says axial.
var grooving = Operation{
	Name: "grooving", Family: TurningFamily,
	Required: []string{"work_diameter", "width", "depth"},
	Optional: []string{"approach", "dwell", "direction"},
	Check:    checkGroove,
}

var parting = Operation{
	Name: "parting", Family: TurningFamily,
	Required: []string{"work_diameter", "width", "depth"},
	Optional: []string{"approach", "dwell"},
	Check:    checkGroove,
}

// checkGroove refuses a radial groove deeper than the work's radius.
func checkGroove(c *Cut, f *Faults) {
	depth, radius := *c.Engagement.DepthMM, *c.Engagement.WorkDiameterMM/2
	if c.Engagement.Direction != "axial" && depth > radius*hair {
		f.Impossible("engagement.depth", "depth {value} is more than the work's radius {limit}",
			unit.Of(unit.Length, depth), unit.Of(unit.Length, radius), "depth is radial; send at most {limit}")
	}
}
