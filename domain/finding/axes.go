package finding

import (
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// does reports whether a machine does a family: a turning machine turns and makes
// holes on its axis, a milling machine mills and makes holes.
func does(m *machine.Machine, f cut.Family) bool {
	switch f {
	case cut.TurningFamily:
		return m.Process == machine.Turning
	case cut.MillingFamily:
		return m.Process == machine.Milling
	}
	return true
}

// axes judges feed, thrust, chuck and coolant of the machine, and the tool's own
// highest speed.
func (j *judge) axes() {
	n := j.e.Motion.SpindleSpeedPerMin
	if limit, ok := given(j.c.Tool.MaxSpindleSpeedPerMin); ok && over(n, limit) {
		j.says("tool-speed-exceeded", domain.Refusal, "tool.max_spindle_speed", unit.Rotation, n, limit,
			"{value} is over the tool's {limit}", "lower the speed, or use a tool made for it")
	}
	load := j.e.Machine
	if load == nil {
		return
	}
	for i := range load.Limits {
		l := &load.Limits[i]
		switch {
		case l.Name == "feed_rate" && over(l.Worn, l.Allowed):
			j.says("feed-rate-exceeded", domain.Refusal, "parameters.feed_rate", l.Quantity, l.Worn, l.Allowed,
				"feed {value} is over the axis' {limit}", "lower the spindle speed at the same feed per tooth")
		case l.Name == "arc_feed_rate" && over(l.Worn, l.Allowed):
			j.says("feed-rate-exceeded", domain.Refusal, "parameters.feed_rate", l.Quantity, l.Worn, l.Allowed,
				"feed {value} is over the {limit} that the machine keeps on circles", "lower the spindle speed at the same feed per tooth")
		case l.Name == "feed_force" && over(l.Worn, l.Allowed):
			j.says("feed-force-exceeded", domain.Refusal, "loads_worn.feed_force", l.Quantity, l.Worn, l.Allowed,
				"feed force {value} with a worn edge is over the axis' {limit}", "a pilot hole, lower feed, or another machine")
		case l.Name == "chuck_speed" && over(l.Worn, l.Allowed):
			j.says("chuck-speed-exceeded", domain.Refusal, "work_holding.max_speed", l.Quantity, l.Worn, l.Allowed,
				"{value} is over the chuck's {limit}", "cap the speed")
		}
	}
	have := load.Machine.Coolant.Deliveries
	if have == nil {
		if j.c.Coolant.Given {
			j.e.Unchecked = append(j.e.Unchecked, domain.Unchecked{Check: "coolant", Needs: "the machine's coolant deliveries"})
		}
	} else if d := j.c.Coolant.Delivery; d != "none" && d != "air" && !slices.Contains(have, d) {
		j.tells("coolant-not-on-machine", domain.Hold, "coolant.delivery", load.Machine.ID+" does not deliver coolant "+d, "a machine that has it, or another delivery")
	}
}
