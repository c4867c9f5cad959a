package api

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"swarf/api/wire"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

const ratingFix = "write S1, S2-30 (minutes), S3-25 or S6-40 (percent), after IEC 60034-1"

// spindle checks the main drive: speeds, efficiency, gears and their ratings.
func (c checker) spindle(s *wire.Spindle, prefix string) machine.Spindle {
	out := machine.Spindle{
		MaxSpeedPerMin:  c.need(prefix+".max_speed", "the highest spindle speed", s.MaxSpeed, bound{unit.Rotation, mostSpeedPerMin, false}),
		EfficiencyRatio: c.need(prefix+".efficiency", "the efficiency from motor to tool", s.Efficiency, bound{unit.None, highestRatio, false}),
	}
	out.IdlePowerKW, _ = c.read(prefix+".idle_power", s.IdlePower, bound{unit.Power, mostPowerKW, true})
	if len(s.Gears) == 0 {
		c.faults.Missing(prefix+".gears", "a gear with an S1 rating is required")
		return out
	}
	if len(s.Gears) > mostGears {
		c.faults.Range(prefix+".gears", "there are {value} gears, at most {limit} are kept", unit.Of(unit.None, float64(len(s.Gears))), unit.Of(unit.None, mostGears), "leave some out")
		return out
	}
	names, continuous, unread := make(map[string]bool), false, false
	for i := range s.Gears {
		field := index(prefix+".gears", i)
		gear := c.gear(&s.Gears[i], field, out.MaxSpeedPerMin)
		if gear.Name == "" {
			gear.Name = strconv.Itoa(i + 1)
		}
		if names[gear.Name] {
			c.faults.Conflict(field+".gear", "two gears are called "+strconv.Quote(gear.Name))
		}
		names[gear.Name] = true
		for _, r := range gear.Ratings {
			continuous = continuous || r.Duty == machine.Continuous
			unread = unread || r.Duty.Type == ""
		}
		out.Gears = append(out.Gears, gear)
	}
	c.gaps(s, out.Gears, prefix)
	if !continuous && !unread {
		c.faults.Missing(prefix+".gears", "no gear has an S1 rating; one is required")
	}
	return out
}

// gaps refuses speeds between two gears that none of them has: a cut there would have no
// answer.
func (c checker) gaps(s *wire.Spindle, gears []machine.Gear, prefix string) {
	order := make([]int, len(gears))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(gears[a].MinSpeedPerMin, gears[b].MinSpeedPerMin) })
	reached := 0.0
	for k, i := range order {
		g := &gears[i]
		if k > 0 && g.MinSpeedPerMin > reached*(1+1e-9) {
			c.faults.Range(index(prefix+".gears", i)+".min_speed", "gear "+g.Name+" begins at {value}, the gears below end at {limit}: between them no gear is on file",
				unit.Of(unit.Rotation, g.MinSpeedPerMin), unit.Of(unit.Rotation, reached), "let one begin where the other ends, or both overlap")
		}
		reached = max(reached, g.MaxSpeedPerMin)
	}
}

// gear checks one range of speeds. Without a highest speed of its own it reaches
// the spindle's.
func (c checker) gear(g *wire.Gear, prefix string, spindleMax float64) machine.Gear {
	out := machine.Gear{Name: c.text(prefix+".gear", g.Gear, longestName), MaxSpeedPerMin: spindleMax}
	speed := bound{unit.Rotation, mostSpeedPerMin, false}
	if v, ok := c.read(prefix+".max_speed", g.MaxSpeed, speed); ok {
		out.MaxSpeedPerMin = v
		if spindleMax > 0 && v > spindleMax {
			c.faults.Range(prefix+".max_speed", "the gear reaches {value}, the spindle only {limit}", unit.Of(unit.Rotation, v), unit.Of(unit.Rotation, spindleMax), "lower it to {limit}, or raise spindle.max_speed")
		}
	}
	out.MinSpeedPerMin, _ = c.read(prefix+".min_speed", g.MinSpeed, bound{unit.Rotation, mostSpeedPerMin, true})
	if out.MaxSpeedPerMin > 0 && out.MinSpeedPerMin >= out.MaxSpeedPerMin {
		c.faults.Range(prefix+".min_speed", "the gear begins at {value} and ends at {limit}", unit.Of(unit.Rotation, out.MinSpeedPerMin), unit.Of(unit.Rotation, out.MaxSpeedPerMin), "keep it below {limit}")
	}
	if len(g.Ratings) == 0 {
		c.faults.Missing(prefix+".ratings", "a gear needs at least one rating")
	}
	if len(g.Ratings) > mostRatings {
		c.faults.Range(prefix+".ratings", "there are {value} ratings, at most {limit} are kept", unit.Of(unit.None, float64(len(g.Ratings))), unit.Of(unit.None, mostRatings), "leave some out")
		return out
	}
	seen := make(map[string]bool)
	for i := range g.Ratings {
		field := index(prefix+".ratings", i)
		rating := c.rating(&g.Ratings[i], field)
		if rating.Duty.Type != "" {
			if name := rating.Duty.String(); seen[name] {
				c.faults.Conflict(field+".rating", "the gear has two ratings "+name)
			} else {
				seen[name] = true
			}
		}
		c.within(&rating, &out, field)
		out.Ratings = append(out.Ratings, rating)
	}
	return out
}

// within holds a rating against the speeds of its gear: a pair whose knee lies outside of
// them states a torque or a power that the gear never has, and so does a point beyond them.
func (c checker) within(r *machine.Rating, g *machine.Gear, prefix string) {
	if g.MaxSpeedPerMin <= 0 {
		return
	}
	const rounded = 1.02 // names are rounded
	if r.PowerKW > 0 && r.TorqueNm > 0 {
		switch knee := r.KneePerMin(); {
		case knee > g.MaxSpeedPerMin*rounded:
			c.faults.Range(prefix+".power", "{value} belongs to that torque only from a speed beyond the gear; at its highest speed the torque gives {limit}",
				unit.Of(unit.Power, r.PowerKW), unit.Of(unit.Power, r.PowerKWAt(g.MaxSpeedPerMin)), "check power, torque and the gear's speeds: power is torque times speed over 9549")
		case knee*rounded < g.MinSpeedPerMin:
			c.faults.Range(prefix+".torque", "{value} is had only below the gear's lowest speed; there the power gives {limit}",
				unit.Of(unit.Torque, r.TorqueNm), unit.Of(unit.Torque, r.TorqueNmAt(g.MinSpeedPerMin)), "check power, torque and the gear's speeds: power is torque times speed over 9549")
		}
	}
	for i, p := range r.Points {
		if p.SpeedPerMin > g.MaxSpeedPerMin*rounded {
			c.faults.Range(index(prefix+".points", i)+".speed", "the point is at {value}, the gear ends at {limit}", unit.Of(unit.Rotation, p.SpeedPerMin), unit.Of(unit.Rotation, g.MaxSpeedPerMin), "end the curve with the gear")
		}
	}
}

// rating checks one motor rating: its duty type and either a pair or points. A
// duty that cannot be read leaves Duty.Type empty.
func (c checker) rating(r *wire.Rating, prefix string) machine.Rating {
	var out machine.Rating
	switch duty, err := machine.ParseDuty(r.Rating); {
	case r.Rating == "":
		c.faults.Missing(prefix+".rating", "the duty type of the rating is required")
	case err != nil:
		c.faults.Range(prefix+".rating", strconv.Quote(clip(r.Rating))+" is no rating", nil, nil, ratingFix)
	default:
		out.Duty = duty
	}
	if minutes, ok := c.read(prefix+".duty", r.Duty, bound{unit.Time, mostDutyMinutes, false}); ok {
		switch out.Duty.Type {
		case "S3", "S6":
			out.Duty.CycleMinutes = minutes
		case "S1", "S2":
			c.faults.Conflict(prefix+".duty", "a cycle belongs to S3 and S6, not to "+out.Duty.String())
		}
	}
	pair, points := r.Power != nil || r.Torque != nil, r.Points != nil
	switch {
	case pair && points:
		c.faults.Conflict(prefix, "a rating is either power and torque, or points")
	case points:
		out.Points = c.points(r.Points, prefix+".points")
	case pair:
		out.PowerKW = c.need(prefix+".power", "the power that belongs to the torque", r.Power, bound{unit.Power, mostPowerKW, false})
		out.TorqueNm = c.need(prefix+".torque", "the torque that belongs to the power", r.Torque, bound{unit.Torque, mostTorqueNm, false})
	default:
		c.faults.Alternative(prefix, "a rating has power and torque, or points", "give power and torque, or points")
	}
	return out
}

// points checks a power curve: speeds that rise, powers above zero.
func (c checker) points(list []wire.Point, prefix string) []machine.Point {
	if len(list) == 0 {
		c.faults.Missing(prefix, "a curve has at least one point")
		return nil
	}
	if len(list) > mostPoints {
		c.faults.Range(prefix, "there are {value} points, at most {limit} are kept", unit.Of(unit.None, float64(len(list))), unit.Of(unit.None, mostPoints), "leave some out")
		return nil
	}
	out := make([]machine.Point, len(list))
	last := 0.0
	for i, p := range list {
		field := index(prefix, i)
		out[i] = machine.Point{
			SpeedPerMin: c.need(field+".speed", "the speed of the point", p.Speed, bound{unit.Rotation, mostSpeedPerMin, false}),
			PowerKW:     c.need(field+".power", "the power of the point", p.Power, bound{unit.Power, mostPowerKW, false}),
		}
		if t, ok := c.read(field+".torque", p.Torque, bound{unit.Torque, mostTorqueNm, false}); ok && out[i].SpeedPerMin > 0 && out[i].PowerKW > 0 {
			const apart = 0.03 // both are rounded
			if should := (&machine.Rating{Points: out[i : i+1]}).TorqueNmAt(out[i].SpeedPerMin); math.Abs(t-should) > apart*should {
				c.faults.Range(field+".torque", "a torque of {value} contradicts the power of the point, which gives {limit} at its speed", unit.Of(unit.Torque, t), unit.Of(unit.Torque, should), "power in kW is torque in N·m times speed over 9549")
			}
		}
		if v := out[i].SpeedPerMin; v > 0 {
			if v <= last {
				c.faults.Range(field+".speed", "the point is at {value}, the one before at {limit}", unit.Of(unit.Rotation, v), unit.Of(unit.Rotation, last), "list the points with rising speed")
			}
			last = v
		}
	}
	return out
}
