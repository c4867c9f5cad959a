package cut

import (
	"math"

	"swarf/domain/unit"
)

var drilling = Operation{
	Name: "drilling", Family: HoleFamily,
	Required: []string{"hole_depth", "through"},
	Optional: []string{"start_diameter", "face_slope", "wall_radius", "length", "dwell", "spot_angle", "stacked", "rotating", "approach", "retract"},
	Check:    checkHole,
}

// checkHole refuses an existing hole that leaves nothing to cut.
func checkHole(c *Cut, f *Faults) {
	d, start := *c.Tool.CuttingDiameterMM, c.Engagement.StartDiameterMM
	if start != nil && *start >= d {
		f.Impossible("engagement.start_diameter", "start_diameter {value} leaves nothing to cut for a tool of {limit}",
			unit.Of(unit.Length, *start), unit.Of(unit.Length, d), "send the diameter of the hole that is there, under {limit}")
	}
	if r := c.Engagement.WallRadiusMM; r != nil && math.Abs(*r)*hair < d/2 {
		f.Impossible("engagement.wall_radius", "on a wall of radius {value} the drill's {limit} radius never closes",
			unit.Of(unit.Length, *r), unit.Of(unit.Length, d/2), "send a radius over {limit}")
	}
}
