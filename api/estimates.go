package api

import (
	"context"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/override"
	"swarf/domain/unit"
)

// computationRoutes are the rows of the computations.
func computationRoutes() []route {
	rows := computationRows("/v1/estimates", computation(estimateOne), batch(estimateOne, verdictOf))
	rows = append(rows, computationRows("/v1/recommendations", computation(recommendOne), batch(recommendOne, verdictOf))...)
	rows = append(rows, computationRows("/v1/spindle-checks", computation(checkSpindles), batch(checkPair, verdictOf))...)
	rows = append(rows, computationRows("/v1/diagnoses", computation(diagnoseOne), batch(diagnoseOne, diagnosisVerdict))...)
	return append(rows, computationRows("/v1/corrections", computation(correctOne), batch(correctOne, settledVerdict))...)
}

// estimateOne answers "I will run these parameters: what do they load?".
func estimateOne(_ context.Context, snap *catalog.Snapshot, req *wire.Cut, opt *ComputeOptions) (any, int, error) {
	c := cutFromWire(snap, req, cut.ToEstimate, opt.Faults)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	e := estimate.Of(c)
	if opt.Draw {
		p, err := pictureOf(e, opt.Picture, aboutCut(e, finding.Judge(e), snap.Revision, opt.System))
		return p, 0, err
	}
	findings := finding.Judge(e)
	if err := opt.pictured(e, findings, snap.Revision); err != nil {
		return nil, 0, err
	}
	opt.Made = e
	a := answerOf(e, findings, opt.System)
	if opt.Window {
		a.Window = windowOf(e)
	}
	if opt.Codes {
		a.Tool = toolUsed(&c.Tool, opt.System)
	}
	stamp(a, opt.System, snap.Revision, opt.Batch)
	if opt.Explain {
		a.Explain = stepsOf(e.Explain())
	}
	return a, len(findings), nil
}

// windowOf is how far the overrides may go.
func windowOf(e *estimate.Estimate) *wire.Window {
	w := override.Of(e)
	return &wire.Window{Feed: factorsOf(&w.Feed), Speed: factorsOf(&w.Speed)}
}

func factorsOf(s *override.Side) wire.Factors {
	out := wire.Factors{LowLimit: s.LowLimit, HighLimit: s.HighLimit, Held: s.Held}
	if s.Open() {
		out.Low, out.High = unit.Some(s.LowRatio), unit.Some(s.HighRatio)
	}
	return out
}

// verdictOf reads the verdict of an answer for the counts of a batch.
func verdictOf(answer any) domain.Verdict {
	switch a := answer.(type) {
	case *wire.Answer:
		return domain.Verdict(a.Verdict)
	case *wire.SpindleResult:
		return domain.Verdict(a.Verdict)
	}
	return domain.No
}

// stepsOf writes the derivation in the metric units of its formulas, whatever the
// caller speaks.
func stepsOf(steps []estimate.Step) []wire.Step {
	out := make([]wire.Step, len(steps))
	for i, s := range steps {
		out[i] = wire.Step{Name: s.Name, Formula: s.Formula, PutIn: s.PutIn, Result: wire.Amount(s.Result.Amount), Unit: s.Result.Quantity.Code(unit.Metric), Source: s.Source}
	}
	return out
}
