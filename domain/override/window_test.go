package override_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/override"
	"swarf/domain/unit"
)

// strong is a machine of one gear from a least speed on, of which a limit may be lowered.
func strong(lower func(*machine.Machine)) *machine.Machine {
	m := cuttest.Machine(cuttest.Drive{PowerKW: 200, TorqueNm: 2000, MaxSpeedPerMin: 20000})
	m.Spindle.Gears = m.Spindle.Gears[1:]
	m.Spindle.Gears[0].MinSpeedPerMin = 20
	m.Spindle.Gears[0].Ratings = m.Spindle.Gears[0].Ratings[:1]
	m.Axes = machine.Axes{MaxFeedRateMMPerMin: unit.Some(1e5), MaxFeedForceN: unit.Some(1e5)}
	if lower != nil {
		lower(m)
	}
	return m
}

// clear is a cut that nothing but its machine limits: the record is as wide as can be, and
// the grip is known.
func clear(c *cut.Cut, m *machine.Machine) *cut.Cut {
	if c.Operation.Family == cut.TurningFamily {
		m.Process = machine.Turning
	}
	c.Machine, c.WorkHolding = m, &machine.WorkHolding{Kind: "vice"}
	c.Material.Force.Served.ChipThickness = domain.Range{}
	return c
}

// Where an end follows from one equation it is that: feeds and speeds go with the factor,
// power with the speed, torque and thrust with the feed to the power 1 − mc, where the law
// of the force is kc = kc1.1·h^−mc.
func TestEndsAreWhereTheirEquationsSay(t *testing.T) {
	const rise = 1 - 0.25 // 1 − mc of the sample
	ratio := func(e *estimate.Estimate, limit string) float64 {
		l, ok := e.Machine.Limit(limit)
		if !ok {
			t.Fatalf("no %s", limit)
		}
		return l.Allowed / l.Worn
	}
	for _, x := range []struct {
		name, limit string
		cut         *cut.Cut
		side        func(override.Window) (factor float64, limit string)
		want        func(e *estimate.Estimate) float64
	}{
		{"feed to the torque", "torque", clear(cuttest.Drilling(), strong(func(m *machine.Machine) { m.Spindle.Gears[0].Ratings[0].TorqueNm = 30 })), highFeed,
			func(e *estimate.Estimate) float64 { return math.Pow(ratio(e, "torque"), 1/rise) }},
		{"feed to the thrust", "feed_force", clear(cuttest.Drilling(), strong(func(m *machine.Machine) { m.Axes.MaxFeedForceN = unit.Some(4000) })), highFeed,
			func(e *estimate.Estimate) float64 { return math.Pow(ratio(e, "feed_force"), 1/rise) }},
		{"feed to the axis", "feed_rate", clear(cuttest.Milling(), strong(func(m *machine.Machine) { m.Axes.MaxFeedRateMMPerMin = unit.Some(1000) })), highFeed,
			func(e *estimate.Estimate) float64 { return 1000 / e.Motion.FeedRateMMPerMin }},
		{"feed down to the chip", "chip-floor", clear(cuttest.Milling(), strong(nil)), lowFeed,
			func(e *estimate.Estimate) float64 { return finding.MinimumChipMM(e.Cut) / e.Chip.ThicknessMaxMM }},
		{"speed up to the chip, at the same feed rate", "chip-floor", clear(cuttest.Milling(), strong(nil)), highSpeed,
			func(e *estimate.Estimate) float64 { return e.Chip.ThicknessMaxMM / finding.MinimumChipMM(e.Cut) }},
		{"speed to the power", "power", clear(cuttest.Turning(), strong(func(m *machine.Machine) { m.Spindle.Gears[0].Ratings[0].PowerKW = 5 })), highSpeed,
			func(e *estimate.Estimate) float64 { return ratio(e, "power") }},
		{"speed to the spindle", "spindle_speed", clear(cuttest.Turning(), strong(func(m *machine.Machine) {
			m.Spindle.MaxSpeedPerMin, m.Spindle.Gears[0].MaxSpeedPerMin = 1000, 1000
		})), highSpeed, func(e *estimate.Estimate) float64 { return 1000 / e.Motion.SpindleSpeedPerMin }},
		{"speed down to the gear", "gear", clear(cuttest.Turning(), strong(func(m *machine.Machine) { m.Spindle.Gears[0].MinSpeedPerMin = 400 })), lowSpeed,
			func(e *estimate.Estimate) float64 { return 400 / e.Motion.SpindleSpeedPerMin }},
		{"speed over the gear", "gear", clear(cuttest.Turning(), strong(func(m *machine.Machine) { m.Spindle.Gears[0].MaxSpeedPerMin = 900 })), highSpeed,
			func(e *estimate.Estimate) float64 { return 900 / e.Motion.SpindleSpeedPerMin }},
		{"speed down to nothing", override.NothingMet, clear(cuttest.Turning(), strong(nil)), lowSpeed, func(*estimate.Estimate) float64 { return 0.05 }},
		{"feed up to nothing", override.NothingMet, clear(cuttest.Turning(), strong(nil)), highFeed, func(*estimate.Estimate) float64 { return 3 }},
	} {
		e := estimate.Of(x.cut)
		got, limit := x.side(override.Of(e))
		if want := x.want(e); limit != x.limit || math.Abs(got/want-1) > 5e-6 {
			t.Errorf("%s: %v by %s, want %v by %s", x.name, got, limit, want, x.limit)
		}
	}
}

func highFeed(w override.Window) (float64, string)  { return w.Feed.HighRatio, w.Feed.HighLimit }
func lowFeed(w override.Window) (float64, string)   { return w.Feed.LowRatio, w.Feed.LowLimit }
func highSpeed(w override.Window) (float64, string) { return w.Speed.HighRatio, w.Speed.HighLimit }
func lowSpeed(w override.Window) (float64, string)  { return w.Speed.LowRatio, w.Speed.LowLimit }

// The range of a record ends a window where the cut as programmed keeps it.
func TestEndsOfTheForceRecord(t *testing.T) {
	c := clear(cuttest.Drilling(), strong(nil))
	c.Material.Force.Served.ChipThickness = domain.Range{Quantity: unit.Length, Low: unit.Some(0.05), High: unit.Some(0.2)}
	e := estimate.Of(c)
	w := override.Of(e)
	h := e.Chip.ThicknessMaxMM
	if math.Abs(w.Feed.LowRatio/(0.05/h)-1) > 5e-6 || math.Abs(w.Feed.HighRatio/(0.2/h)-1) > 5e-6 || w.Feed.LowLimit != "force-record" || w.Feed.HighLimit != "force-record" {
		t.Errorf("a chip of %v: %+v", h, w.Feed)
	}
	c.Material.Force.Served.ChipThickness.High = unit.Some(0.05)
	if w = override.Of(estimate.Of(c)); w.Feed.HighLimit == "force-record" || w.Feed.LowLimit == "force-record" {
		t.Errorf("a record that is left already: %+v", w.Feed)
	}
}

// A window that nothing opens names what stands on both sides; a thread's feed stays at 1.
func TestShutWindows(t *testing.T) {
	w := override.Of(estimate.Of(clear(cuttest.Turning(), strong(func(m *machine.Machine) { m.Spindle.Gears[0].Ratings[0].TorqueNm = 1 }))))
	if w.Speed.Open() || w.Speed.LowLimit != "torque" || w.Speed.HighLimit != "torque" {
		t.Errorf("far too little torque: %+v", w.Speed)
	}
	w = override.Of(estimate.Of(clear(cuttest.Of("tapping"), strong(nil))))
	if w.Feed.LowRatio != 1 || w.Feed.HighRatio != 1 || w.Feed.LowLimit != "pitch" || !w.Speed.Open() {
		t.Errorf("a tap: %+v", w)
	}
}

// stands is all that stands against a cut, by the whole estimate.
func stands(c *cut.Cut) []string {
	e := estimate.Of(c)
	var out []string
	for _, l := range e.Machine.Limits {
		if l.Worn > l.Allowed*(1+1e-7) {
			out = append(out, l.Name)
		}
	}
	if e.Machine.Gear == nil {
		out = append(out, "gear")
	}
	if h := e.Chip.ThicknessMaxMM; h > 0 && h < finding.MinimumChipMM(c)*(1-1e-7) {
		out = append(out, "chip-floor")
	}
	if r := e.Served; r != nil && e.Chip.ThicknessMaxMM > 0 && r.ChipThickness.Known() && !r.ChipThickness.Holds(e.Chip.ThicknessMaxMM) {
		out = append(out, "force-record")
	}
	for _, f := range finding.Judge(e) {
		if f.Severity >= domain.Hold {
			out = append(out, f.Code)
		}
	}
	return out
}

// Whatever the operation: at any factor inside the window the whole estimate shows nothing
// that the cut as programmed has not, no limit of the machine at all, and just outside it
// shows what the end names.
func TestNothingIsPassedInside(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range 4 {
			checkInside(t, seen)
		}
	})
	t.Log(seen)
	for _, limit := range []string{"torque", "power", "spindle_speed", "feed_force", "chip-floor", "force-record", override.NothingMet} {
		if seen[limit] == 0 {
			t.Errorf("%s was never seen to limit", limit)
		}
	}
}

// checkInside draws a cut and tries its windows.
func checkInside(t *rapid.T, seen map[string]int) {
	c := cuttest.Of(rapid.SampledFrom(cut.Names()).Draw(t, "operation"))
	factor := func(what string) float64 { return math.Exp(rapid.Float64Range(-1, 1).Draw(t, what)) }
	c.Machine = cuttest.Machine(cuttest.Drive{PowerKW: 8 * factor("power"), TorqueNm: 40 * factor("torque"), MaxSpeedPerMin: 8000 * factor("speed")})
	c.Machine.Spindle.Gears[0].MinSpeedPerMin = 60
	c.Machine.Axes.MaxFeedForceN = unit.Some(4000 * factor("thrust"))
	c.Material.Force.Served.ChipThickness = domain.Range{Quantity: unit.Length, Low: unit.Some(0.02 * factor("thinnest")), High: unit.Some(0.3 * factor("thickest"))}
	if c.Operation.Family == cut.TurningFamily {
		c.Machine.Process = machine.Turning
	}
	e := estimate.Of(c)
	w := override.Of(e)
	answered := slices.DeleteFunc(stands(c), func(name string) bool {
		_, isLimit := e.Machine.Limit(name)
		return isLimit || name == "gear" || name == "chip-floor"
	})
	share := rapid.Float64Range(0, 1).Draw(t, "share")
	for _, x := range []struct {
		axis string
		side override.Side
	}{{"feed", w.Feed}, {"speed", w.Speed}} {
		if !x.side.Open() || x.side.LowLimit == "pitch" {
			continue
		}
		at := func(k float64) []string {
			return slices.DeleteFunc(stands(factored(e, x.axis, x.side.Held, k)), func(name string) bool { return slices.Contains(answered, name) })
		}
		if more := at(x.side.LowRatio + share*(x.side.HighRatio-x.side.LowRatio)); len(more) > 0 {
			t.Fatalf("%s: %s %+v: at %v of it stand %v", c.Operation.Name, x.axis, x.side, share, more)
		}
		for limit, k := range map[string]float64{x.side.LowLimit: x.side.LowRatio * 0.999, x.side.HighLimit: x.side.HighRatio * 1.001} {
			seen[limit]++
			if more := at(k); limit != override.NothingMet && x.side.LowLimit != x.side.HighLimit && !slices.Contains(more, limit) {
				t.Fatalf("%s: %s %+v: at %v stand %v", c.Operation.Name, x.axis, x.side, k, more)
			}
		}
	}
}

// factored is a cut with its feed or its speed at a factor, what is held as it was.
func factored(e *estimate.Estimate, axis, held string, k float64) *cut.Cut {
	c, m := *e.Cut, e.Motion
	speed, feed, rate := m.SpindleSpeedPerMin, m.FeedPerRevolutionMM, m.FeedRateMMPerMin
	c.Parameters = cut.Parameters{SpindleSpeedPerMin: &speed}
	switch {
	case axis == "feed":
		feed *= k
		c.Parameters.FeedPerRevolutionMM = &feed
		return &c
	case c.Operation.FeedIsPitch:
	case held == "feed_rate":
		c.Parameters.FeedRateMMPerMin = &rate
	default:
		c.Parameters.FeedPerRevolutionMM = &feed
	}
	speed *= k
	return &c
}
