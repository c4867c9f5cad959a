package cut

var drilling = Operation{
	Name: "drilling", Family: HoleFamily,
	Required: []string{"hole_depth", "through"},
	Optional: []string{"start_diameter", "face_slope", "wall_radius", "length", "dwell", "spot_angle", "stacked", "rotating", "approach", "retract"},
	Check:    checkHole,
}
