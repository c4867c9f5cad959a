package api

import (
	"context"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// recommendOne answers "what should I run?".
func recommendOne(_ context.Context, snap *catalog.Snapshot, req *wire.Cut, opt *ComputeOptions) (any, int, error) {
	c := cutFromWire(snap, req, cut.ToRecommend, opt.Faults)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	r := recommend.Of(c)
	if opt.Draw {
		if r.Refused {
			return nil, 0, noPicture("the recommendation is refused", "ask for JSON: its findings say why")
		}
		if r.Estimate == nil {
			return nil, 0, noPicture("nothing was computed of the cut", "ask for JSON: its findings say why")
		}
		p, err := pictureOf(r.Estimate, opt.Picture, aboutCut(r.Estimate, r.Findings, snap.Revision, opt.System))
		return p, 0, err
	}
	if opt.Asset && (r.Refused || r.Estimate == nil) {
		return nil, 0, notToRun("cut")
	}
	if !r.Refused {
		if err := opt.pictured(r.Estimate, r.Findings, snap.Revision); err != nil {
			return nil, 0, err
		}
	}
	opt.Made = r.Estimate
	a := recommendationOf(r, c, opt.System)
	if opt.Asset {
		a.DataRevision = snap.Revision
		return assetOf(r, a), len(r.Findings), nil
	}
	if opt.Window && r.Estimate != nil && !r.Refused {
		a.Window = windowOf(r.Estimate)
	}
	if opt.Codes {
		a.Tool = toolUsed(&c.Tool, opt.System)
	}
	stamp(a, opt.System, snap.Revision, opt.Batch)
	if opt.Explain && r.Estimate != nil && !r.Refused {
		a.Explain = stepsOf(r.Estimate.Explain())
	}
	return a, len(r.Findings), nil
}

// recommendationOf lays a recommendation out. A refused one shows no parameters and
// no loads, only the limits that are the reason.
func recommendationOf(r *recommend.Recommendation, asked *cut.Cut, system unit.System) *wire.Answer {
	if r.Estimate == nil {
		without(r.Findings, asked.Material.Group)
		engagement := engagementToWire(&asked.Engagement)
		return &wire.Answer{
			Ref: asked.Ref, Verdict: string(domain.VerdictOf(r.Findings)), Operation: asked.Operation.Name, EdgeState: "sharp",
			Material: wire.WorkMaterial{Group: string(asked.Material.Group)}, Engagement: &engagement,
			Findings: findingsOf(r.Findings, system), Assumed: assumedOf(asked.Assumed, system),
			Unchecked: []wire.Unchecked{}, Sources: []wire.Used{},
		}
	}
	a := answerOf(r.Estimate, r.Findings, system)
	a.Adjustments, a.BoundBy, a.Start = adjustmentsOf(r.Adjustments), r.BoundBy, startedFrom(r.Start, asked.Confidence)
	if r.Refused {
		a.Parameters, a.Chip, a.Loads, a.LoadsWorn, a.LoadsSharp, a.Motion, a.Time, a.Finish = nil, nil, nil, nil, nil, nil, nil, nil
		a.Deflection, a.WorkHolding, a.Tilt, a.ToolLife, a.Cost = nil, nil, nil, nil, nil // they are of the parameters too
	}
	return a
}

// startedFrom lays out what a recommendation began from.
func startedFrom(s *recommend.Start, confidence float64) *wire.StartedFrom {
	if s == nil {
		return nil
	}
	out := &wire.StartedFrom{Record: s.Record.ID, Source: s.Record.Source, Basis: string(s.Record.Basis), Spread: above(s.SpreadRatio)}
	if s.SpeedHighMPerMin > 0 {
		out.CuttingSpeed = &wire.Ends{Low: above(s.SpeedLowMPerMin), High: above(s.SpeedHighMPerMin)}
	}
	if s.FeedKnown {
		out.FeedOf, out.Feed = s.Feed.Member, &wire.Ends{Low: s.Feed.Low, High: s.Feed.High}
	}
	if s.LikelyHighMPerMin > 0 {
		out.Likely = &wire.Band{Low: unit.Some(s.LikelyLowMPerMin), High: unit.Some(s.LikelyHighMPerMin), Confidence: confidence}
	}
	return out
}
