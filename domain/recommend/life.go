package recommend

import (
	"math"

	"swarf/domain"
	"swarf/domain/unit"
)

// Bounds within which a wanted life may move the speed. Common practice, no source.
const (
	leastLifeRatio = 0.6
	mostLifeRatio  = 1.3
)

// last moves the speed so that the share of edges asked for outlives the life asked for:
// vc2 = vc1·(T1/T2)^n. Further than practice goes it moves to the bound, and says so.
func (p *proposal) last() {
	want := p.c.Target.ToolLifeMinutes
	if want == nil || p.speedFixed {
		return
	}
	l := p.estimate().Life
	if l == nil {
		return // the estimate lists what is missing
	}
	ratio := math.Pow(l.LowMinutes / *want, l.Record.TaylorExp.V)
	bounded := min(mostLifeRatio, max(leastLifeRatio, ratio))
	if bounded != ratio {
		p.say(domain.Finding{Code: "outside-record-range", Severity: domain.Hold, Field: "target.tool_life",
			Value: unit.Of(unit.None, ratio), Limit: unit.Of(unit.None, bounded),
			Message: "the life asked for wants {value} times the starting speed; a law is believed to {limit}", Fix: "another life, tool material or starting speed"})
	}
	p.by("tool-life", "cutting_speed", bounded, "the life asked for, at this confidence, by the record's exponent")
	if bounded < 1 {
		p.boundBy = "tool-life"
	}
}
