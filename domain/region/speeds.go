package region

import (
	"math"
	"slices"

	"swarf/domain/estimate"
)

// speeds are those looked at: at even ratios, and on both sides of every speed at which the
// drive changes its law or a limit of speed is reached.
func (l *look) speeds() []float64 {
	v := l.region.SpeedMPerMin
	var list []float64
	for i := 0.0; i <= speeds; i++ {
		list = append(list, v*LowRatio*math.Pow(HighRatio/LowRatio, i/speeds))
	}
	const beside = 1e-7
	for _, n := range l.shifts() {
		if k := n / l.e.Motion.SpindleSpeedPerMin; k > LowRatio*(1+2*beside) && k < HighRatio*(1-2*beside) {
			list = append(list, v*k*(1-beside), v*k*(1+beside))
		}
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b float64) bool { return math.Abs(a/b-1) < beside/10 })
}

// shifts are the spindle speeds at which a gear begins or ends, its rating bends, or a limit
// on the speed is reached.
func (l *look) shifts() []float64 {
	load := l.e.Machine
	if load == nil {
		return nil
	}
	var list []float64
	for i := range load.Machine.Spindle.Gears {
		g := &load.Machine.Spindle.Gears[i]
		list = append(list, g.MinSpeedPerMin, g.MaxSpeedPerMin)
		list = append(list, estimate.Knees(load.Machine, g.Held(l.e.Cut.Rating))...)
	}
	for i := range load.Limits {
		switch limit := &load.Limits[i]; limit.Name {
		case "spindle_speed", "tool_speed", "chuck_speed":
			list = append(list, limit.Allowed)
		}
	}
	return list
}
