package data

import (
	"slices"
	"strconv"
	"strings"

	"swarf/domain"
	"swarf/domain/machine"
)

// loadMachines reads the machines of the demonstration (demo/machines.csv) and
// their spindle ratings (demo/ratings.csv). They are invented and say so.
func loadMachines() ([]machine.Machine, error) {
	t, err := ReadTable(files, "demo/machines.csv", "id", "name", "process", "max_speed_per_min", "efficiency_ratio",
		"idle_power_kw", "max_feed_rate_mm_per_min", "max_feed_force_n", "acceleration_m_per_s2", "rapid_rate_mm_per_min",
		"coolant_deliveries", "through_tool_pressure_bar", "synchronous_tapping", "tool_change_seconds",
		"meter_percent_of", "meter_quantity", "meter_point", "holding_kind", "holding_max_speed_per_min", "jaws_count",
		"jaw_mass_kg", "jaw_radius_mm", "grip_diameter_mm", "friction_ratio", "static_grip_n", "safety_ratio", "catcher",
		"basis", "note")
	if err != nil {
		return nil, err
	}
	machines := make([]machine.Machine, 0, len(t.Rows))
	at := map[string]int{}
	for _, r := range t.Rows {
		m := machine.Machine{
			ID:      r.Unique("id"),
			Name:    r.Need("name"),
			Process: r.OneOf("process", machine.Milling, machine.Turning),
			Spindle: machine.Spindle{
				MaxSpeedPerMin:  r.Number("max_speed_per_min"),
				EfficiencyRatio: r.Number("efficiency_ratio"),
				IdlePowerKW:     r.Number("idle_power_kw"),
			},
			Axes: machine.Axes{
				MaxFeedRateMMPerMin: r.Opt("max_feed_rate_mm_per_min"),
				MaxFeedForceN:       r.Opt("max_feed_force_n"),
				AccelerationMPerS2:  r.Opt("acceleration_m_per_s2"),
				RapidRateMMPerMin:   r.Opt("rapid_rate_mm_per_min"),
			},
			Coolant: machine.Coolant{
				Deliveries:             r.List("coolant_deliveries"),
				ThroughToolPressureBar: r.Opt("through_tool_pressure_bar"),
			},
			SynchronousTapping: yesNo(r, "synchronous_tapping"),
			ToolChangeSeconds:  r.Opt("tool_change_seconds"),
			Basis:              domain.Basis(r.OneOf("basis", string(domain.Demo))),
			Note:               r.Need("note"),
			Revision:           1,
		}
		if r.Text("meter_percent_of") != "" {
			m.Meter = &machine.Meter{
				PercentOf: r.Text("meter_percent_of"),
				Quantity:  r.OneOf("meter_quantity", "power", "torque", "current"),
				Point:     r.OneOf("meter_point", "motor", "spindle"),
			}
		}
		if r.Text("holding_kind") != "" {
			m.WorkHolding = workHolding(r)
		}
		at[m.ID] = len(machines)
		machines = append(machines, m)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	return machines, readRatings(machines, at)
}

// workHolding reads how a lathe holds its work.
func workHolding(r *Row) *machine.WorkHolding {
	return &machine.WorkHolding{
		Kind:           r.Text("holding_kind"),
		MaxSpeedPerMin: r.Opt("holding_max_speed_per_min"),
		JawsCount:      r.Opt("jaws_count"),
		JawMassKg:      r.Opt("jaw_mass_kg"),
		JawRadiusMM:    r.Opt("jaw_radius_mm"),
		GripDiameterMM: r.Opt("grip_diameter_mm"),
		FrictionRatio:  r.Opt("friction_ratio"),
		StaticGripN:    r.Opt("static_grip_n"),
		SafetyRatio:    r.Opt("safety_ratio"),
		Catcher:        yesNo(r, "catcher"),
	}
}

// yesNo reads yes or no; nil, unknown, for an empty cell.
func yesNo(r *Row, column string) *bool {
	switch r.OneOf(column, "yes", "no", "") {
	case "yes":
		yes := true
		return &yes
	case "no":
		no := false
		return &no
	}
	return nil
}

// readRatings puts gears and ratings into their machines.
func readRatings(machines []machine.Machine, at map[string]int) error {
	t, err := ReadTable(files, "demo/ratings.csv", "machine", "gear", "min_speed_per_min", "max_speed_per_min",
		"rating", "power_kw", "torque_nm", "points")
	if err != nil {
		return err
	}
	for _, r := range t.Rows {
		i, known := at[r.Need("machine")]
		if !known {
			r.Fail("machine", "%q is no machine of demo/machines.csv", r.Text("machine"))
			continue
		}
		duty, err := machine.ParseDuty(r.Need("rating"))
		if err != nil {
			r.Fail("rating", "%v", err)
		}
		rating := machine.Rating{Duty: duty, PowerKW: r.Opt("power_kw").V, TorqueNm: r.Opt("torque_nm").V, Points: points(r)}
		if pair := rating.PowerKW > 0 && rating.TorqueNm > 0; pair == (len(rating.Points) > 0) {
			r.Fail("power_kw", "a rating is either power and torque, or points")
		}
		gear := gearOf(&machines[i].Spindle, machine.Gear{
			Name:           r.Need("gear"),
			MinSpeedPerMin: r.Number("min_speed_per_min"),
			MaxSpeedPerMin: r.Number("max_speed_per_min"),
		})
		if gear.MinSpeedPerMin != r.Number("min_speed_per_min") || gear.MaxSpeedPerMin != r.Number("max_speed_per_min") {
			r.Fail("gear", "speeds of gear %s differ between its rows", gear.Name)
		}
		gear.Ratings = append(gear.Ratings, rating)
	}
	return t.Err()
}

// gearOf finds the gear of that name, or adds it.
func gearOf(s *machine.Spindle, wanted machine.Gear) *machine.Gear {
	i := slices.IndexFunc(s.Gears, func(g machine.Gear) bool { return g.Name == wanted.Name })
	if i < 0 {
		i = len(s.Gears)
		s.Gears = append(s.Gears, wanted)
	}
	return &s.Gears[i]
}

// points reads "700:22; 6000:22": speed in 1/min and power in kW, speeds rising.
func points(r *Row) []machine.Point {
	var curve []machine.Point
	for _, entry := range r.List("points") {
		speed, power, _ := strings.Cut(entry, ":")
		n, err := strconv.ParseFloat(speed, 64)
		p, err2 := strconv.ParseFloat(power, 64)
		if err != nil || err2 != nil || !(n > 0) || !(p > 0) || n > 1e6 || p > 1e6 {
			r.Fail("points", "%q is not speed:power", entry)
			continue
		}
		if len(curve) > 0 && n <= curve[len(curve)-1].SpeedPerMin {
			r.Fail("points", "speed %v does not rise", n)
		}
		curve = append(curve, machine.Point{SpeedPerMin: n, PowerKW: p})
	}
	return curve
}
