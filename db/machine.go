package db

import (
	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

type machineRow struct {
	ID                     string          `json:"id"`
	Name                   string          `json:"name"`
	Process                string          `json:"process"`
	MaxSpeedPerMin         float64         `json:"max_speed_per_min"`
	EfficiencyRatio        float64         `json:"efficiency_ratio"`
	IdlePowerKW            float64         `json:"idle_power_kw"`
	Gears                  []gearRow       `json:"gears"`
	MaxFeedRateMMPerMin    unit.Opt        `json:"max_feed_rate_mm_per_min"`
	MaxArcFeedRateMMPerMin unit.Opt        `json:"max_arc_feed_rate_mm_per_min"`
	MaxFeedForceN          unit.Opt        `json:"max_feed_force_n"`
	AccelerationMPerS2     unit.Opt        `json:"acceleration_m_per_s2"`
	RapidRateMMPerMin      unit.Opt        `json:"rapid_rate_mm_per_min"`
	CoolantDeliveries      []string        `json:"coolant_deliveries"` // NULL: unknown
	ThroughToolPressureBar unit.Opt        `json:"through_tool_pressure_bar"`
	SynchronousTapping     *bool           `json:"synchronous_tapping"`
	ToolChangeSeconds      unit.Opt        `json:"tool_change_seconds"`
	Meter                  *meterRow       `json:"meter"`
	WorkHolding            *workHoldingRow `json:"work_holding"`
	Basis                  domain.Basis    `json:"basis"`
	Note                   string          `json:"note"`
	Revision               int64           `json:"revision"`
}

type gearRow struct {
	Name           string      `json:"name"`
	MinSpeedPerMin float64     `json:"min_speed_per_min"`
	MaxSpeedPerMin float64     `json:"max_speed_per_min"`
	Ratings        []ratingRow `json:"ratings"`
}

type ratingRow struct {
	Duty     dutyRow    `json:"duty"`
	PowerKW  float64    `json:"power_kw"`
	TorqueNm float64    `json:"torque_nm"`
	Points   []pointRow `json:"points,omitempty"`
}

type dutyRow struct {
	Type         string  `json:"type"`
	Percent      float64 `json:"percent"`
	CycleMinutes float64 `json:"cycle_minutes"`
}

type pointRow struct {
	SpeedPerMin float64 `json:"speed_per_min"`
	PowerKW     float64 `json:"power_kw"`
}

type meterRow struct {
	PercentOf string `json:"percent_of"`
	Quantity  string `json:"quantity"`
	Point     string `json:"point"`
}

type workHoldingRow struct {
	Kind           string   `json:"kind"`
	MaxSpeedPerMin unit.Opt `json:"max_speed_per_min,omitzero"`
	JawsCount      unit.Opt `json:"jaws_count,omitzero"`
	JawMassKg      unit.Opt `json:"jaw_mass_kg,omitzero"`
	JawRadiusMM    unit.Opt `json:"jaw_radius_mm,omitzero"`
	GripDiameterMM unit.Opt `json:"grip_diameter_mm,omitzero"`
	FrictionRatio  unit.Opt `json:"friction_ratio,omitzero"`
	StaticGripN    unit.Opt `json:"static_grip_n,omitzero"`
	SafetyRatio    unit.Opt `json:"safety_ratio,omitzero"`
	Catcher        *bool    `json:"catcher,omitempty"`
}

func machineRowOf(m *machine.Machine) machineRow {
	row := machineRow{
		ID: m.ID, Name: m.Name, Process: m.Process,
		MaxSpeedPerMin: m.Spindle.MaxSpeedPerMin, EfficiencyRatio: m.Spindle.EfficiencyRatio, IdlePowerKW: m.Spindle.IdlePowerKW,
		Gears:                  make([]gearRow, 0, len(m.Spindle.Gears)),
		MaxArcFeedRateMMPerMin: m.Axes.MaxArcFeedRateMMPerMin,
		MaxFeedRateMMPerMin:    m.Axes.MaxFeedRateMMPerMin, MaxFeedForceN: m.Axes.MaxFeedForceN,
		AccelerationMPerS2: m.Axes.AccelerationMPerS2, RapidRateMMPerMin: m.Axes.RapidRateMMPerMin,
		CoolantDeliveries: m.Coolant.Deliveries, ThroughToolPressureBar: m.Coolant.ThroughToolPressureBar,
		SynchronousTapping: m.SynchronousTapping, ToolChangeSeconds: m.ToolChangeSeconds,
		Meter: (*meterRow)(m.Meter), Basis: m.Basis, Note: m.Note,
	}
	if m.WorkHolding != nil {
		held := workHoldingRow(*m.WorkHolding)
		row.WorkHolding = &held
	}
	for _, g := range m.Spindle.Gears {
		gear := gearRow{Name: g.Name, MinSpeedPerMin: g.MinSpeedPerMin, MaxSpeedPerMin: g.MaxSpeedPerMin, Ratings: make([]ratingRow, 0, len(g.Ratings))}
		for _, r := range g.Ratings {
			rating := ratingRow{Duty: dutyRow(r.Duty), PowerKW: r.PowerKW, TorqueNm: r.TorqueNm}
			for _, p := range r.Points {
				rating.Points = append(rating.Points, pointRow(p))
			}
			gear.Ratings = append(gear.Ratings, rating)
		}
		row.Gears = append(row.Gears, gear)
	}
	return row
}

func (x machineRow) machine() machine.Machine {
	m := machine.Machine{
		ID: x.ID, Name: x.Name, Process: x.Process,
		Spindle: machine.Spindle{MaxSpeedPerMin: x.MaxSpeedPerMin, EfficiencyRatio: x.EfficiencyRatio, IdlePowerKW: x.IdlePowerKW},
		Axes: machine.Axes{MaxFeedRateMMPerMin: x.MaxFeedRateMMPerMin, MaxArcFeedRateMMPerMin: x.MaxArcFeedRateMMPerMin, MaxFeedForceN: x.MaxFeedForceN,
			AccelerationMPerS2: x.AccelerationMPerS2, RapidRateMMPerMin: x.RapidRateMMPerMin},
		Coolant:            machine.Coolant{Deliveries: x.CoolantDeliveries, ThroughToolPressureBar: x.ThroughToolPressureBar},
		SynchronousTapping: x.SynchronousTapping, ToolChangeSeconds: x.ToolChangeSeconds,
		Meter: (*machine.Meter)(x.Meter), Basis: x.Basis, Note: x.Note, Revision: x.Revision,
	}
	if x.WorkHolding != nil {
		held := machine.WorkHolding(*x.WorkHolding)
		m.WorkHolding = &held
	}
	for _, g := range x.Gears {
		gear := machine.Gear{Name: g.Name, MinSpeedPerMin: g.MinSpeedPerMin, MaxSpeedPerMin: g.MaxSpeedPerMin}
		for _, r := range g.Ratings {
			rating := machine.Rating{Duty: machine.Duty(r.Duty), PowerKW: r.PowerKW, TorqueNm: r.TorqueNm}
			for _, p := range r.Points {
				rating.Points = append(rating.Points, machine.Point(p))
			}
			gear.Ratings = append(gear.Ratings, rating)
		}
		m.Spindle.Gears = append(m.Spindle.Gears, gear)
	}
	return m
}
