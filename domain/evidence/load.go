// Package evidence reads what a shop measured: a load on a meter, the life of an edge, a
// surface. It takes a reading back to what the tool asked for, and says what is wrong with
// evidence that proves nothing. What is set aside is kept with its reasons; nothing here
// changes a record.
package evidence

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// Load is a reading of a load meter. Value is in kW, N·m, N or percent, as Quantity says.
type Load struct {
	Quantity  string // power, torque, percent
	Value     float64
	Point     string   // motor or spindle; empty: as the machine's meter says, else motor
	IdleKW    unit.Opt // what the meter showed before the cut; absent: the machine's own
	Transient bool     // entry, exit, or not yet steady
	InCut     unit.Opt // minutes the edge had been in the cut
}

// Seen is what a load reading says of the metal: the torque at the tool, and the logarithms
// of the force constant at the common exponent and of the chip thickness that go with it.
type Seen struct {
	TorqueNm        float64
	OfRatingRatio   float64 // net, of what the rating gives at that speed; 0: unknown
	OfExpectedRatio float64 // over the torque of the sharp edge by the record; 0: none
	ForceExp        float64 // ln of kc1.1 in N/mm², taken at CommonExp
	ThicknessExp    float64 // ln of the chip thickness in mm that the torque rests on
	WearRatio       float64 // minutes in the cut over the edge's life; Unworn when unknown
	WearKnown       bool
}

// Doubt is why a reading proves nothing: a code and a text.
type Doubt struct{ Code, Text string }

// Bounds of readings that prove something. Common practice, no source: a net load under a
// tenth of the rating drowns in friction; one three times off its record is another cut.
const (
	leastOfRating = 0.10
	farRatio      = 3.0
	// CommonExp is the exponent at which force constants of different cuts are compared.
	CommonExp = 0.25
	// Unworn is the share of its life taken for an edge of unknown age, half of it.
	Unworn = 0.5
)

// Read takes a reading back to the tool. ok is false where it cannot be: then the doubts
// say why. Where it can, doubts set it aside.
func (l Load) Read(e *estimate.Estimate) (s Seen, doubts []Doubt, ok bool) {
	doubt := func(code, text string) { doubts = append(doubts, Doubt{code, text}) }
	c, m := e.Cut, e.Cut.Machine
	if m == nil {
		doubt("machine-unknown", "a load is of a machine: name it")
		return s, doubts, false
	}
	motorKW, known := l.motorKW(e, m)
	if !known {
		doubt("percent-of-unknown", "percent of what, and where? The machine's meter does not say")
		return s, doubts, false
	}
	net := motorKW
	if l.point(m) != "spindle" {
		net = (motorKW - l.IdleKW.Or(m.Spindle.IdlePowerKW)) * m.Spindle.EfficiencyRatio
	}
	if l.Quantity == "torque" && l.point(m) == "spindle" {
		net = l.Value * e.Motion.SpindleSpeedPerMin * math.Pi / 30000
	}
	if net <= 0 {
		doubt("load-too-small", "nothing is left of the load once idling is taken off")
		return s, doubts, false
	}
	s.TorqueNm = net * 30000 / (math.Pi * e.Motion.SpindleSpeedPerMin)
	if l.Transient {
		doubt("transient", "the load was not steady")
	}
	if load := e.Machine; load != nil && load.AvailablePowerKW.OK && load.AvailablePowerKW.V > 0 {
		if s.OfRatingRatio = net / load.AvailablePowerKW.V; s.OfRatingRatio < leastOfRating {
			doubt("load-too-small", "the net load is under a tenth of the rating at that speed")
		}
	}
	if e.HasLoads && e.Sharp.TorqueNm > 0 {
		s.OfExpectedRatio = s.TorqueNm / e.Sharp.TorqueNm
		if s.OfExpectedRatio > farRatio || s.OfExpectedRatio < 1/farRatio {
			doubt("far-outside-record", "the load is more than three times off the record: another cut, tool or meter than was said")
		}
	}
	s.WearRatio = Unworn
	if l.InCut.OK && e.Life != nil && e.Life.MedianMinutes > 0 {
		s.WearRatio, s.WearKnown = min(2, l.InCut.V/e.Life.MedianMinutes), true
	}
	return s, doubts, s.constants(c)
}

// point is where the meter sits.
func (l Load) point(m *machine.Machine) string {
	if l.Point == "" && m.Meter != nil {
		return m.Meter.Point
	}
	return l.Point
}

// motorKW is the power that the reading stands for, before idling is taken off.
func (l Load) motorKW(e *estimate.Estimate, m *machine.Machine) (kw float64, known bool) {
	turns := e.Motion.SpindleSpeedPerMin * math.Pi / 30000 // kW per N·m
	switch l.Quantity {
	case "power":
		return l.Value, true
	case "torque":
		return l.Value * turns, true
	}
	meter := m.Meter
	if meter == nil || meter.PercentOf == "" || e.Machine == nil || e.Machine.Gear == nil {
		return 0, false
	}
	duty, err := machine.ParseDuty(meter.PercentOf)
	if err != nil {
		return 0, false
	}
	rating, ok := e.Machine.Gear.Rating(duty)
	switch {
	case !ok:
	case meter.Quantity == "power":
		return l.Value / 100 * rating.LimitPowerKW(e.Motion.SpindleSpeedPerMin), true
	case meter.Quantity == "torque":
		return l.Value / 100 * rating.MaxTorqueNm() * turns, true
	}
	return 0, false
}

// constants fills the logarithms: the cut is computed with a bare law, once at the common
// exponent and once beside it, so that any engagement gives the thickness it rests on.
func (s *Seen) constants(c *cut.Cut) bool {
	at := func(exp float64) (float64, bool) {
		one := 1.0
		bare := *c
		bare.Force = &cut.ForceData{SpecificCuttingForce11NPerMM2: &one, ChipThicknessExp: &exp}
		l, ok := estimate.LoadsOf(&bare)
		return math.Log(l.TorqueNm), ok && l.TorqueNm > 0
	}
	const step = 0.01
	common, ok := at(CommonExp)
	beside, also := at(CommonExp + step)
	s.ForceExp = math.Log(s.TorqueNm) - common
	s.ThicknessExp = -(beside - common) / step
	return ok && also
}
