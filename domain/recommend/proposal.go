package recommend

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/material"
)

// proposal is a cut being chosen: its speed and feed per tooth, what may still move,
// and what was done to it.
type proposal struct {
	c      *cut.Cut
	record *material.Starting // nil when nothing had to be looked up

	speed, feed           float64 // m/min, mm per tooth; 0 while fixed by the caller
	speedFixed, feedFixed bool
	depth, width          *float64 // engagement members that were left out and may move
	feedLow               float64  // least feed per tooth the record allows

	spread      float64 // factor on a median demand for the confidence asked for
	adjustments []Adjustment
	findings    []domain.Finding
	sources     []domain.Used
	boundBy     string
}

// newProposal copies the cut, so that choosing leaves the caller's as it was.
func newProposal(asked *cut.Cut) *proposal {
	c := *asked
	c.Assumed = append([]domain.Assumption(nil), asked.Assumed...)
	p := &proposal{c: &c, boundBy: "starting-value"}
	q := &c.Parameters
	p.speedFixed = q.CuttingSpeedMPerMin != nil || q.SpindleSpeedPerMin != nil
	p.feedFixed = c.Operation.FeedIsPitch || q.FeedPerRevolutionMM != nil || q.FeedPerToothMM != nil || q.FeedRateMMPerMin != nil
	return p
}

// estimate computes the proposal as it stands.
func (p *proposal) estimate() *estimate.Estimate {
	c := *p.c
	if !p.speedFixed {
		v := p.speed
		c.Parameters.CuttingSpeedMPerMin = &v
	}
	if !p.feedFixed {
		f := p.feed
		c.Parameters.FeedPerToothMM = &f
	}
	return estimate.Of(&c)
}

// demand is what a limit is asked for at this confidence with a worn edge.
func (p *proposal) demand(l *estimate.Limit) float64 {
	if spreads(l) {
		return l.Worn * p.spread
	}
	return l.Worn
}

// spreads reports limits whose demand comes from force data; the others are exact.
func spreads(l *estimate.Limit) bool {
	return l.Name == "torque" || l.Name == "power" || l.Name == "feed_force" || l.Name == "grip" || l.Name == "tool_torque"
}

// failing returns the first limit that does not hold, nil when all do. A cut without
// a gear for its speed fails at the spindle's speed.
func (p *proposal) failing(e *estimate.Estimate) *estimate.Limit {
	if e.Machine == nil {
		if top := p.c.Tool.MaxSpindleSpeedPerMin; top != nil && e.Motion.SpindleSpeedPerMin > *top*(1+1e-9) {
			return &estimate.Limit{Name: "tool_speed", Worn: e.Motion.SpindleSpeedPerMin, Allowed: *top, Quantity: rotation}
		}
		return nil
	}
	for i := range e.Machine.Limits {
		if l := &e.Machine.Limits[i]; p.demand(l) > l.Allowed*(1+1e-9) {
			return l
		}
	}
	if e.Machine.Gear == nil {
		l, _ := e.Machine.Limit("spindle_speed")
		return l
	}
	return nil
}

// holds reports whether every limit does.
func (p *proposal) holds() bool { return p.failing(p.estimate()) == nil }

// gentle reports metals in which a thinner chip is no caution: rubbing hardens the
// surface, heats the edge and makes fines.
func (p *proposal) gentle() bool { return p.c.Material.WorkHardens() || p.c.Material.Magnesium() }

func (p *proposal) adjusted(name, actsOn string, factor float64, reason string) {
	p.adjustments = append(p.adjustments, Adjustment{Name: name, ActsOn: actsOn, FactorRatio: factor, Reason: reason, Basis: domain.CommonPractice})
}
