package estimate

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/kinematics"
)

// widestRoundMM is the largest working engagement of the rounds of a circle or a milled
// thread.
func widestRoundMM(c *cut.Cut) float64 {
	whole := cut.CircleOf(c)
	if value(c.Engagement.PassesCount, 1) == 1 {
		return kinematics.CircleWidthMM(whole)
	}
	widest := 0.0
	for _, r := range cut.RoundsOf(c) {
		widest = max(widest, kinematics.CircleWidthMM(r))
	}
	return widest
}

// roundPathMM is the path of the cutter's centre over all rounds, once round each.
func roundPathMM(c *cut.Cut) float64 {
	path := 0.0
	for _, r := range cut.RoundsOf(c) {
		path += math.Pi * r.CentreMM()
	}
	return path
}

// planRounds lists the rounds and the arc on which each comes in at half the feed: inside,
// half a circle from the middle to the wall; outside, a quarter turn of the cutter's own
// size. A helix comes in by itself.
func (e *Estimate) planRounds() {
	c := e.Cut
	rounds := cut.RoundsOf(c)
	if len(rounds) > 1 {
		start := *c.Engagement.StartDiameterMM
		for _, r := range rounds {
			e.Moves.Passes = append(e.Moves.Passes, Pass{ToDepthMM: math.Abs(r.EndMM-start) / 2, InfeedMM: math.Abs(r.EndMM-r.StartMM) / 2})
		}
	}
	if e.RampDeg() > 0 {
		return
	}
	arc := 0.0
	for _, r := range rounds {
		if r.Internal {
			arc += math.Pi * r.CentreMM() / 4
		} else {
			arc += math.Pi * r.CutterMM / 4
		}
	}
	e.slowly(arc, arc, "in on an arc at half the feed, each round")
	e.Moves.Entry.DistanceMM = arc / float64(len(rounds))
}
