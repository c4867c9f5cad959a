package recommend

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/material"
	"swarf/domain/unit"
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

	springs     bool    // no depth or width meets the tolerance
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
	switch l.Name {
	case "torque", "power", "feed_force", "grip", toolBends, wallBends:
		return true
	}
	return false || l.Name == "tool_torque"
}

// failing returns the first limit that does not hold, nil when all do. A cut without
// a gear for its speed fails at the spindle's speed.
func (p *proposal) failing(e *estimate.Estimate) *estimate.Limit {
	if e.Machine == nil {
		if top := p.c.Tool.MaxSpindleSpeedPerMin; top != nil && e.Motion.SpindleSpeedPerMin > *top*(1+1e-9) {
			return &estimate.Limit{Name: "tool_speed", Worn: e.Motion.SpindleSpeedPerMin, Allowed: *top, Quantity: rotation}
		}
		return p.bending(e)
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
	return p.bending(e)
}

// bending is the deflection of tool or wall as a limit, half of the tolerance, where a
// depth or a width may still give way to it; what the caller fixed is judged, not changed.
func (p *proposal) bending(e *estimate.Estimate) *estimate.Limit {
	tolerance := p.c.Target.ToleranceMM
	if tolerance == nil || p.springs || p.depth == nil && p.width == nil {
		return nil
	}
	for _, x := range []struct {
		name  string
		bends unit.Opt
	}{{toolBends, e.Deflection.ToolMM}, {wallBends, e.Deflection.WallMM}} {
		l := estimate.Limit{Name: x.name, Quantity: unit.Length, Demand: x.bends.V, Worn: x.bends.V * e.WearRatio, Allowed: finding.DeflectionRatio * *tolerance}
		if x.bends.OK && p.demand(&l) > l.Allowed*(1+1e-9) {
			return &l
		}
	}
	return nil
}

// The deflections as limits, by where the answer has them.
const (
	toolBends = "deflection.tool"
	wallBends = "deflection.wall"
)

// sprung holds a cut that nothing brought inside its tolerance, where its median alone is
// not held for it already.
func (p *proposal) sprung(e *estimate.Estimate, judged []domain.Finding) {
	p.springs = false
	l := p.bending(e)
	if l == nil {
		return
	}
	code := map[string]string{toolBends: "tool-deflection-high", wallBends: "wall-deflection-high"}[l.Name]
	for i := range judged {
		if judged[i].Code == code && judged[i].Severity == domain.Hold {
			return
		}
	}
	p.say(domain.Finding{Code: code, Severity: domain.Hold, Field: l.Name, Value: unit.Of(l.Quantity, p.demand(l)), Limit: unit.Of(l.Quantity, l.Allowed),
		Message: "at this confidence it gives way by {value}, over {limit}, half of the tolerance, and no depth or width is small enough", Fix: "a shorter or thicker tool, support, or a finishing cut of its own"})
}

// holds reports whether every limit does.
func (p *proposal) holds() bool { return p.failing(p.estimate()) == nil }

// gentle reports metals in which a thinner chip is no caution: rubbing hardens the
// surface, heats the edge and makes fines.
func (p *proposal) gentle() bool { return p.c.Material.WorkHardens() || p.c.Material.Magnesium() }

func (p *proposal) adjusted(name, actsOn string, factor float64, reason string) {
	p.adjustments = append(p.adjustments, Adjustment{Name: name, ActsOn: actsOn, FactorRatio: factor, Reason: reason, Basis: domain.CommonPractice})
}
