package recommend

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"swarf/domain/estimate"
	"swarf/domain/material"
)

// Start is the record that a recommendation began from: its own ranges, and how far its
// speed may be off by what sources differ.
type Start struct {
	Record            *material.Starting
	SpeedLowMPerMin   float64 // of the record; 0: not told
	SpeedHighMPerMin  float64
	Feed              estimate.FeedRange
	FeedKnown         bool
	LikelyLowMPerMin  float64 // with the confidence asked for; 0: not worked out
	LikelyHighMPerMin float64
	SpreadRatio       float64
}

// began tells what the values began from. Where sources differ by a range, as for reamers,
// the whole range is told and its middle was taken.
func (p *proposal) began() *Start {
	r := p.record
	if r == nil {
		return nil
	}
	s := &Start{Record: r, SpeedLowMPerMin: r.Speed.Low.Or(r.Speed.High.Or(0)), SpeedHighMPerMin: r.Speed.High.Or(r.Speed.Low.Or(0)), Feed: estimate.StartingFeed(p.c, r)}
	s.FeedKnown = s.Feed.Known()
	if spread := p.c.Material.Starting.SpreadRatio; spread > 0 && r.Speed.Known() {
		k := math.Exp(spread * distuv.UnitNormal.Quantile((1+p.c.Confidence)/2))
		s.SpreadRatio, s.LikelyLowMPerMin, s.LikelyHighMPerMin = spread, middle(r.Speed)/k, middle(r.Speed)*k
	}
	return s
}
