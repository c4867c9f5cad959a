package finding

import (
	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// side is torque or power: where the two differ is only their names.
type side struct {
	name           string
	exceeded, term string
	quantity       unit.Quantity
	demand         float64
	continuous     float64 // allowed by S1
	highest        float64 // of all ratings on file
	shortTerm      float64 // of the short-term ratings, 0 when there are none
	held           float64 // of the rating asked for
	fix            string
}

// spindle judges speed, torque and power against the machine.
func (j *judge) spindle() {
	load := j.e.Machine
	n := j.e.Motion.SpindleSpeedPerMin
	if load == nil {
		return
	}
	m := load.Machine
	if !does(m, j.c.Operation.Family) {
		j.tells("process-not-on-machine", domain.Refusal, "machine", m.Process+" machine "+m.ID+" does not do "+j.c.Operation.Name, "use a machine that does")
	}
	if load.Gear == nil {
		j.noGear(m, n)
		return
	}
	if !j.e.HasLoads {
		return
	}
	eta := m.Spindle.EfficiencyRatio
	highest, short := load.Gear.HighestAt(n, false), load.Gear.HighestAt(n, true)
	s1, held := load.Gear.Held(machine.Continuous), load.Gear.Held(j.c.Rating)
	idle := m.Spindle.IdlePowerKW
	left := func(kw float64) float64 { return max(0, kw-idle) * eta }
	torque := side{name: "torque", exceeded: "spindle-torque-exceeded", term: "spindle-torque-short-term", quantity: unit.Torque,
		demand: j.e.Sharp.TorqueNm, continuous: s1.MaxTorqueNm() * eta, highest: highest.TorqueNm * eta,
		shortTerm: short.TorqueNm * eta, held: held.MaxTorqueNm() * eta,
		fix: "less width, depth or feed, a lower gear, or another machine; lower speed alone does not help"}
	power := side{name: "power", exceeded: "spindle-power-exceeded", term: "spindle-power-short-term", quantity: unit.Power,
		demand: j.e.Sharp.PowerKW, continuous: estimate.PowerAllowedKW(m, s1, n), highest: left(highest.PowerKW),
		shortTerm: left(short.PowerKW), held: estimate.PowerAllowedKW(m, held, n), fix: "lower the speed"}
	j.side(load, &torque)
	j.side(load, &power)
	j.duty(load, &torque, &power)
	j.peak(&torque)
}

// noGear says why no gear reaches the speed.
func (j *judge) noGear(m *machine.Machine, n float64) {
	if over(n, m.Spindle.MaxSpeedPerMin) || !j.below(m, n) {
		top := 0.0
		for _, g := range m.Spindle.Gears {
			top = max(top, g.MaxSpeedPerMin)
		}
		j.says("spindle-speed-exceeded", domain.Refusal, "parameters.spindle_speed", unit.Rotation, n, min(top, m.Spindle.MaxSpeedPerMin),
			"{value} is over the spindle's {limit}", "lower the speed; the edge then sees less than was asked")
		return
	}
	j.tells("spindle-speed-not-in-gear", domain.Hold, "parameters.spindle_speed", "no gear of "+m.ID+" is on file for this speed", "a speed inside a gear's range")
}

func (j *judge) below(m *machine.Machine, n float64) bool {
	for _, g := range m.Spindle.Gears {
		if n <= g.MaxSpeedPerMin {
			return true
		}
	}
	return false
}

// side judges torque or power: refused when the sharp edge passes every rating on
// file or the worn edge the highest short-term one; held when only S1 is passed and
// no short-term rating with a duty inside it was asked for.
func (j *judge) side(load *estimate.MachineLoad, s *side) {
	worn := s.demand * j.e.WearRatio
	field := "machine." + s.name
	switch {
	case over(s.demand, s.highest):
		j.says(s.exceeded, domain.Refusal, field, s.quantity, s.demand, s.highest,
			s.name+" {value} is over {limit}, the highest rating on file for gear "+load.Gear.Name, s.fix)
	case over(s.shortTerm, s.continuous) && over(worn, s.shortTerm): // one that is not over S1 says nothing
		j.says(s.exceeded, domain.Refusal, field, s.quantity, worn, s.shortTerm,
			s.name+" {value} with a worn edge is over {limit}, the highest short-term rating on file", s.fix)
	case over(max(s.demand, worn), s.continuous):
		if load.Rating.ShortTerm() && !over(worn, s.held) && j.c.Duty != nil && load.Rating.Allows(*j.c.Duty) {
			break
		}
		which := s.demand
		text := " {value} is over the continuous {limit}"
		if !over(s.demand, s.continuous) {
			which, text = worn, " {value} with a worn edge is over the continuous {limit}"
		}
		j.says(s.term, domain.Hold, field, s.quantity, which, s.continuous, s.name+text,
			"fit S1, or ask for a short-term rating and state its minutes and duty")
	}
	if u := worn / s.held; over(u, 0.85) && !over(u, 1) {
		j.says("spindle-margin-thin", domain.Warning, field, unit.None, u, 0.85,
			"a worn edge uses {value} of the "+s.name+" that "+load.Rating.String()+" allows", "keep edges fresh, or reduce")
	}
}

// duty judges how long a short-term rating is used.
func (j *judge) duty(load *estimate.MachineLoad, torque, power *side) {
	d := j.c.Duty
	if d == nil || !load.Rating.ShortTerm() || load.Rating.Allows(*d) {
		return
	}
	if over(torque.demand*j.e.WearRatio, torque.continuous) || over(power.demand*j.e.WearRatio, power.continuous) {
		j.tells("spindle-duty-exceeded", domain.Hold, "duty", load.Rating.String()+" is used longer or oftener than it allows", "fit S1, or split the cut")
	}
}

// peak judges the largest torque of a revolution.
func (j *judge) peak(torque *side) {
	peak, mean := j.e.Sharp.TorquePeakNm, j.e.Sharp.TorqueNm
	if over(peak, torque.held) && !over(mean, torque.held) || peak > 1.3*mean && mean >= torque.held/2 {
		j.says("torque-peak-high", domain.Warning, "loads.torque_peak", unit.Torque, peak, torque.held,
			"peak torque is {value} at a mean that fits {limit}", "more edges, more helix, or less depth")
	}
}
