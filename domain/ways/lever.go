package ways

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// lever is one number of a cut that a planner may change.
type lever struct {
	name, field string
	quantity    unit.Quantity
	from        float64
	low, high   float64 // factors on it between which is looked
	whole       bool    // counted: whole numbers only
	set         func(*cut.Cut, *float64)
	rounds      func(to float64) float64 // how often the cut is then made; nil: once
	otherGear   string                   // only speeds outside the gear of this name are wanted
}

// How far a lever is moved. Common practice, no source: beyond, it is another cut.
const (
	leastRatio = 0.02
	mostRatio  = 3
)

func (l *lever) at(c *cut.Cut, to float64) *cut.Cut {
	return changed(c, func(own *cut.Cut) { l.set(own, &to) })
}

// levers lists what can be changed, in the order in which planners try it.
func levers(e *estimate.Estimate) []lever {
	list := speeds(e)
	list = append(list, feeds(e.Cut)...)
	list = append(list, depths(e.Cut)...)
	return append(list, counts(e.Cut)...)
}

// speeds are the speed as it was sent, and the same for the sake of another gear.
func speeds(e *estimate.Estimate) []lever {
	p := &e.Cut.Parameters
	l := lever{name: "speed", field: "parameters.cutting_speed", quantity: unit.Speed, low: leastRatio, high: mostRatio,
		set: func(c *cut.Cut, v *float64) { c.Parameters.CuttingSpeedMPerMin = v }}
	switch {
	case p.CuttingSpeedMPerMin != nil:
		l.from = *p.CuttingSpeedMPerMin
	case p.SpindleSpeedPerMin != nil:
		l.field, l.quantity, l.from = "parameters.spindle_speed", unit.Rotation, *p.SpindleSpeedPerMin
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.SpindleSpeedPerMin = v }
	default:
		return nil
	}
	list := []lever{l}
	if m := e.Machine; m != nil && m.Gear != nil && len(m.Machine.Spindle.Gears) > 1 {
		l.name, l.otherGear = "gear", m.Gear.Name
		list = append(list, l)
	}
	return list
}

// feeds is the feed as it was sent; threads have none to change.
func feeds(c *cut.Cut) []lever {
	p := &c.Parameters
	l := lever{name: "feed", low: leastRatio, high: mostRatio}
	switch {
	case c.Operation.FeedIsPitch:
		return nil
	case p.FeedPerToothMM != nil:
		l.field, l.quantity, l.from = "parameters.feed_per_tooth", unit.Length, *p.FeedPerToothMM
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedPerToothMM = v }
	case p.FeedPerRevolutionMM != nil:
		l.field, l.quantity, l.from = "parameters.feed_per_revolution", unit.Length, *p.FeedPerRevolutionMM
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedPerRevolutionMM = v }
	case p.FeedRateMMPerMin != nil:
		l.field, l.quantity, l.from = "parameters.feed_rate", unit.FeedRate, *p.FeedRateMMPerMin
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedRateMMPerMin = v }
	default:
		return nil
	}
	return []lever{l}
}

// depths are the depth and the width of a pass: what is left is taken in further ones of
// the same size, so that the cut is made more often.
func depths(c *cut.Cut) []lever {
	e := &c.Engagement
	var list []lever
	add := func(name, field string, v *float64, set func(*cut.Cut, *float64)) {
		if v == nil || !(*v > 0) {
			return
		}
		from := *v
		list = append(list, lever{name: name, field: "engagement." + field, quantity: unit.Length, from: from, low: leastRatio, high: 1, set: set,
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

// counts are what is counted: passes of a thread, and edges of a mill of the same class.
func counts(c *cut.Cut) []lever {
	var list []lever
	if n := c.Engagement.PassesCount; n != nil {
		from := *n
		list = append(list, lever{name: "passes", field: "engagement.passes", from: from, low: 1, high: mostPasses / from, whole: true,
			set:    func(c *cut.Cut, v *float64) { c.Engagement.PassesCount = v },
			rounds: nil})
	}
	if z := c.Tool.EffectiveEdgesCount; z != nil && *z > 1 && c.Operation.Family == cut.MillingFamily {
		list = append(list, lever{name: "tool", field: "tool.effective_edges", from: *z, low: 1 / *z, high: 1, whole: true,
			set: func(c *cut.Cut, v *float64) { c.Tool.EffectiveEdgesCount = v }})
	}
	return list
}

// mostPasses of a thread are tried. Common practice, no source.
const mostPasses = 40
