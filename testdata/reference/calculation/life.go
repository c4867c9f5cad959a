package calculation

import (
	"swarf/domain/kinematics"
	"swarf/domain/life"
)

// edges are the calculations of package life.
type edges struct{ *given }

// law is the one given, or the one through the two tests given.
func (e edges) law() life.Taylor {
	if !e.has("speed_1") {
		return life.Taylor{LifeExp: e.in("exponent", "1"), OneMinuteSpeedMPerMin: e.or("one_minute_speed", "m/min", 1)}
	}
	return life.Through(
		life.Tested{SpeedMPerMin: e.in("speed_1", "m/min"), LifeMinutes: e.in("life_1", "min")},
		life.Tested{SpeedMPerMin: e.in("speed_2", "m/min"), LifeMinutes: e.in("life_2", "min")})
}

func (e edges) other() life.Taylor {
	return life.Taylor{LifeExp: e.in("other_exponent", "1"), OneMinuteSpeedMPerMin: e.in("other_one_minute_speed", "m/min")}
}

// rates has the cost of an edge as such, or as its regrinding and depreciation.
func (e edges) rates() life.Rates {
	r := life.Rates{ChangeMinutes: e.in("change_time", "min"), MachineCostPerMin: e.or("machine_rate", "/min", 1)}
	if e.has("regrind_time") {
		r.EdgeCost = e.in("regrind_time", "min")*r.MachineCostPerMin + e.in("depreciation", "1")
	} else {
		r.EdgeCost = e.or("edge_cost", "1", 0)
	}
	return r
}

func (e edges) extended() (life.Extended, life.Cut) {
	at := life.Cut{SpeedMPerMin: e.in("test_speed", "m/min"), FeedMM: e.in("test_feed", "mm"), DepthMM: e.in("test_depth", "mm")}
	return life.Fitted(life.Extended{LifeExp: e.in("exponent", "1"), FeedExp: e.in("feed_exponent", "1"), DepthExp: e.in("depth_exponent", "1")},
		at, e.in("test_life", "min")), at
}

func (e edges) extendedLife() float64 {
	law, at := e.extended()
	at.SpeedMPerMin *= e.or("speed_ratio", "1", 1)
	at.FeedMM *= e.or("feed_ratio", "1", 1)
	at.DepthMM *= e.or("depth_ratio", "1", 1)
	return law.LifeMinutes(at)
}

func (e edges) lifeAt() float64 { return e.law().LifeMinutes(e.in("speed", "m/min")) }

// cuttingMinutes is the time of a turned pass.
func (e edges) cuttingMinutes() float64 { return e.minutesAt(e.in("speed", "m/min")) }

func (e edges) minutesAt(speed float64) float64 {
	n := kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: e.in("diameter", "mm"), SpeedMPerMin: speed})
	rate := kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: e.in("feed", "mm"), SpindleSpeedPerMin: n})
	return e.in("length", "mm") / rate
}

func (e edges) worn() life.Worn {
	return life.Worn{CuttingMinutes: e.cuttingMinutes(), LifeMinutes: e.lifeAt()}
}

// changing is what changing edges adds to a part: cost with it less cost of the cut alone.
func (e edges) changing() float64 {
	r, w := e.rates(), e.worn()
	return r.CostPerPart(w) - r.MachineCostPerMin*w.CuttingMinutes
}

// inPlan is the pass with as many whole parts to an edge as a plan gives it.
func (e edges) inPlan() life.Worn {
	w := e.worn()
	w.LifeMinutes = e.in("pieces", "1") * w.CuttingMinutes
	return w
}

// partCost adds the machine's time of handling and the stock.
func (e edges) partCost(w life.Worn) float64 {
	r := e.rates()
	return r.CostPerPart(w) + r.MachineCostPerMin*e.in("handling_time", "min") + e.or("stock_cost", "1", 0)
}

// leastPartCost is the cost at the cheapest speed.
func (e edges) leastPartCost() float64 {
	v := e.rates().CheapestSpeedMPerMin(e.law())
	return e.partCost(life.Worn{CuttingMinutes: e.minutesAt(v), LifeMinutes: e.law().LifeMinutes(v)})
}

// oneMinuteSpeedOfHoles takes the time of all holes of a drill as its life.
func (e edges) oneMinuteSpeedOfHoles() float64 {
	v := kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: e.in("diameter", "mm"), SpindleSpeedPerMin: e.in("spindle_speed", "/min")})
	at := life.Cut{SpeedMPerMin: v, FeedMM: 1, DepthMM: 1}
	return life.Fitted(life.Extended{LifeExp: e.in("exponent", "1")}, at, e.in("holes", "1")*e.in("time_per_hole", "min")).UnitSpeedMPerMin
}

var lifeTable = table[edges]{
	"exponent":           {"1", func(e edges) float64 { return e.law().LifeExp }},
	"negative_exponent":  {"1", func(e edges) float64 { return -e.law().LifeExp }},
	"steepness":          {"1", func(e edges) float64 { return -1 / e.law().LifeExp }},
	"one_minute_speed":   {"m/min", func(e edges) float64 { return e.law().OneMinuteSpeedMPerMin }},
	"life_at_unit_speed": {"min", func(e edges) float64 { return e.law().LifeMinutes(1) }},
	"speed_for_life":     {"m/min", func(e edges) float64 { return e.law().SpeedMPerMin(e.in("life", "min")) }},
	"life_at":            {"min", edges.lifeAt},
	"life_ratio":         {"1", func(e edges) float64 { return e.law().LifeRatio(e.in("speed_ratio", "1")) }},
	"life_increase":      {"1", func(e edges) float64 { return e.law().LifeRatio(e.in("speed_ratio", "1")) - 1 }},
	"unit_speed": {"m/min", func(e edges) float64 {
		law, _ := e.extended()
		return law.UnitSpeedMPerMin
	}},
	"extended_life": {"min", edges.extendedLife},
	"equal_speed":   {"m/min", func(e edges) float64 { return life.EqualSpeedMPerMin(e.law(), e.other()) }},
	"machinability": {"1", func(e edges) float64 {
		t := e.in("life", "min")
		return e.law().SpeedMPerMin(t) / e.other().SpeedMPerMin(t)
	}},
	"machinability_by_life": {"1", func(e edges) float64 {
		v := e.in("speed", "m/min")
		return e.law().LifeMinutes(v) / e.other().LifeMinutes(v)
	}},
	"one_minute_speed_of_life": {"m/min", func(e edges) float64 {
		at := life.Cut{SpeedMPerMin: e.in("speed", "m/min"), FeedMM: 1, DepthMM: 1}
		return life.Fitted(life.Extended{LifeExp: e.in("exponent", "1")}, at, e.in("life", "min")).UnitSpeedMPerMin
	}},
	"fastest_life": {"min", func(e edges) float64 { return e.rates().FastestLifeMinutes(e.law()) }},
	"part_time": {"min", func(e edges) float64 {
		return e.in("handling_time", "min") + e.rates().MinutesPerPart(e.inPlan())
	}},
	"part_cost":                 {"1", func(e edges) float64 { return e.partCost(e.inPlan()) }},
	"least_part_cost":           {"1", edges.leastPartCost},
	"fastest_speed":             {"m/min", func(e edges) float64 { return e.rates().FastestSpeedMPerMin(e.law()) }},
	"cheapest_speed":            {"m/min", func(e edges) float64 { return e.rates().CheapestSpeedMPerMin(e.law()) }},
	"cheapest_life":             {"min", func(e edges) float64 { return e.rates().CheapestLifeMinutes(e.law()) }},
	"change_cost":               {"1", func(e edges) float64 { r := e.rates(); return r.EdgeCost + r.ChangeMinutes*r.MachineCostPerMin }},
	"cutting_time":              {"min", edges.cuttingMinutes},
	"pieces_per_edge":           {"1", func(e edges) float64 { return 1 / e.worn().Edges() }},
	"changing_cost_per_piece":   {"1", edges.changing},
	"one_minute_speed_of_holes": {"m/min", edges.oneMinuteSpeedOfHoles},
}
