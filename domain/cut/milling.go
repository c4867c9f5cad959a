package cut

import (
	"math"

	"swarf/domain/unit"
)

var millingOptional = []string{"cutter_offset", "length", "ramp_angle", "path_radius", "approach", "direction"}

var faceMilling = Operation{
	Name: "face-milling", Family: MillingFamily,
	Required: []string{"axial_depth", "radial_width"},
	Optional: millingOptional,
	Check:    checkMilling,
}

var sideMilling = Operation{
	Name: "side-milling", Family: MillingFamily,
	Required: []string{"axial_depth", "radial_width"},
	Optional: millingOptional,
	Check:    checkMilling,
}

// A slot's radial width is the diameter when left out.
var slotMilling = Operation{
	Name: "slot-milling", Family: MillingFamily,
	Required: []string{"axial_depth"},
	Optional: append([]string{"radial_width"}, millingOptional...),
	Check: func(c *Cut, f *Faults) {
		if c.Engagement.RadialWidthMM == nil {
			width := *c.Tool.CuttingDiameterMM
			c.Engagement.RadialWidthMM = &width
		}
		checkMilling(c, f)
	},
}

// checkMilling refuses a width over the diameter, and an offset that takes the
// cutter off the width it should cover.
func checkMilling(c *Cut, f *Faults) {
	d, ae := *c.Tool.CuttingDiameterMM, c.Engagement.RadialWidthMM
	if ae == nil {
		return // chosen later
	}
	if *ae > d*hair {
		f.Impossible("engagement.radial_width", "radial_width {value} is more than the cutter's diameter {limit}",
			unit.Of(unit.Length, *ae), unit.Of(unit.Length, d), "send at most {limit}, or a larger cutter")
		return
	}
	if off := c.Engagement.CutterOffsetMM; off != nil && math.Abs(*off)+*ae/2 > d/2*hair {
		f.Impossible("engagement.cutter_offset", "at cutter_offset {value} the cutter does not cover the width; it reaches {limit} from the middle",
			unit.Of(unit.Length, *off), unit.Of(unit.Length, (d-*ae)/2), "send at most {limit} either way")
	}
	if k := *c.Tool.CuttingEdgeAngleDeg; k > 90 {
		f.Range("tool.cutting_edge_angle", "cutting_edge_angle is {value}; in milling it is at most {limit}",
			unit.Of(unit.Angle, k), unit.Of(unit.Angle, 90), "send the angle between edge and machined surface")
	}
}
