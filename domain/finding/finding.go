// Package finding judges an estimate against machine, tool and sound practice. Each
// file judges one side of the cut; each finding has a stable code, a severity, the
// value, the limit, and what to do about it.
package finding

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// judge collects the findings of one estimate.
type judge struct {
	e    *estimate.Estimate
	c    *cut.Cut
	worn estimate.Loads
	list []domain.Finding

	grave bool // only refusals and holds are wanted

	room [16]unit.Measure // of values and limits, so that few are allocated alone
	used int
}

// measure keeps a value or a limit.
func (j *judge) measure(q unit.Quantity, amount float64) *unit.Measure {
	if j.used == len(j.room) {
		return unit.Of(q, amount)
	}
	m := &j.room[j.used]
	j.used++
	m.Amount, m.Quantity = amount, q
	return m
}

// Judge returns every finding of an estimate: machine first, then tool, chip, hole,
// material and evidence.
func Judge(e *estimate.Estimate) []domain.Finding {
	j := &judge{e: e, c: e.Cut, worn: e.Worn(), list: make([]domain.Finding, 0, 8)}
	j.all()
	return j.list
}

func (j *judge) all() {
	j.spindle()
	j.axes()
	j.tool()
	j.chip()
	j.arc()
	j.path()
	j.groove()
	j.thread()
	if !j.grave {
		j.cap()
	}
	if j.c.Operation.Family == cut.HoleFamily {
		j.hole()
	}
	j.material()
	j.deflection()
	j.clamping()
	j.evidence()
	if !j.grave {
		j.sensitive()
	}
}

// says adds a finding about a value against a limit; q is what they measure.
func (j *judge) says(code string, severity domain.Severity, field string, q unit.Quantity, value, limit float64, message, fix string) {
	if j.grave && severity < domain.Hold {
		return
	}
	j.list = append(j.list, domain.Finding{Code: code, Severity: severity, Field: field,
		Value: j.measure(q, value), Limit: j.measure(q, limit), Message: message, Fix: fix})
}

// tells adds a finding without numbers.
func (j *judge) tells(code string, severity domain.Severity, field, message, fix string) {
	if j.grave && severity < domain.Hold {
		return
	}
	j.list = append(j.list, domain.Finding{Code: code, Severity: severity, Field: field, Message: message, Fix: fix})
}

// over reports a value beyond a limit by more than rounding.
func over(value, limit float64) bool { return value > limit*(1+1e-9) }

func given(p *float64) (float64, bool) {
	if p == nil {
		return 0, false
	}
	return *p, true
}
