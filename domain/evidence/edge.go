package evidence

import (
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// Edge is the log of one edge: how long it was in the cut and why it was changed.
type Edge struct {
	Minutes float64
	Reason  string // worn, size, chipped, by-plan, batch-end
	WearMM  unit.Opt
}

// Ended is what an edge's log says: a speed, a feed, a depth, a time, and whether the edge
// was at its end or had at least that long to live.
type Ended struct {
	SpeedMPerMin, FeedMM, DepthMM, Minutes float64
	Failed                                 bool
}

// Read takes an edge's log to what the law of life needs. Only wear, or size lost to it,
// ends a life; an edge that chipped, was changed by plan or at the end of a batch had lasted
// at least so long.
func (l Edge) Read(e *estimate.Estimate) (Ended, []Doubt) {
	out := Ended{SpeedMPerMin: e.Motion.CuttingSpeedMPerMin, FeedMM: e.Motion.FeedPerRevolutionMM, DepthMM: 1, Minutes: l.Minutes, Failed: l.Reason == "worn" || l.Reason == "size"}
	if d := e.Cut.Engagement.DepthOfCutMM; d != nil {
		out.DepthMM = *d
	}
	var doubts []Doubt
	if l.Minutes < leastMinutes {
		doubts = append(doubts, Doubt{"minutes-too-few", "an edge that lasted a few seconds tells of the set-up, not of wear"})
	}
	return out, doubts
}

// leastMinutes is how long an edge must have cut to tell anything of wear. Common practice,
// no source.
const leastMinutes = 0.2
