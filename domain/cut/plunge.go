package cut

// In plunge milling the feed goes along the axis: axial_depth is how far, radial_width
// how wide a band of work the end of the cutter takes, at its rim unless an offset
// says otherwise.
var plungeMilling = Operation{
	Name: "plunge-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "slot-milling"},
	Required: []string{"axial_depth", "radial_width"},
	Optional: []string{"cutter_offset", "length", "approach", "direction"},
	Check:    checkMilling,
}
