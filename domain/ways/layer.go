package ways

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/finding"
	"swarf/domain/unit"
)

// mostPasses of a thread are tried. Common practice, no source.
const mostPasses = 40

// layers are the depth and the width of a pass: what is left is taken in further ones of the
// same size, so that the cut is made more often. No layer is thinner than the least chip.
func layers(c *cut.Cut) []lever {
	e := &c.Engagement
	var list []lever
	add := func(name, field string, v *float64, set func(*cut.Cut, *float64)) {
		if v == nil || !(*v > 0) {
			return
		}
		from := *v
		list = append(list, lever{name: name, field: "engagement." + field, quantity: unit.Length, from: from, set: set, thins: true,
			low: min(1, max(leastRatio, finding.MinimumChipMM(c)/from)), high: 1,
			rounds: func(to float64) float64 { return math.Ceil(from/to - 1e-9) }})
	}
	switch c.Operation.Family {
	case cut.TurningFamily:
		add("depth", "depth_of_cut", e.DepthOfCutMM, func(c *cut.Cut, v *float64) { c.Engagement.DepthOfCutMM = v })
	case cut.MillingFamily:
		add("depth", "axial_depth", e.AxialDepthMM, func(c *cut.Cut, v *float64) { c.Engagement.AxialDepthMM = v })
		add("width", "radial_width", e.RadialWidthMM, func(c *cut.Cut, v *float64) { c.Engagement.RadialWidthMM = v })
		add("width", "step_over", e.StepOverMM, func(c *cut.Cut, v *float64) { c.Engagement.StepOverMM = v })
	}
	return list
}

// passes are those of a thread that is turned.
func passes(c *cut.Cut) []lever {
	n := c.Engagement.PassesCount
	if n == nil {
		return nil
	}
	l := lever{name: "passes", field: "engagement.passes", from: *n, thins: true,
		set: func(c *cut.Cut, v *float64) { c.Engagement.PassesCount = v }}
	for k := *n + 1; k <= mostPasses; k++ {
		l.values = append(l.values, k)
	}
	return []lever{l}
}

// edges are those of a mill of the same class, fewer of them.
func edges(c *cut.Cut) []lever {
	z := c.Tool.EffectiveEdgesCount
	if z == nil || *z < 2 || c.Operation.Family != cut.MillingFamily {
		return nil
	}
	l := lever{name: "tool", field: "tool.effective_edges", from: *z,
		set: func(c *cut.Cut, v *float64) { c.Tool.EffectiveEdgesCount = v }}
	for k := *z - 1; k >= 1; k-- {
		l.values = append(l.values, k)
	}
	return []lever{l}
}
