package cut

var holeOptional = []string{"face_slope", "wall_radius", "length", "dwell", "rotating", "approach"}

// Reaming and boring open a hole that is there.
var reaming = Operation{
	Name: "reaming", Family: HoleFamily,
	Required: []string{"hole_depth", "through", "start_diameter"},
	Optional: holeOptional,
	Check:    checkHole,
}

var boringRotating = Operation{
	Name: "boring-rotating", Family: HoleFamily,
	Required: []string{"hole_depth", "through", "start_diameter"},
	Optional: holeOptional,
	Check:    checkHole,
}

var counterboring = Operation{
	Name: "counterboring", Family: HoleFamily,
	Required: []string{"hole_depth", "through"},
	Optional: append([]string{"start_diameter"}, holeOptional...),
	Check:    checkHole,
}

var countersinking = Operation{
	Name: "countersinking", Family: HoleFamily,
	Required: []string{"hole_depth", "through"},
	Optional: append([]string{"start_diameter"}, holeOptional...),
	Check:    checkHole,
}

var spotDrilling = Operation{
	Name: "spot-drilling", Family: HoleFamily,
	Required: []string{"hole_depth", "through"},
	Optional: holeOptional,
	Check:    checkHole,
}
