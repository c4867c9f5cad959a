package ways

import (
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/seek"
	"swarf/domain/unit"
)

// lever is one number of a cut that a planner may change.
//
// What is no lever, and why. Another diameter of a drill, a reamer or a tap makes another
// hole; another diameter of a mill brings another number of edges, reach and path, and is
// asked for as a cut of its own. Lead angle and corner radius are what the part's shoulder
// leaves room for. Width and depth of a groove, a chamfer, a thread and a hole are the
// part's. Pilots are for twist drills of high-speed steel: solid carbide chips its corners
// on the rim of one, inserts and gun drills are not held by one, and reamers, boring heads
// and counterbores have their hole already.
type lever struct {
	name, field string
	quantity    unit.Quantity
	from        float64
	low, high   float64   // factors on it between which is looked; 0: not
	breaks      []float64 // factors on it at which the law behind it changes
	values      []float64 // where only some can be, those, the nearest first
	set         func(*cut.Cut, *float64)
	rounds      func(to float64) float64   // how often the cut is then made; nil: once
	gear        func(g *machine.Gear) bool // only values in such a gear are wanted; nil: in any
	thins       bool                       // takes thinner layers
	pilot       bool                       // drills a hole of that size first
}

// How far a lever is moved. Common practice, no source: beyond, it is another cut.
const (
	leastRatio = 0.02
	mostRatio  = 3
)

// at is the cut with the lever at a value; what the copy shares is not written to.
func (l *lever) at(c *cut.Cut, to float64) *cut.Cut {
	own := *c
	l.set(&own, &to)
	return &own
}

// steps are the values that are tried on the way to an end.
func (l *lever) steps(ratio float64) []float64 {
	switch {
	case l.values != nil:
		return l.values
	case ratio == 0 || ratio == 1:
		return nil
	}
	list := seek.Walk{FromRatio: 1, ToRatio: ratio, BreaksRatio: l.breaks}.Steps()
	for i := range list {
		list[i] *= l.from
	}
	return list
}

// timeRatio is the cutting time for the whole of what was asked over that as asked, with
// minutes of a cut before it.
func (l *lever) timeRatio(before, after *estimate.Estimate, to, minutes float64) float64 {
	times := 1.0
	if l.rounds != nil {
		times = l.rounds(to)
	}
	if a, b := before.Time.CuttingMinutes, after.Time.CuttingMinutes; a.OK && b.OK && a.V > 0 {
		return (times*b.V + minutes) / a.V
	}
	return times * before.Motion.FeedRateMMPerMin / after.Motion.FeedRateMMPerMin
}

// levers lists what can be changed, in the order in which planners try it.
func levers(e *estimate.Estimate) []lever {
	list := speeds(e)
	list = append(list, feeds(e.Cut)...)
	list = append(list, layers(e.Cut)...)
	list = append(list, passes(e.Cut)...)
	list = append(list, pilots(e)...)
	return append(list, edges(e.Cut)...)
}

// names are the names of levers, each once.
func names(list []lever) []string {
	var out []string
	for i := range list {
		out = appendNew(out, list[i].name)
	}
	return out
}

// speeds are the speed as it was sent, within its gear, and the same for another gear.
func speeds(e *estimate.Estimate) []lever {
	p := &e.Cut.Parameters
	l := lever{name: "speed", field: "parameters.cutting_speed", quantity: unit.Speed, low: leastRatio, high: mostRatio,
		set: func(c *cut.Cut, v *float64) { c.Parameters.CuttingSpeedMPerMin = v }}
	switch {
	case p.CuttingSpeedMPerMin != nil:
		l.from = *p.CuttingSpeedMPerMin
	case p.SpindleSpeedPerMin != nil:
		l.field, l.quantity, l.from = "parameters.spindle_speed", unit.Rotation, *p.SpindleSpeedPerMin
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.SpindleSpeedPerMin = v }
	default:
		return nil
	}
	m := e.Machine
	l.breaks = m.Machine.Spindle.BreaksPerMin()
	for i := range l.breaks {
		l.breaks[i] /= e.Motion.SpindleSpeedPerMin
	}
	if m.Gear == nil || len(m.Machine.Spindle.Gears) < 2 {
		return []lever{l}
	}
	other, present := l, m.Gear.Name
	l.gear = func(g *machine.Gear) bool { return g != nil && g.Name == present }
	other.name, other.gear = "gear", func(g *machine.Gear) bool { return g != nil && g.Name != present }
	return []lever{l, other}
}

// feeds is the feed as it was sent; threads have none to change.
func feeds(c *cut.Cut) []lever {
	p := &c.Parameters
	l := lever{name: "feed", low: leastRatio, high: mostRatio}
	switch {
	case c.Operation.FeedIsPitch:
		return nil
	case p.FeedPerToothMM != nil:
		l.field, l.quantity, l.from = "parameters.feed_per_tooth", unit.Length, *p.FeedPerToothMM
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedPerToothMM = v }
	case p.FeedPerRevolutionMM != nil:
		l.field, l.quantity, l.from = "parameters.feed_per_revolution", unit.Length, *p.FeedPerRevolutionMM
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedPerRevolutionMM = v }
	case p.FeedRateMMPerMin != nil:
		l.field, l.quantity, l.from = "parameters.feed_rate", unit.FeedRate, *p.FeedRateMMPerMin
		l.set = func(c *cut.Cut, v *float64) { c.Parameters.FeedRateMMPerMin = v }
	default:
		return nil
	}
	return []lever{l}
}
