package estimate

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"swarf/domain"
	"swarf/domain/force"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// MachineLoad is the cut held against a machine.
type MachineLoad struct {
	Machine *machine.Machine
	Gear    *machine.Gear // nil: no gear reaches the speed
	Rating  machine.Duty  // the one held against
	Limits  []Limit

	AvailableTorqueNm unit.Opt // what the curve gives at that speed, at the tool
	AvailablePowerKW  unit.Opt
	MotorPowerKW      unit.Opt
}

// Limit is one limit of machine or tool: demand of the sharp and of the worn edge
// against what is allowed.
type Limit struct {
	Name             string
	Quantity         unit.Quantity
	Demand, Worn     float64
	Allowed          float64
	Utilisation      float64
	UtilisationWorn  float64
	ProbabilityRatio unit.Opt // that the limit holds with the worn edge
	Binding          bool
}

// Limit finds a limit by name.
func (m *MachineLoad) Limit(name string) (*Limit, bool) {
	for i := range m.Limits {
		if m.Limits[i].Name == name {
			return &m.Limits[i], true
		}
	}
	return nil, false
}

// Binding returns the name of the limit that is used most, empty without any.
func (m *MachineLoad) Binding() string {
	for i := range m.Limits {
		if m.Limits[i].Binding {
			return m.Limits[i].Name
		}
	}
	return ""
}

// against holds the estimate against a machine. Allowed values are at the tool.
func (e *Estimate) against(m *machine.Machine) *MachineLoad {
	n := e.Motion.SpindleSpeedPerMin
	load := &MachineLoad{Machine: m, Rating: machine.Continuous, Limits: make([]Limit, 0, 8)}
	load.Gear = m.Spindle.GearFor(machine.Reach{SpeedPerMin: n, Duty: e.Cut.Rating})
	if load.Gear != nil {
		rating := load.Gear.Held(e.Cut.Rating)
		load.Rating = rating.Duty
		eta := m.Spindle.EfficiencyRatio
		load.AvailableTorqueNm = unit.Some(rating.TorqueNmAt(n) * eta)
		load.AvailablePowerKW = unit.Some(rating.PowerKWAt(n) * eta)
		if e.HasLoads {
			drive := force.Drive{EfficiencyRatio: eta, IdlePowerKW: m.Spindle.IdlePowerKW}
			load.MotorPowerKW = unit.Some(drive.MotorPowerKW(e.Sharp.PowerKW))
			load.load(e, "torque", unit.Torque, e.Sharp.TorqueNm, rating.MaxTorqueNm()*eta)
			load.load(e, "power", unit.Power, e.Sharp.PowerKW, PowerAllowedKW(m, rating, n))
		}
	}
	load.speed("spindle_speed", unit.Rotation, n, m.Spindle.MaxSpeedPerMin)
	if r := e.Cut.Tool.MaxSpindleSpeedPerMin; r != nil {
		load.speed("tool_speed", unit.Rotation, n, *r)
	}
	if most := e.Cut.Tool.MaxTorqueNm; most != nil && e.HasLoads {
		load.load(e, "tool_torque", unit.Torque, e.Sharp.TorqueNm, *most)
	}
	if chuck, ok := chuckSpeed(e); ok {
		load.speed("chuck_speed", unit.Rotation, n, chuck)
	}
	e.axes(load)
	if g := e.Grip; g != nil {
		load.load(e, "grip", unit.Force, g.NeededN/e.WearRatio, g.AtSpeedN)
	}
	load.bind()
	return load
}

func (e *Estimate) axes(load *MachineLoad) {
	axes := &load.Machine.Axes
	if axes.MaxFeedRateMMPerMin.OK {
		load.speed("feed_rate", unit.FeedRate, e.Motion.FeedRateMMPerMin, axes.MaxFeedRateMMPerMin.V)
	} else {
		e.unchecked("feed_rate", "the machine's max_feed_rate")
	}
	if most := axes.MaxArcFeedRateMMPerMin; most.OK && e.Cut.Operation.Circles() {
		load.speed("arc_feed_rate", unit.FeedRate, e.Motion.FeedRateMMPerMin, most.V)
	}
	if r := e.Cut.Rotary; r != nil && r.DegPerMM != nil && r.MaxRateDegPerMin != nil {
		load.speed("rotary_rate", unit.AngleRate, e.Motion.FeedRateMMPerMin**r.DegPerMM, *r.MaxRateDegPerMin)
	}
	switch {
	case !axes.MaxFeedForceN.OK:
		e.unchecked("feed_force", "the machine's max_feed_force")
	case e.HasLoads && e.Sharp.FeedForceN.OK:
		load.load(e, "feed_force", unit.Force, e.Sharp.FeedForceN.V, axes.MaxFeedForceN.V)
	}
	if load.Machine.Process == machine.Turning {
		if _, ok := chuckSpeed(e); !ok {
			e.unchecked("chuck_speed", "the chuck's max_speed in work_holding")
		}
	}
}

// chuckSpeed is the highest speed of what holds the part, on a turning machine.
func chuckSpeed(e *Estimate) (float64, bool) {
	m := e.Cut.Machine
	if m == nil || m.Process != machine.Turning {
		return 0, false
	}
	for _, h := range []*machine.WorkHolding{e.Cut.WorkHolding, m.WorkHolding} {
		if h != nil && h.MaxSpeedPerMin.OK {
			return h.MaxSpeedPerMin.V, true
		}
	}
	return 0, false
}

func (e *Estimate) unchecked(check, needs string) {
	e.Unchecked = append(e.Unchecked, domain.Unchecked{Check: check, Needs: needs})
}

// load adds a limit that wear moves and whose demand spreads.
func (m *MachineLoad) load(e *Estimate, name string, q unit.Quantity, demand, allowed float64) {
	l := Limit{Name: name, Quantity: q, Demand: demand, Worn: demand * e.WearRatio, Allowed: allowed}
	if allowed > 0 {
		l.Utilisation, l.UtilisationWorn = l.Demand/allowed, l.Worn/allowed
		l.ProbabilityRatio = unit.Some(holds(l.UtilisationWorn, e.SpreadRatio))
	} else {
		l.Utilisation, l.UtilisationWorn, l.ProbabilityRatio = 999, 999, unit.Some(0)
	}
	m.Limits = append(m.Limits, l)
}

// speed adds a limit that is known exactly.
func (m *MachineLoad) speed(name string, q unit.Quantity, demand, allowed float64) {
	u := demand / allowed
	p := 1.0
	if u > 1+1e-9 {
		p = 0
	}
	m.Limits = append(m.Limits, Limit{Name: name, Quantity: q, Demand: demand, Worn: demand, Allowed: allowed, Utilisation: u, UtilisationWorn: u, ProbabilityRatio: unit.Some(p)})
}

// bind marks the limit that is used most with a worn edge; the first of equals, so
// that a tie is torque's.
func (m *MachineLoad) bind() {
	most := -1
	for i := range m.Limits {
		if most < 0 || m.Limits[i].UtilisationWorn > m.Limits[most].UtilisationWorn*(1+1e-9) {
			most = i
		}
	}
	if most >= 0 {
		m.Limits[most].Binding = true
	}
}

// holds is the probability that a log-normal demand with a median utilisation and
// a spread stays within what is allowed.
func holds(utilisation, spread float64) float64 {
	if spread <= 0 {
		if utilisation <= 1 {
			return 1
		}
		return 0
	}
	return distuv.UnitNormal.CDF(-math.Log(utilisation) / spread)
}

// Quantile is a one-sided factor on a median demand: exp(z·s).
//
// Range: 0 < probability < 1. Errors: none. Source: log-normal distribution.
func (e *Estimate) Quantile(probability float64) float64 {
	return math.Exp(distuv.UnitNormal.Quantile(probability) * e.SpreadRatio)
}
