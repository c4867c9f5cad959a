package recommend

import (
	"fmt"
	"math"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// slowest is how far down a speed is looked for, as a share of the start.
const slowest = 0.1

// fit makes every limit hold by the smallest change: speed first; where no speed
// does, a chosen depth, then a chosen width, then the feed where a thinner chip is
// allowed.
func (p *proposal) fit() {
	before := p.estimate()
	first := p.failing(before)
	if first == nil {
		return
	}
	name := first.Name
	if !p.relieve() {
		if p.c.Target.ToleranceMM == nil {
			return // settle reports it
		}
		p.springs = true // the tolerance gives way: it is held, the limits are not
		next := p.failing(before)
		if next == nil || !p.relieve() {
			return
		}
		name = next.Name
	}
	p.boundBy = name
	after := p.estimate()
	if was, is := before.Motion.CuttingSpeedMPerMin, after.Motion.CuttingSpeedMPerMin; is < was*(1-1e-9) {
		p.say(capped("speed-capped", "parameters.cutting_speed", unit.Speed, was, is, "speed {value} was wanted; {limit} is given because of "+name))
	}
	if was, is := before.Motion.FeedPerToothMM, after.Motion.FeedPerToothMM; is < was*(1-1e-9) {
		p.say(capped("feed-capped", "parameters.feed_per_tooth", unit.Length, was, is, "feed per tooth {value} was wanted; {limit} is given because of "+name))
	}
}

// relieve makes the smallest change with which every limit holds, and reports whether
// there was one.
func (p *proposal) relieve() bool {
	return p.slow() || p.shrink(p.depth, "depth") || p.shrink(p.width, "width") || p.feedLess()
}

// slow looks for the highest speed, up to the one proposed, at which every limit
// holds. Gears make the set of such speeds a few intervals: each is searched from
// its top.
func (p *proposal) slow() bool {
	if p.speedFixed {
		return false
	}
	start := p.speed
	for _, top := range p.tops(start) {
		p.speed = top
		if p.holds() {
			p.adjusted("limit", "cutting_speed", top/start, p.why())
			return true
		}
		bad := top
		for k := 1; k <= 30; k++ {
			p.speed = top * math.Pow(slowest, float64(k)/30)
			if p.speed < start*slowest {
				break
			}
			if !p.holds() {
				bad = p.speed
				continue
			}
			good := p.speed
			for range 40 {
				p.speed = (good + bad) / 2
				if p.holds() {
					good = p.speed
				} else {
					bad = p.speed
				}
			}
			p.speed = good
			p.adjusted("limit", "cutting_speed", good/start, p.why())
			return true
		}
	}
	p.speed = start
	return false
}

// tops are the speeds at which a search starts: the one proposed and the caps of
// spindle, tool, chuck, feed and gears below it, highest first.
func (p *proposal) tops(start float64) []float64 {
	e := p.estimate()
	perTurn := e.Motion.CuttingSpeedMPerMin / e.Motion.SpindleSpeedPerMin
	list := []float64{start}
	add := func(n float64) {
		if v := n * perTurn; v < start {
			list = append(list, v)
		}
	}
	if m := e.Machine; m != nil {
		for i := range m.Limits {
			switch l := &m.Limits[i]; l.Name {
			case "spindle_speed", "tool_speed", "chuck_speed":
				add(l.Allowed)
			case "feed_rate":
				if !p.feedFixed || p.c.Parameters.FeedRateMMPerMin == nil {
					add(l.Allowed / e.Motion.FeedPerRevolutionMM)
				}
			}
		}
		for _, g := range m.Machine.Spindle.Gears {
			add(g.MaxSpeedPerMin)
		}
	} else if top := p.c.Tool.MaxSpindleSpeedPerMin; top != nil {
		add(*top)
	}
	for i := 1; i < len(list); i++ { // highest first
		for j := i; j > 0 && list[j] > list[j-1]; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	return list
}

// shrink makes a chosen depth or width smaller until some speed meets every limit. A
// narrower width keeps its chip by more feed, within the thin-chip rule.
func (p *proposal) shrink(member *float64, actsOn string) bool {
	if member == nil {
		return false
	}
	start, feed := *member, p.feed
	chip := p.estimate().Chip.ThicknessMaxMM
	try := func(k float64) bool {
		*member, p.feed = start*k, feed
		if actsOn == "width" && !p.feedFixed {
			if h := p.estimate().Chip.ThicknessMaxMM; h < chip {
				p.feed = feed * min(2.3, chip/h)
			}
		}
		return p.anySpeed()
	}
	least := 0.05
	if p.gentle() {
		least = max(least, 0.15/start)
	}
	if least >= 1 || !try(least) {
		*member, p.feed = start, feed
		return false
	}
	good, bad := least, 1.0
	for range 24 {
		if k := (good + bad) / 2; try(k) {
			good = k
		} else {
			bad = k
		}
	}
	good = plain(start*good) / start
	try(good)
	p.adjusted("limit", actsOn, good, p.why())
	if p.feed != feed {
		p.adjusted("thin-chip", "feed", p.feed/feed, "a narrower cut keeps its chip")
	}
	if !p.holds() {
		p.slow()
	}
	return true
}

// plain cuts a chosen length down to three significant digits: nobody sets more.
func plain(mm float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(mm))-2)
	return math.Floor(mm/step*(1+1e-12)) * step
}

// anySpeed reports whether some speed meets every limit, leaving the speed as it was.
func (p *proposal) anySpeed() bool {
	if p.holds() {
		return true
	}
	speed, list := p.speed, p.adjustments
	found := p.slow()
	p.speed, p.adjustments = speed, list
	return found
}

// feedLess lowers the feed to the least that record and chip allow. In metals that
// harden, heat or burn the confidence never thins the chip: there only the median
// demand may.
func (p *proposal) feedLess() bool {
	if p.feedFixed {
		return false
	}
	if p.gentle() && p.spread > 1 {
		return false
	}
	start := p.feed
	least := max(p.feedLow, p.floor())
	if least >= start {
		return false
	}
	p.feed = least
	if !p.anySpeed() {
		p.feed = start
		return false
	}
	good, bad := least, start
	for range 30 {
		p.feed = (good + bad) / 2
		if p.anySpeed() {
			good = p.feed
		} else {
			bad = p.feed
		}
	}
	p.feed = good
	p.adjusted("limit", "feed", good/start, p.why())
	if !p.holds() {
		p.slow()
	}
	return true
}

// floor is the feed per tooth at which the thickest chip is at its least.
func (p *proposal) floor() float64 {
	h := p.estimate().Chip.ThicknessMaxMM
	return p.feed * finding.MinimumChipMM(p.c) / h
}

func (p *proposal) why() string {
	return fmt.Sprintf("every limit holds with a worn edge; at confidence %.2f a load counts %.3f times its median", p.c.Confidence, p.spread)
}

// suggestion names the feed that the caller could fix where this one may not be
// thinned, when there is one above the floor.
func (p *proposal) suggestion() (string, bool) {
	if p.feedFixed || !p.gentle() {
		return "", false
	}
	start := p.feed
	defer func() { p.feed = start }()
	good, least := 0.0, p.floor()
	for k := 1; k <= 40; k++ {
		p.feed = start * math.Pow(0.95, float64(k))
		if p.feed < least {
			break
		}
		if p.anySpeed() {
			good = p.feed
			break
		}
	}
	if good == 0 {
		return "", false
	}
	return fmt.Sprintf("a fixed feed_per_tooth of %.3g mm (%.3g in) would do; a thinner chip is a person's choice in this metal", good, good/25.4), true
}

func (p *proposal) recordFeed() domain.Range {
	f := estimate.StartingFeed(p.c, p.record)
	if f.Member == "feed_per_revolution" {
		z := *p.c.Tool.EffectiveEdgesCount
		f.Low.V /= z
		f.High.V /= z
	}
	return f.Range
}

// round lowers speed and feed to the control's resolution when it is given.
func (p *proposal) round() {
	k := &p.c.Control
	e := p.estimate()
	perTurn := e.Motion.CuttingSpeedMPerMin / e.Motion.SpindleSpeedPerMin
	if r := k.SpeedResolutionPerMin; r != nil && !p.speedFixed {
		if n := down(e.Motion.SpindleSpeedPerMin, *r); n > 0 {
			p.adjusted("rounding", "cutting_speed", n/e.Motion.SpindleSpeedPerMin, "down to the control's resolution")
			p.speed = n * perTurn
		}
	}
	if r := k.FeedResolutionMMPerMin; r != nil && !p.feedFixed {
		e = p.estimate()
		z := *p.c.Tool.EffectiveEdgesCount
		feed := kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: p.feed * z, SpindleSpeedPerMin: e.Motion.SpindleSpeedPerMin})
		vf := down(feed, *r)
		if vf <= 0 || p.feed*vf/feed < p.floor()*(1-1e-9) { // not under the least chip
			return
		}
		p.adjusted("rounding", "feed", vf/feed, "down to the control's resolution")
		p.feed *= vf / feed
	}
}

func down(v, resolution float64) float64 { return math.Floor(v/resolution*(1+1e-12)) * resolution }
