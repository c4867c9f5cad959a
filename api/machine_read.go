package api

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// Bounds beyond which a number of a machine is a slip of the pen or the unit and
// not a machine tool. Common practice, no source.
const (
	mostSpeedPerMin    = 500_000
	mostPowerKW        = 10_000
	mostTorqueNm       = 1_000_000
	mostFeedMMPerMin   = 1_000_000
	mostForceN         = 10_000_000
	mostAccelMPerS2    = 1_000
	mostPressureBar    = 10_000
	mostChangeSeconds  = 36_000
	mostDutyMinutes    = 10_000
	mostGears          = 32
	mostRatings        = 32
	mostPoints         = 500
	longestName        = 200
	longestNote        = 4_000
	mostJaws           = 24
	mostMassKg         = 10_000
	mostLengthMM       = 100_000
	mostFrictionRatio  = 2
	mostSafetyRatio    = 100
	highestRatio       = 1
	deliveriesSentence = "through-tool, external, minimum-quantity, air, none"
)

var deliveries = strings.Split(deliveriesSentence, ", ")

// checker reads the numbers of one record, with the faults it meets.
type checker struct {
	faults *cut.Faults
	inch   bool // the record came in inches
}

// keptDigits is how many significant digits a number keeps that was sent in
// inches. The edge writes converted numbers with 12, so a record that is read in
// inches and put back is the same record.
const keptDigits = 10

// settled is a number as it is kept.
func (c checker) settled(v float64) float64 {
	if !c.inch {
		return v
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', keptDigits, 64), 64)
	if err != nil {
		return v
	}
	return rounded
}

// bound is what a number may be: above (or from) nothing up to a most.
type bound struct {
	q       unit.Quantity
	most    float64
	zeroToo bool
}

// read returns a number within its bound, 0 and false when absent or out of it.
func (c checker) read(field string, value *float64, b bound) (float64, bool) {
	if value == nil {
		return 0, false
	}
	if v := c.settled(*value); v > 0 && v <= b.most || v == 0 && b.zeroToo {
		return v, true
	}
	low := "above zero"
	if b.zeroToo {
		low = "from zero"
	}
	c.faults.Range(field, "{value} is outside what it can be: "+low+" up to {limit}", unit.Of(b.q, *value), unit.Of(b.q, b.most), "stay "+low+" and up to {limit}")
	return 0, false
}

// need is read, and reports absence.
func (c checker) need(field, what string, value *float64, b bound) float64 {
	if value == nil {
		c.faults.Missing(field, what+" is required")
		return 0
	}
	v, _ := c.read(field, value, b)
	return v
}

func (c checker) opt(field string, value *float64, b bound) unit.Opt {
	if v, ok := c.read(field, value, b); ok {
		return unit.Some(v)
	}
	return unit.Opt{}
}

// text returns a caller's text when it is of one line and not too long.
func (c checker) text(field, value string, longest int) string {
	if n := len([]rune(value)); n > longest {
		c.faults.Range(field, "the text has {value} characters, at most {limit} are kept", unit.Of(unit.None, float64(n)), unit.Of(unit.None, float64(longest)), "shorten it")
		return ""
	}
	if !utf8.ValidString(value) || strings.ContainsFunc(value, func(r rune) bool { return r < ' ' || r == 0x7f }) {
		c.faults.Range(field, "the text has control characters, or bytes that are not UTF-8", nil, nil, "send plain text on one line")
		return ""
	}
	return value
}

// day returns a text that is a day, or empty.
func (c checker) day(field, value string) string {
	if _, err := time.Parse(time.DateOnly, value); err != nil && value != "" {
		c.faults.Any(fault(domain.Unreadable, "wrong-type", field, quoteClipped(value)+" is no date", "send a date such as 2027-03-31"))
	}
	return value
}

// word checks a value that is one of a few words.
func (c checker) word(field, value string, allowed ...string) string {
	if value != "" && !slices.Contains(allowed, value) {
		c.faults.Any(fault(domain.Invalid, "value-out-of-range", field, strconv.Quote(clip(value))+" is none of the words known here", "send one of "+strings.Join(allowed, ", ")))
		return ""
	}
	return value
}

// machineFromWire checks a machine record, stored or inline, and turns it into the
// domain's. The wire shape is metric already. Every fault is added to faults under
// the prefix, the path of the machine in the request (empty for the body itself).
// The result is usable only when no fault was added.
func machineFromWire(m *wire.Machine, prefix string, faults *cut.Faults) *machine.Machine {
	c := checker{faults: faults, inch: m.Units == unit.Inch.String()}
	at := func(name string) string { return join(prefix, name) }
	out := &machine.Machine{ID: m.ID, Name: c.text(at("name"), m.Name, longestName), Note: c.text(at("note"), m.Note, longestNote)}
	if m.ID != "" && !goodID(m.ID) {
		faults.Range(at("id"), "the id "+strconv.Quote(clip(m.ID))+" cannot be used", nil, nil, "use 1 to 64 letters, digits, dots, dashes and underscores, beginning with a letter or digit")
	}
	if m.Units == "" {
		faults.Any(fault(domain.Unreadable, "units-missing", at("units"), "the machine does not say in which units its numbers are", "say metric or inch"))
	}
	if out.Process = c.word(at("process"), m.Process, machine.Milling, machine.Turning); m.Process == "" {
		faults.Missing(at("process"), "a machine is for milling or for turning")
	}
	if m.Spindle == nil {
		faults.Missing(at("spindle"), "the spindle is required: max_speed, efficiency and gears with an S1 rating")
	} else {
		out.Spindle = c.spindle(m.Spindle, at("spindle"))
	}
	if a := m.Axes; a != nil {
		out.Axes = machine.Axes{
			MaxFeedRateMMPerMin:    c.opt(at("axes.max_feed_rate"), a.MaxFeedRate, bound{unit.FeedRate, mostFeedMMPerMin, false}),
			MaxArcFeedRateMMPerMin: c.opt(at("axes.max_arc_feed_rate"), a.MaxArcFeedRate, bound{unit.FeedRate, mostFeedMMPerMin, false}),
			MaxFeedForceN:          c.opt(at("axes.max_feed_force"), a.MaxFeedForce, bound{unit.Force, mostForceN, false}),
			AccelerationMPerS2:     c.opt(at("axes.acceleration"), a.Acceleration, bound{unit.Acceleration, mostAccelMPerS2, false}),
			RapidRateMMPerMin:      c.opt(at("axes.rapid_rate"), a.RapidRate, bound{unit.FeedRate, mostFeedMMPerMin, false}),
		}
	}
	if m.Coolant != nil {
		out.Coolant = c.coolant(m.Coolant, at("coolant"))
	}
	out.SynchronousTapping = m.SynchronousTapping
	out.ToolChangeSeconds = c.opt(at("tool_change_time"), m.ToolChangeTime, bound{unit.Seconds, mostChangeSeconds, true})
	if m.Meter != nil {
		out.Meter = c.meter(m.Meter, at("meter"))
	}
	out.WorkHolding = c.workHolding(m.WorkHolding, at("work_holding"))
	out.Basis = domain.Basis(c.word(at("basis"), m.Basis, string(domain.Published), string(domain.Recalled), string(domain.CommonPractice), string(domain.Shop), string(domain.Derived), string(domain.Demo)))
	if out.Basis == "" {
		out.Basis = domain.Shop
		if prefix != "" {
			out.Basis = domain.Request
		}
	}
	return out
}

func (c checker) coolant(k *wire.MachineCoolant, prefix string) machine.Coolant {
	var out machine.Coolant
	for i, name := range k.Deliveries {
		field := index(prefix+".deliveries", i)
		if slices.Contains(out.Deliveries, name) {
			c.faults.Conflict(field, strconv.Quote(clip(name))+" is listed twice")
			continue
		}
		if name == "" {
			c.faults.Missing(field, "a delivery has a name")
			continue
		}
		if name = c.word(field, name, deliveries...); name != "" {
			out.Deliveries = append(out.Deliveries, name)
		}
	}
	if k.Deliveries != nil && out.Deliveries == nil {
		out.Deliveries = []string{}
	}
	out.ThroughToolPressureBar = c.opt(prefix+".through_tool_pressure", k.ThroughToolPressure, bound{unit.Pressure, mostPressureBar, true})
	if out.ThroughToolPressureBar.V > 0 && len(k.Deliveries) > 0 && !slices.Contains(k.Deliveries, "through-tool") {
		c.faults.Conflict(prefix+".through_tool_pressure", "a pressure through the tool, and through-tool is not among the deliveries")
	}
	return out
}

func (c checker) meter(m *wire.Meter, prefix string) *machine.Meter {
	out := &machine.Meter{
		PercentOf: c.text(prefix+".percent_of", m.PercentOf, longestName),
		Quantity:  c.word(prefix+".quantity", m.Quantity, "power", "torque", "current"),
		Point:     c.word(prefix+".point", m.Point, "motor", "spindle"),
	}
	if out.PercentOf != "" {
		if _, err := machine.ParseDuty(out.PercentOf); err != nil {
			c.faults.Range(prefix+".percent_of", strconv.Quote(clip(out.PercentOf))+" is no rating", nil, nil, ratingFix)
		}
	}
	return out
}

// workHoldingFromWire checks how a part is held in a cut. Faults are added under
// the prefix.
func workHoldingFromWire(w *wire.WorkHolding, prefix string, faults *cut.Faults) *machine.WorkHolding {
	return checker{faults: faults}.workHolding(w, prefix)
}

// workHolding checks how a part is held, nil when that is not said.
func (c checker) workHolding(w *wire.WorkHolding, prefix string) *machine.WorkHolding {
	if w == nil {
		return nil
	}
	return &machine.WorkHolding{
		Kind:           c.text(prefix+".kind", w.Kind, longestName),
		MaxSpeedPerMin: c.opt(prefix+".max_speed", w.MaxSpeed, bound{unit.Rotation, mostSpeedPerMin, false}),
		JawsCount:      c.opt(prefix+".jaws", w.Jaws, bound{unit.None, mostJaws, false}),
		JawMassKg:      c.opt(prefix+".jaw_mass", w.JawMass, bound{unit.Mass, mostMassKg, false}),
		JawRadiusMM:    c.opt(prefix+".jaw_radius", w.JawRadius, bound{unit.Length, mostLengthMM, false}),
		GripDiameterMM: c.opt(prefix+".grip_diameter", w.GripDiameter, bound{unit.Length, mostLengthMM, false}),
		FrictionRatio:  c.opt(prefix+".friction", w.Friction, bound{unit.None, mostFrictionRatio, false}),
		StaticGripN:    c.opt(prefix+".static_grip", w.StaticGrip, bound{unit.Force, mostForceN, false}),
		SafetyRatio:    c.opt(prefix+".safety", w.Safety, bound{unit.None, mostSafetyRatio, false}),
		Catcher:        w.Catcher,
	}
}

// goodID reports whether a caller's id can stand in a path as it is.
func goodID(id string) bool {
	if id == "" || len(id) > 64 || strings.ContainsFunc(id, notPlain) {
		return false
	}
	first := id[0]
	return first != '.' && first != '-' && first != '_'
}

// join puts a name behind a prefix that may be empty.
func join(prefix, name string) string {
	if prefix == "" {
		return name
	}
	return prefix + "." + name
}

// index is the path of a member of a list.
func index(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }
