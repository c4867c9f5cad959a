package estimate

import (
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// OverContinuous reports a cut on a machine whose worn edge asks for more torque or power
// than the continuous rating gives, so that it leans on a short-term one.
func (e *Estimate) OverContinuous() bool {
	m := e.Machine
	if m == nil || m.Gear == nil || !e.HasLoads {
		return false
	}
	s1, n := m.Gear.Held(machine.Continuous), e.Motion.SpindleSpeedPerMin
	torque := s1.MaxTorqueNm() * m.Machine.Spindle.EfficiencyRatio
	return e.Sharp.TorqueNm*e.WearRatio > torque*(1+1e-9) || e.Sharp.PowerKW*e.WearRatio > PowerAllowedKW(m.Machine, s1, n)*(1+1e-9)
}

// Program is a sequence of cuts on one machine, as its short-term ratings see it.
type Program struct {
	CuttingMinutes float64
	OverMinutes    float64 // over the continuous rating
	LongestMinutes float64 // over it without a cut under it between
	UnknownCount   int     // cuts without a path, whose time is not known
	running        float64
}

// Add takes up the next cut.
func (p *Program) Add(minutes unit.Opt, over bool) {
	switch {
	case !minutes.OK:
		p.UnknownCount++
	case over:
		p.OverMinutes += minutes.V
		p.running += minutes.V
		p.LongestMinutes = max(p.LongestMinutes, p.running)
	default:
		p.running = 0
	}
	p.CuttingMinutes += minutes.Or(0)
}

// Allowed reports whether a duty allows what the program leans on it: the longest stretch,
// and the share of the cutting time. Pauses between cuts are not counted, so that it is on
// the safe side.
func (p *Program) Allowed(d machine.Duty) bool {
	return p.OverMinutes == 0 || d.ShortTerm() && d.Allows(machine.Use{CuttingMinutes: p.LongestMinutes, CycleMinutes: p.LongestMinutes * p.CuttingMinutes / p.OverMinutes})
}
