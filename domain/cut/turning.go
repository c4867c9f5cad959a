package cut

var turningOptional = []string{"length", "approach", "dwell", "direction"}

var turning = Operation{
	Name: "turning", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    checkTurning,
}

var facing = Operation{
	Name: "facing", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    checkTurning,
}

var boringInternal = Operation{
	Name: "boring-internal", Family: TurningFamily,
	Required: []string{"work_diameter", "depth_of_cut"},
	Optional: turningOptional,
	Check:    checkTurning,
}
