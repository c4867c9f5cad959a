package api

import (
	"swarf/api/wire"
	"swarf/domain/estimate"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// costOf is the economy of an estimate for the wire, nil where none can be worked out.
func costOf(e *estimate.Estimate) *wire.Cost {
	if e.Cut.Rates == nil {
		return nil
	}
	economy, ok := recommend.EconomyOf(e)
	if !ok {
		return nil
	}
	run := &economy.AsRun
	return &wire.Cost{PerPart: unit.Some(run.PartCost), TimePerPart: unit.Some(run.PartMinutes), EdgesPerPart: unit.Some(run.EdgesRatio),
		Cheapest: costPointOf(&economy.Cheapest), Fastest: costPointOf(&economy.Fastest),
		NearlyAs: &wire.Near{SpeedFrom: unit.Some(economy.NearLowMPerMin), SpeedTo: unit.Some(economy.NearHighMPerMin), Times: unit.Some(recommend.NearRatio)}}
}

func costPointOf(p *recommend.CostPoint) *wire.CostPoint {
	return &wire.CostPoint{CuttingSpeed: unit.Some(p.SpeedMPerMin), FeedPerRevolution: unit.Some(p.FeedPerRevolutionMM), EdgeLife: unit.Some(p.LifeMinutes),
		PerPart: unit.Some(p.PartCost), TimePerPart: unit.Some(p.PartMinutes), EdgesPerPart: unit.Some(p.EdgesRatio), BoundBy: p.BoundBy}
}
