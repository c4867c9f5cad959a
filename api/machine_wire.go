package api

import (
	"swarf/api/wire"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// pointer is a stored number for the wire.
func pointer(v float64) *float64 { return &v }

// given is a stored number that may be absent, for the wire.
func given(o unit.Opt) *float64 {
	if !o.OK {
		return nil
	}
	return &o.V
}

// machineToWire writes a machine record for the wire, metric. Units names what
// the encoder converts it to.
func machineToWire(m *machine.Machine, system unit.System) wire.Machine {
	out := wire.Machine{
		ID:      m.ID,
		Name:    m.Name,
		Units:   system.String(),
		Process: m.Process,
		Spindle: &wire.Spindle{
			MaxSpeed:   pointer(m.Spindle.MaxSpeedPerMin),
			Efficiency: pointer(m.Spindle.EfficiencyRatio),
			IdlePower:  pointer(m.Spindle.IdlePowerKW),
			Gears:      make([]wire.Gear, len(m.Spindle.Gears)),
		},
		SynchronousTapping: m.SynchronousTapping,
		ToolChangeTime:     given(m.ToolChangeSeconds),
		WorkHolding:        workHoldingToWire(m.WorkHolding),
		Basis:              string(m.Basis),
		Note:               m.Note,
	}
	for i := range m.Spindle.Gears {
		out.Spindle.Gears[i] = gearToWire(&m.Spindle.Gears[i])
	}
	if a := m.Axes; a != (machine.Axes{}) {
		out.Axes = &wire.Axes{
			MaxFeedRate:    given(a.MaxFeedRateMMPerMin),
			MaxArcFeedRate: given(a.MaxArcFeedRateMMPerMin),
			MaxFeedForce:   given(a.MaxFeedForceN),
			Acceleration:   given(a.AccelerationMPerS2),
			RapidRate:      given(a.RapidRateMMPerMin),
		}
	}
	if c := m.Coolant; c.Deliveries != nil || c.ThroughToolPressureBar.OK {
		out.Coolant = &wire.MachineCoolant{Deliveries: c.Deliveries, ThroughToolPressure: given(c.ThroughToolPressureBar)}
	}
	if m.Meter != nil {
		out.Meter = &wire.Meter{PercentOf: m.Meter.PercentOf, Quantity: m.Meter.Quantity, Point: m.Meter.Point}
	}
	return out
}

func gearToWire(g *machine.Gear) wire.Gear {
	out := wire.Gear{
		Gear:     g.Name,
		MinSpeed: pointer(g.MinSpeedPerMin),
		MaxSpeed: pointer(g.MaxSpeedPerMin),
		Ratings:  make([]wire.Rating, len(g.Ratings)),
	}
	for i := range g.Ratings {
		out.Ratings[i] = ratingToWire(&g.Ratings[i])
	}
	return out
}

func ratingToWire(r *machine.Rating) wire.Rating {
	out := wire.Rating{Rating: r.Duty.String()}
	if d := r.Duty; (d.Type == "S3" || d.Type == "S6") && d.CycleMinutes != machine.DefaultCycleMinutes {
		out.Duty = pointer(d.CycleMinutes)
	}
	if len(r.Points) == 0 {
		out.Power, out.Torque = pointer(r.PowerKW), pointer(r.TorqueNm)
		return out
	}
	out.Points = make([]wire.Point, len(r.Points))
	for i, p := range r.Points {
		out.Points[i] = wire.Point{Speed: pointer(p.SpeedPerMin), Power: pointer(p.PowerKW)}
	}
	return out
}

func workHoldingToWire(w *machine.WorkHolding) *wire.WorkHolding {
	if w == nil {
		return nil
	}
	return &wire.WorkHolding{
		Kind:         w.Kind,
		MaxSpeed:     given(w.MaxSpeedPerMin),
		Jaws:         given(w.JawsCount),
		JawMass:      given(w.JawMassKg),
		JawRadius:    given(w.JawRadiusMM),
		GripDiameter: given(w.GripDiameterMM),
		Friction:     given(w.FrictionRatio),
		StaticGrip:   given(w.StaticGripN),
		Safety:       given(w.SafetyRatio),
		Catcher:      w.Catcher,
	}
}
