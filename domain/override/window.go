// Package override answers "how far may the override go?": the lowest and the highest
// factor on the programmed feed and on the programmed speed, each alone, between which
// nothing is passed with a worn edge, and what limits each side. It goes round packages
// estimate and finding, and changes nothing.
package override

import (
	"swarf/domain/cut"
	"swarf/domain/estimate"
)

// Window is how far feed and speed may be overridden, each alone.
type Window struct{ Feed, Speed Side }

// Side is the range of one override. Without a factor at which every limit holds, both
// ends are nought and both limits name the one that is passed.
type Side struct {
	LowRatio, HighRatio float64
	LowLimit, HighLimit string
	Held                string // what stays as it was programmed: feed_rate or feed_per_revolution
}

// Open reports a range with a factor in it.
func (s *Side) Open() bool { return s.HighRatio > 0 }

// How far is looked, and what an end is called where nothing was met on the way. Common
// practice, no source: few controls go lower, none higher.
const (
	slowest, fastest = 0.05, 3.0
	NothingMet       = "nothing-met"
	pitch            = "pitch" // a thread's feed is its pitch: no override
)

// inwardRatio is how much an end is drawn inwards, so that a factor written with six digits
// is still inside.
const inwardRatio = 2e-6

// Of gives the window of a computed cut.
//
// Range: any estimate with its parameters. Errors: none. Source: the contract's section 3.2.
func Of(e *estimate.Estimate) Window {
	w := Window{Feed: Side{1, 1, pitch, pitch, "feed_per_revolution"}}
	s := newSearch(e)
	if !e.Cut.Operation.FeedIsPitch {
		w.Feed = s.side(s.feedAt, nil)
		w.Feed.Held = "spindle_speed"
	}
	w.Speed = s.side(s.speedAt, s.shifts())
	w.Speed.Held = s.held
	return w
}

// held is what a change of speed leaves as it is: what the caller sent, and where that was
// neither feed rate nor feed per turn, what controls are programmed with: turns in turning
// and threads, minutes where the tool turns.
func held(c *cut.Cut) string {
	p := &c.Parameters
	switch {
	case p.FeedRateMMPerMin != nil:
		return "feed_rate"
	case p.FeedPerRevolutionMM != nil || c.Operation.FeedIsPitch || c.Operation.Family == cut.TurningFamily:
		return "feed_per_revolution"
	}
	return "feed_rate"
}

// feedAt is the cut at a factor on its feed.
func (s *search) feedAt(k float64) *cut.Cut {
	c := *s.e.Cut
	feed := s.e.Motion.FeedPerRevolutionMM * k
	c.Parameters.FeedPerToothMM, c.Parameters.FeedRateMMPerMin, c.Parameters.FeedPerRevolutionMM = nil, nil, &feed
	return &c
}

// speedAt is the cut at a factor on its speed, in turns or over the surface as it was asked.
func (s *search) speedAt(k float64) *cut.Cut {
	c := *s.e.Cut
	p := &c.Parameters
	if p.CuttingSpeedMPerMin != nil {
		v := *p.CuttingSpeedMPerMin * k
		p.CuttingSpeedMPerMin = &v
	} else {
		n := *p.SpindleSpeedPerMin * k
		p.SpindleSpeedPerMin = &n
	}
	if c.Operation.FeedIsPitch {
		return &c
	}
	p.FeedPerToothMM, p.FeedRateMMPerMin, p.FeedPerRevolutionMM = nil, nil, nil
	feed := s.e.Motion.FeedPerRevolutionMM
	if s.held == "feed_rate" {
		feed = s.e.Motion.FeedRateMMPerMin
		p.FeedRateMMPerMin = &feed
	} else {
		p.FeedPerRevolutionMM = &feed
	}
	return &c
}

// shifts are the factors on the speed at which the spindle's curve changes its law: ends of
// gears, knees and points.
func (s *search) shifts() []float64 {
	m := s.e.Cut.Machine
	if m == nil {
		return nil
	}
	list := m.Spindle.BreaksPerMin()
	for i := range list {
		list[i] /= s.e.Motion.SpindleSpeedPerMin
	}
	return list
}
