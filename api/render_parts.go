package api

import (
	"slices"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

func movesOf(m *estimate.Moves) *wire.Moves {
	if m.Entry == nil && m.Exit == nil && len(m.Pecks) == 0 && len(m.Passes) == 0 && m.Bend == nil && m.Spot == nil && m.Pilot == nil {
		return nil
	}
	out := &wire.Moves{Entry: segmentOf(m.Entry), Exit: segmentOf(m.Exit)}
	for _, p := range m.Passes {
		out.Passes = append(out.Passes, wire.Pass{ToDepth: unit.Some(p.ToDepthMM), Infeed: unit.Some(p.InfeedMM)})
	}
	if b := m.Bend; b != nil {
		out.Bend = &wire.Bend{FeedRate: unit.Some(b.FeedRateMMPerMin), Factor: unit.Some(b.FactorRatio), EngagementAngle: unit.Some(b.EngagementAngleDeg)}
		if b.WallFeedRateMMPerMin > 0 {
			out.Bend.WallFeedRate = unit.Some(b.WallFeedRateMMPerMin)
		}
		if b.StraightAngleDeg > 0 {
			out.Bend.StraightAngle = unit.Some(b.StraightAngleDeg)
		}
	}
	if h := m.Holes; h != nil {
		out.Holes = &wire.Holes{Count: unit.Some(h.Count), Pitch: unit.Some(h.PitchMM), Web: unit.Some(h.WebMM), RemovedShare: unit.Some(h.RemovedShareRatio),
			RestWidth: unit.Some(h.RestWidthMM), Order: h.Order}
	}
	out.Spot, out.Pilot = guideOf(m.Spot), guideOf(m.Pilot)
	for _, s := range m.Start {
		out.Start = append(out.Start, wire.Start{Do: s.Do, SpindleSpeed: above(s.SpindleSpeedPerMin), FeedRate: above(s.FeedRateMMPerMin), ToDepth: above(s.ToDepthMM)})
	}
	for _, p := range m.Pecks {
		peck := wire.Peck{ToDepth: unit.Some(p.ToDepthMM), Retract: p.Retract}
		if p.ReapproachAtMM > 0 {
			peck.ReapproachAt = unit.Some(p.ToDepthMM - p.ReapproachAtMM)
		}
		out.Pecks = append(out.Pecks, peck)
	}
	return out
}

func guideOf(g *estimate.Guide) *wire.Guide {
	if g == nil {
		return nil
	}
	return &wire.Guide{Verdict: g.Verdict, Angle: above(g.AngleDeg), Depth: above(g.DepthMM), Why: g.Why}
}

// above is a number that is there when it is over nought.
func above(v float64) unit.Opt { return unit.Opt{V: v, OK: v > 0} }

func threadOf(t *estimate.Thread) *wire.Thread {
	out := &wire.Thread{Percent: unit.Some(100 * t.Percent.PercentRatio), Base: t.Percent.Base, MinorDiameter: unit.Some(t.MinorMM), Others: make([]wire.Percent, len(t.Others))}
	for i, o := range t.Others {
		out.Others[i] = wire.Percent{Percent: unit.Some(100 * o.PercentRatio), Base: o.Base}
	}
	if l := t.Limit; l != nil {
		out.MinorLow, out.MinorHigh, out.Tolerance = unit.Some(l.LowMM), unit.Some(l.HighMM), l.Class
	}
	return out
}

func lifeOf(l *estimate.ToolLife) *wire.ToolLife {
	out := &wire.ToolLife{Median: unit.Some(l.MedianMinutes), Low: unit.Some(l.LowMinutes), Parts: l.PartsCount, FeedPath: unit.Some(l.FeedPathMM), SpeedForTarget: l.TargetMPerMin,
		Record: l.Record.ID, Basis: string(l.Record.Basis), Criterion: l.Record.Criterion}
	for _, a := range l.Adjusted {
		out.Adjustments = append(out.Adjustments, wire.Adjustment{Name: a.Name, ActsOn: "cutting_speed", Factor: unit.Some(a.SpeedRatio), Reason: a.Reason, Basis: string(domain.CommonPractice)})
	}
	return out
}

func tiltsOf(list []estimate.Tilt) []wire.Tilt {
	out := make([]wire.Tilt, len(list))
	for i, t := range list {
		out[i] = wire.Tilt{TiltAngle: unit.Some(t.TiltDeg), EffectiveDiameter: unit.Some(t.EffectiveDiameterMM),
			SpindleSpeed: unit.Some(t.SpindleSpeedPerMin), FeedRate: unit.Some(t.FeedRateMMPerMin), Binding: t.Binding}
	}
	return out
}

func segmentOf(s *estimate.Segment) *wire.Segment {
	if s == nil {
		return nil
	}
	return &wire.Segment{FeedRate: unit.Some(s.FeedRateMMPerMin), Distance: unit.Some(s.DistanceMM)}
}

func timeOf(t *estimate.Time) *wire.Timing {
	if !t.CuttingMinutes.OK {
		return nil
	}
	out := &wire.Timing{Cutting: t.CuttingMinutes, Total: t.TotalMinutes(), Allowances: make([]wire.Allowance, len(t.Allowances))}
	for i, a := range t.Allowances {
		out.Allowances[i] = wire.Allowance{Name: a.Name, Time: unit.Some(a.Minutes), Why: a.Why}
	}
	return out
}

// findingsOf writes findings in the caller's units.
func findingsOf(list []domain.Finding, system unit.System) []wire.Finding {
	tell(list)
	out := make([]wire.Finding, len(list))
	for i := range list {
		f := &list[i]
		w := wire.Finding{Code: f.Code, Severity: f.Severity.String(), Field: f.Field, Message: f.Message, Fix: f.Fix}
		if f.Value != nil {
			w.Value, w.Unit = amountOf(f.Value, system), f.Value.Quantity.Code(system)
		}
		if f.Limit != nil {
			w.Limit, w.Unit = amountOf(f.Limit, system), f.Limit.Quantity.Code(system)
		}
		if f.Value != nil || f.Limit != nil {
			w.Message, w.Fix = wire.Fill(f.Message, f.Value, f.Limit, system), wire.Fill(f.Fix, f.Value, f.Limit, system)
		}
		out[i] = w
	}
	return out
}

func amountOf(m *unit.Measure, system unit.System) unit.Opt {
	return unit.Some(m.Quantity.FromMetric(system, m.Amount))
}

func assumedOf(list []domain.Assumption, system unit.System) []wire.Assumed {
	out := make([]wire.Assumed, len(list))
	for i, a := range list {
		w := wire.Assumed{Field: a.Field, Why: a.Why}
		if a.Number != nil {
			w.Value, w.Unit = a.Number.Quantity.FromMetric(system, a.Number.Amount), a.Number.Quantity.Code(system)
		} else {
			w.Value = a.Text
		}
		out[i] = w
	}
	return out
}

// uncheckedOf lists each check once.
func uncheckedOf(list []domain.Unchecked) []wire.Unchecked {
	out := make([]wire.Unchecked, 0, len(list))
	for _, u := range list {
		if w := (wire.Unchecked{Check: u.Check, Needs: u.Needs}); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

func sourcesOf(list []domain.Used) []wire.Used {
	out := make([]wire.Used, len(list))
	for i, s := range list {
		out[i] = wire.Used{ID: s.ID, Basis: string(s.Basis), UsedFor: s.UsedFor, Place: s.Place, Valid: s.Valid}
	}
	return out
}

func adjustmentsOf(list []recommend.Adjustment) []wire.Adjustment {
	out := make([]wire.Adjustment, len(list))
	for i, a := range list {
		out[i] = wire.Adjustment{Name: a.Name, ActsOn: a.ActsOn, Factor: unit.Some(a.FactorRatio), Reason: a.Reason, Basis: string(a.Basis)}
	}
	return out
}
