package cut

import (
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

var ballMilling = Operation{
	Name: "ball-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling", Class: "mill-end"},
	Required: []string{"axial_depth", "step_over", "tilt_angle"},
	Optional: []string{"length", "ramp_angle", "approach", "direction"},
	Check:    checkBall,
}

// checkBall refuses a depth past the middle of the ball and a step that leaves ridges
// of the old surface standing.
func checkBall(c *Cut, f *Faults) {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	if en.AxialDepthMM == nil {
		return // chosen later
	}
	if ap := *en.AxialDepthMM; ap > d/2*hair {
		f.Impossible("engagement.axial_depth", "axial_depth {value} is past the middle of the ball, which is {limit} high", length(ap), length(d/2),
			"send at most {limit}; deeper, the shank's edges cut: side-milling or slot-milling")
		return
	}
	if en.StepOverMM == nil {
		return // chosen later, within the depth
	}
	wide := kinematics.BallWidthMM(kinematics.Ball{DiameterMM: d, DepthMM: *en.AxialDepthMM})
	if step := *en.StepOverMM; step > wide*hair {
		f.Impossible("engagement.step_over", "at this depth the ball is {limit} wide: a step_over of {value} leaves the old surface between two passes", length(step), length(wide),
			"send at most {limit}; for one groove, {limit}")
	}
}
