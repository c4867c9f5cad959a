package reference

import "fmt"

// measure is a unit: what it measures and how many of the first unit of that kind
// one of it is. The factors are written down here again, from their definitions,
// so that a wrong one in the service shows.
type measure struct {
	kind   string
	factor float64
}

const (
	inch  = 25.4            // mm
	foot  = 0.3048          // m
	pound = 4.4482216152605 // N, pound-force
	kgf   = 9.80665         // N
	horse = 550 * foot * pound
)

// measures by UCUM code.
var measures = map[string]measure{
	"1": {"ratio", 1}, "%": {"ratio", 0.01},
	"mm": {"length", 1}, "[in_i]": {"length", inch}, "cm": {"length", 10}, "m": {"length", 1000},
	"um": {"length", 1e-3}, "10*-6.[in_i]": {"length", inch * 1e-6},
	"mm2": {"area", 1}, "[in_i]2": {"area", inch * inch},
	"m/min": {"speed", 1}, "m/s": {"speed", 60}, "[ft_i]/min": {"speed", foot},
	"mm/min": {"speed", 1e-3}, "[in_i]/min": {"speed", inch * 1e-3}, "mm/s": {"speed", 0.06},
	"/min": {"rotation", 1}, "/s": {"rotation", 60}, "/h": {"rotation", 1.0 / 60},
	"N": {"force", 1}, "kN": {"force", 1000}, "[lbf_av]": {"force", pound}, "kgf": {"force", kgf},
	"N.m": {"torque", 1}, "[lbf_av].[ft_i]": {"torque", pound * foot}, "[lbf_av].[in_i]": {"torque", pound * inch * 1e-3}, "kgf.mm": {"torque", kgf * 1e-3},
	"kW": {"power", 1000}, "W": {"power", 1}, "J/min": {"power", 1.0 / 60}, "[HP]": {"power", horse},
	"cm3/min": {"removal", 1}, "mm3/min": {"removal", 1e-3}, "mm3/s": {"removal", 0.06}, "[in_i]3/min": {"removal", inch * inch * inch * 1e-3},
	"N/mm2": {"stress", 1}, "J/mm3": {"stress", 1000}, "J/m3": {"stress", 1e-6}, "10*3.[psi]": {"stress", 1000 * pound / (inch * inch)},
	"Pa": {"stress", 1e-6}, "GPa": {"stress", 1000}, "10*6.[psi]": {"stress", 1e6 * pound / (inch * inch)},
	"[HP].min/[in_i]3": {"stress", horse * 60 / (inch * inch * inch) * 1000},
	"min":              {"time", 1}, "s": {"time", 1.0 / 60}, "h": {"time", 60},
	"deg": {"angle", 1}, "HV": {"vickers", 1}, "HBW": {"brinell", 1}, "HRC": {"rockwell c", 1}, "HRB": {"rockwell b", 1},
	"kg": {"mass", 1}, "[lb_av]": {"mass", 0.45359237}, "bar": {"pressure", 1}, "[psi]": {"pressure", pound / (inch * inch) * 10},
}

// Convert converts a number between units of one kind, by their UCUM codes. A
// specific energy is a stress: 1 J/mm³ is 1000 N/mm².
func Convert(value float64, from, to string) (float64, error) {
	if from == to {
		return value, nil
	}
	a, ok := measures[from]
	if !ok {
		return 0, fmt.Errorf("unit %q is not known", from)
	}
	b, ok := measures[to]
	if !ok {
		return 0, fmt.Errorf("unit %q is not known", to)
	}
	if a.kind != b.kind {
		return 0, fmt.Errorf("%s is a %s and %s a %s", from, a.kind, to, b.kind)
	}
	return value * a.factor / b.factor, nil
}
