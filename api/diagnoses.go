package api

import (
	"context"
	"math"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/diagnose"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// diagnoseOne answers "the meter reads other than you said: why?".
func diagnoseOne(_ context.Context, snap *catalog.Snapshot, req *wire.DiagnosisRequest, opt *ComputeOptions) (any, int, error) {
	check := checker{faults: opt.Faults}
	if req.Cut == nil {
		opt.Faults.Missing("cut", "the cut that was made")
		return nil, 0, nil
	}
	own := &cut.Faults{}
	c := cutFromWire(snap, req.Cut, cut.ToEstimate, own)
	for _, e := range own.List {
		e.Field = "cut." + e.Field
		opt.Faults.Any(e)
	}
	if req.Load == nil {
		opt.Faults.Missing("load", "what the meter read")
	}
	load, known := loadFromWire(req.Load, check), knownFromWire(req.Known, check)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	asOverridden(c, req.Load)
	known.OverrideLogged = known.OverrideLogged || req.Load.FeedOverride != nil
	known.IdleTakenOff = known.IdleTakenOff || req.Load.IdlePower != nil
	e := estimate.Of(c)
	out := &wire.Diagnosis{Ref: req.Ref, Causes: []wire.Cause{}, Doubts: []wire.Reason{}}
	if !opt.Batch {
		out.Units, out.DataRevision, out.ModelVersion = opt.System.String(), snap.Revision, estimate.ModelVersion
	}
	seen, doubts, ok := load.Read(e)
	for _, d := range doubts {
		out.Doubts = append(out.Doubts, wire.Reason{Code: d.Code, Text: d.Text})
	}
	if !ok || seen.OfExpectedRatio == 0 {
		return out, 0, nil
	}
	off := seen.OfExpectedRatio
	out.NetTorque, out.Expected, out.OfExpected = unit.Some(seen.TorqueNm), unit.Some(e.Sharp.TorqueNm), unit.Some(off)
	out.WithinSpread = math.Abs(math.Log(off)) <= e.SpreadRatio
	for _, r := range diagnose.Rank(e, &load, known, off) {
		out.Causes = append(out.Causes, wire.Cause{Cause: r.Cause, Probability: unit.Some(r.Probability), Explains: unit.Some(r.ExplainsRatio), Test: r.Test})
	}
	return out, 0, nil
}

// knownFromWire reads what is known beside a reading.
func knownFromWire(w *wire.Known, c checker) *diagnose.Known {
	k := &diagnose.Known{}
	if w == nil {
		return k
	}
	yes := func(b *bool) bool { return b != nil && *b }
	k.OverrideLogged, k.IdleTakenOff, k.MeterKnown = yes(w.OverrideLogged), yes(w.IdleTakenOff), yes(w.MeterKnown)
	k.EdgesCounted, k.HardnessMeasured, k.RisesWithinCut = yes(w.EdgesCounted), yes(w.HardnessMeasured), w.RisesWithinCut
	k.FreshEdgeRatio, _ = c.read("known.fresh_edge_ratio", w.FreshEdgeRatio, bound{unit.None, 10, false})
	k.OtherMachineRatio, _ = c.read("known.other_machine_ratio", w.OtherMachineRatio, bound{unit.None, 10, false})
	k.OtherLotRatio, _ = c.read("known.other_lot_ratio", w.OtherLotRatio, bound{unit.None, 10, false})
	return k
}

// diagnosisVerdict is that of an item of a batch: a diagnosis judges nothing.
func diagnosisVerdict(any) domain.Verdict { return domain.Yes }
