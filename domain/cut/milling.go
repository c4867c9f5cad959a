package cut

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
	Check:    checkMilling,
}
