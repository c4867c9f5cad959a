package calculation

import "swarf/domain/machine"

// drives are the calculations of package machine: one gear, one continuous rating, a pair.
type drives struct{ *given }

func (d drives) rating() *machine.Rating {
	return &machine.Rating{Duty: machine.Continuous, PowerKW: d.in("power", "kW"), TorqueNm: d.in("torque", "N.m")}
}

// torque and power are what is left at the tool.
func (d drives) torque() float64 {
	return d.rating().TorqueNmAt(d.in("spindle_speed", "/min")) * d.in("efficiency", "1")
}

func (d drives) power() float64 {
	return d.rating().PowerKWAt(d.in("spindle_speed", "/min")) * d.in("efficiency", "1")
}

var driveTable = table[drives]{
	"available_torque": {"N.m", drives.torque},
	"available_power":  {"kW", drives.power},
	"available_force":  {"N", func(d drives) float64 { return d.torque() / (d.in("diameter", "mm") / 2000) }},
	"torque_ratio": {"1", func(d drives) float64 {
		return d.rating().TorqueNmAt(d.in("base_speed", "/min")) / d.rating().TorqueNmAt(d.in("top_speed", "/min"))
	}},
}
