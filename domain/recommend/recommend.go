// Package recommend answers "what should I run?": starting values from the records,
// adjusted by the habits of the trade, each listed; then the smallest change that
// makes every limit hold for the worn edge at the confidence asked for. It goes round
// package estimate and ends in an estimate.
package recommend

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/unit"
)

// Recommendation is an estimate of chosen parameters and how they were chosen.
type Recommendation struct {
	Estimate    *estimate.Estimate // nil when there was no start at all
	Adjustments []Adjustment
	BoundBy     string
	Findings    []domain.Finding
	Refused     bool   // parameters and loads are not to be shown
	Start       *Start // the record that the values began from; nil: both were given
}

// Adjustment is one change made to a starting value.
type Adjustment struct {
	Name, ActsOn string
	FactorRatio  float64
	Reason       string
	Basis        domain.Basis
}

// Of recommends parameters for a checked cut. What the caller gave is kept; what was
// left out is chosen around it.
func Of(asked *cut.Cut) *Recommendation {
	p := newProposal(asked)
	if !p.start() {
		return p.withoutStart()
	}
	p.adjust()
	p.openChip()
	p.last()
	p.fit()
	p.round()
	return p.settle()
}

// withoutStart refuses for want of any starting value.
func (p *proposal) withoutStart() *Recommendation {
	p.say(domain.Finding{Code: "no-data", Severity: domain.Refusal, Field: "parameters",
		Message: "no record gives a starting speed or feed for this operation, material and tool class",
		Fix:     "send a speed and a feed, or make a test cut"})
	return &Recommendation{Findings: p.findings, BoundBy: "", Refused: true}
}

// settle turns the proposal into the answer: the estimate of what was chosen, its
// findings, and whether it may be shown.
func (p *proposal) settle() *Recommendation {
	e := p.estimate()
	findings := finding.Judge(e)
	if failing := p.failing(e); failing != nil {
		p.say(p.infeasible(failing))
	}
	if p.springs {
		p.sprung(e, findings)
	}
	r := &Recommendation{Estimate: e, Adjustments: p.adjustments, BoundBy: p.boundBy, Findings: append(p.findings, findings...)}
	e.Sources = append(e.Sources, p.sources...)
	r.Start = p.began()
	r.Refused = domain.VerdictOf(r.Findings) == domain.No
	return r
}

// infeasible says which limit nothing meets, and the smallest change that would.
func (p *proposal) infeasible(l *estimate.Limit) domain.Finding {
	fix := "another machine, or a smaller tool"
	if s, ok := p.suggestion(); ok {
		fix = s
	}
	return domain.Finding{Code: "no-feasible-set", Severity: domain.Refusal, Field: "machine.limits." + l.Name,
		Value: unit.Of(l.Quantity, p.demand(l)), Limit: unit.Of(l.Quantity, l.Allowed),
		Message: "nothing meets every limit at this confidence: " + l.Name + " would be {value} against {limit}", Fix: fix}
}

func (p *proposal) say(f domain.Finding) { p.findings = append(p.findings, f) }
