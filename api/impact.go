package api

import (
	"cmp"
	"math"
	"slices"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/material"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// getImpact answers GET /v1/records/{id}/impact: what the next step on a record does to
// the kept cuts. A draft is taken as approved, a record in force as withdrawn.
func getImpact(x *exchange) error {
	r, err := x.record()
	if err != nil {
		return err
	}
	out, err := impactOf(x.s, x.snap, r)
	if err != nil {
		return err
	}
	return x.conditional(out)
}

// impactOf works out what the next step on a record does.
func impactOf(s *Server, snap *catalog.Snapshot, r *catalog.Record) (*wire.Impact, error) {
	out := &wire.Impact{Record: r.ID, Step: "none", Cuts: []wire.ImpactOn{}, DataRevision: snap.Revision, ModelVersion: s.ModelVersion}
	out.Counts.Cuts = len(snap.Cuts())
	data := snap.Data()
	switch {
	case r.State() == material.Draft || r.State() == material.Approved && !r.Provenance().Serves():
		out.Step, data = "approval", data.Approved(r.ID)
	case r.Provenance().Serves():
		out.Step, data = "withdrawal", data.Without(r.ID)
	default:
		return out, nil
	}
	after, err := catalog.New(data)
	if err != nil {
		return nil, &domain.Error{Kind: domain.Internal, Code: "internal", Msg: "the data with the record does not hold together", Err: err}
	}
	for _, kept := range snap.Cuts() {
		was, now := outcomeOf(snap, kept), outcomeOf(after, kept)
		if was == nil || now == nil {
			out.Counts.Failed++
			continue
		}
		on, changed := was.against(now)
		if !changed {
			continue
		}
		on.Cut = kept.ID
		out.Counts.Changed++
		if len(on.Crosses) > 0 || on.VerdictBefore != on.VerdictAfter {
			out.Counts.Crossing++
		}
		out.Cuts = append(out.Cuts, on)
	}
	slices.SortStableFunc(out.Cuts, func(a, b wire.ImpactOn) int {
		size := func(o unit.Opt) float64 { return math.Abs(math.Log(o.Or(1))) }
		return cmp.Compare(size(b.Torque), size(a.Torque))
	})
	return out, nil
}

// outcome is what a kept cut comes to.
type outcome struct {
	*estimate.Estimate // nil: a recommendation without any start
	verdict            domain.Verdict
}

// outcomeOf computes a kept cut from a snapshot, nil where it cannot be resolved in it.
func outcomeOf(snap *catalog.Snapshot, kept *catalog.StoredCut) *outcome {
	w, _, err := asked(kept)
	if err != nil {
		return nil
	}
	faults := &cut.Faults{}
	purpose := purposeOfKept(w)
	c := cutFromWire(snap, w, purpose, faults)
	if len(faults.List) > 0 {
		return nil
	}
	if purpose == cut.ToEstimate {
		e := estimate.Of(c)
		return &outcome{e, domain.VerdictOf(finding.Judge(e))}
	}
	r := recommend.Of(c)
	return &outcome{r.Estimate, domain.VerdictOf(r.Findings)}
}

// against says what is after over what was before, and whether anything changed.
func (was *outcome) against(now *outcome) (on wire.ImpactOn, changed bool) {
	on = wire.ImpactOn{VerdictBefore: string(was.verdict), VerdictAfter: string(now.verdict), Crosses: []string{}}
	changed = was.verdict != now.verdict
	if was.Estimate == nil || now.Estimate == nil {
		return on, changed || was.Estimate != now.Estimate
	}
	record := func(e *estimate.Estimate) string {
		if e.Served == nil {
			return ""
		}
		return e.Served.ID
	}
	on.RecordBefore, on.RecordAfter = record(was.Estimate), record(now.Estimate)
	changed = changed || on.RecordBefore != on.RecordAfter
	ratio := func(before, after float64) unit.Opt {
		if before <= 0 || after <= 0 {
			return unit.Opt{}
		}
		changed = changed || before != after
		return unit.Some(after / before)
	}
	b, a := &was.Sharp, &now.Sharp
	on.Speed, on.FeedRate = ratio(was.Motion.CuttingSpeedMPerMin, now.Motion.CuttingSpeedMPerMin), ratio(was.Motion.FeedRateMMPerMin, now.Motion.FeedRateMMPerMin)
	on.CuttingForce, on.Torque, on.Power = ratio(b.CuttingForceN, a.CuttingForceN), ratio(b.TorqueNm, a.TorqueNm), ratio(b.PowerKW, a.PowerKW)
	if was.Machine == nil || now.Machine == nil {
		return on, changed
	}
	for i := range was.Machine.Limits {
		before := &was.Machine.Limits[i]
		if after, ok := now.Machine.Limit(before.Name); ok && (before.UtilisationWorn > 1) != (after.UtilisationWorn > 1) {
			on.Crosses = append(on.Crosses, before.Name)
		}
	}
	return on, changed
}
