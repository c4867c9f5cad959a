// Package unit holds the quantities swarf computes with, the two unit systems a
// caller may speak (metric and inch), the exact factors between them and the
// UCUM code of each unit.
//
// Inside swarf every number is metric and carries its unit in its name
// (CuttingDiameterMM). Conversion happens once, at the edge (api/wire).
//
// Source of the factors: international yard and pound agreement of 1959
// (1 in = 25.4 mm, 1 lb = 0.45359237 kg), standard gravity 9.80665 m/s2
// (ISO 80000-3), so 1 lbf = 4.4482216152605 N; 1 hp = 550 ft.lbf/s. All exact.
// Codes: UCUM, https://ucum.org/ucum.
package unit

// Quantity is a kind of number: what it measures, not how it is written.
type Quantity uint8

// The quantities of the service. The zero value is a pure number.
const (
	None           Quantity = iota // ratio, count, exponent
	Length                         // length, feed per turn or tooth, chip thickness
	Speed                          // cutting speed
	FeedRate                       // feed speed of an axis
	Rotation                       // spindle speed
	Force                          // force
	Torque                         // torque
	Power                          // power
	RemovalRate                    // material removal rate
	SpecificForce                  // specific cutting force, tensile strength
	SpecificEnergy                 // specific cutting energy
	Roughness                      // roughness, scallop height
	Pressure                       // coolant pressure
	Modulus                        // elastic modulus
	Mass                           // mass
	Temperature                    // temperature
	Angle                          // angle
	Time                           // time in minutes
	Acceleration                   // axis acceleration
	Density                        // density
	Conductivity                   // thermal conductivity
	SpecificHeat                   // specific heat capacity
	Expansion                      // coefficient of linear thermal expansion
	Seconds                        // a time in seconds (tool change)
	AnglePerLength                 // rotary motion per path length
	AngleRate                      // rotary axis rate
	Energy                         // energy of a drive
	quantities                     // count
)

// System is a unit system that a caller may ask for.
type System uint8

// The two systems. Metric is what swarf computes in.
const (
	Metric System = iota
	Inch
)

// String returns the name used on the wire.
func (s System) String() string {
	if s == Inch {
		return "inch"
	}
	return "metric"
}

// ParseSystem reads "metric" or "inch".
func ParseSystem(text string) (System, bool) {
	switch text {
	case "metric":
		return Metric, true
	case "inch":
		return Inch, true
	}
	return Metric, false
}

// row describes one quantity: its name in struct tags, its UCUM codes and the
// factor (and offset) by which a metric number is divided to get an inch one.
type row struct {
	name         string
	metric, inch string
	perInch      float64 // metric units in one inch-system unit
	offset       float64 // metric value at inch value zero (temperature only)
}

// Exact factors, from the definitions in the package comment.
const (
	mmPerInch  = 25.4
	nPerLbf    = 4.4482216152605
	wPerHP     = 550 * 0.3048 * nPerLbf // 745.69987158227022
	jPerHPMin  = wPerHP * 60
	mm3PerInch = mmPerInch * mmPerInch * mmPerInch
	paPerPsi   = nPerLbf / (0.0254 * 0.0254)
)

// label is how people write a unit.
type label struct{ metric, inch string }

var labels = [quantities]label{
	None:           {"", ""},
	Length:         {"mm", "in"},
	Speed:          {"m/min", "ft/min"},
	FeedRate:       {"mm/min", "in/min"},
	Rotation:       {"1/min", "1/min"},
	Force:          {"N", "lbf"},
	Torque:         {"N·m", "lbf·ft"},
	Power:          {"kW", "hp"},
	RemovalRate:    {"cm³/min", "in³/min"},
	SpecificForce:  {"N/mm²", "ksi"},
	SpecificEnergy: {"J/mm³", "hp·min/in³"},
	Roughness:      {"µm", "µin"},
	Pressure:       {"bar", "psi"},
	Modulus:        {"GPa", "10⁶ psi"},
	Mass:           {"kg", "lb"},
	Temperature:    {"°C", "°F"},
	Angle:          {"°", "°"},
	Time:           {"min", "min"},
	Acceleration:   {"m/s²", "ft/s²"},
	Density:        {"g/cm³", "lb/in³"},
	Conductivity:   {"W/(m·K)", "W/(m·K)"},
	SpecificHeat:   {"J/(kg·K)", "J/(kg·K)"},
	Expansion:      {"10⁻⁶/K", "10⁻⁶/K"},
	Seconds:        {"s", "s"},
	AnglePerLength: {"°/mm", "°/in"},
	AngleRate:      {"°/min", "°/min"},
	Energy:         {"kWh", "kWh"},
}

// Label returns the unit as people write it, for texts; it is empty for a pure
// number. Programs read Code.
func (q Quantity) Label(s System) string {
	if s == Inch {
		return labels[q].inch
	}
	return labels[q].metric
}

var table = [quantities]row{
	None:           {"none", "1", "1", 1, 0},
	Length:         {"length", "mm", "[in_i]", mmPerInch, 0},
	Speed:          {"speed", "m/min", "[ft_i]/min", 0.3048, 0},
	FeedRate:       {"feed-rate", "mm/min", "[in_i]/min", mmPerInch, 0},
	Rotation:       {"rotation", "/min", "/min", 1, 0},
	Force:          {"force", "N", "[lbf_av]", nPerLbf, 0},
	Torque:         {"torque", "N.m", "[lbf_av].[ft_i]", nPerLbf * 0.3048, 0},
	Power:          {"power", "kW", "[HP]", wPerHP / 1000, 0},
	RemovalRate:    {"removal-rate", "cm3/min", "[in_i]3/min", mm3PerInch / 1000, 0},
	SpecificForce:  {"specific-force", "N/mm2", "10*3.[psi]", paPerPsi / 1e6 * 1000, 0},
	SpecificEnergy: {"specific-energy", "J/mm3", "[HP].min/[in_i]3", jPerHPMin / mm3PerInch, 0},
	Roughness:      {"roughness", "um", "10*-6.[in_i]", 0.0254, 0},
	Pressure:       {"pressure", "bar", "[psi]", paPerPsi / 1e5, 0},
	Modulus:        {"modulus", "GPa", "10*6.[psi]", paPerPsi / 1e3, 0},
	Mass:           {"mass", "kg", "[lb_av]", 0.45359237, 0},
	Temperature:    {"temperature", "Cel", "[degF]", 5.0 / 9.0, -160.0 / 9.0},
	Angle:          {"angle", "deg", "deg", 1, 0},
	Time:           {"time", "min", "min", 1, 0},
	Acceleration:   {"acceleration", "m/s2", "[ft_i]/s2", 0.3048, 0},
	Density:        {"density", "g/cm3", "[lb_av]/[in_i]3", 453.59237 / 16.387064, 0},
	Conductivity:   {"conductivity", "W/(m.K)", "W/(m.K)", 1, 0},
	SpecificHeat:   {"specific-heat", "J/(kg.K)", "J/(kg.K)", 1, 0},
	Expansion:      {"expansion", "10*-6/K", "10*-6/K", 1, 0},
	Seconds:        {"seconds", "s", "s", 1, 0},
	AnglePerLength: {"angle-per-length", "deg/mm", "deg/[in_i]", 1 / mmPerInch, 0},
	AngleRate:      {"angle-rate", "deg/min", "deg/min", 1, 0},
	Energy:         {"energy", "kW.h", "kW.h", 1, 0},
}

// Named returns the quantity with this name in struct tags and data files.
func Named(name string) (Quantity, bool) {
	for q := range table {
		if table[q].name == name {
			return Quantity(q), true
		}
	}
	return None, false
}

// Name is the quantity's name in struct tags and data files.
func (q Quantity) Name() string { return table[q].name }

// Code returns the UCUM code of the quantity in a system.
func (q Quantity) Code(s System) string {
	if s == Inch {
		return table[q].inch
	}
	return table[q].metric
}

// FromMetric converts a metric number into the system.
func (q Quantity) FromMetric(s System, metric float64) float64 {
	if s == Metric {
		return metric
	}
	r := &table[q]
	return (metric - r.offset) / r.perInch
}

// ToMetric converts a number of the system into metric.
func (q Quantity) ToMetric(s System, value float64) float64 {
	if s == Metric {
		return value
	}
	r := &table[q]
	return value*r.perInch + r.offset
}

// LabelOf returns how people write the unit of a UCUM code of this table; another code is
// returned as it is, and that of a pure number is empty.
func LabelOf(code string) string {
	for q := range table {
		switch code {
		case table[q].metric:
			return labels[q].metric
		case table[q].inch:
			return labels[q].inch
		}
	}
	return code
}
