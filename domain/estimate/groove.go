package estimate

import (
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// Parting off slows down near the centre: the share of the feed, the middle of 0.3 to
// 0.5, and how far out, half of 2 to 3 mm on diameter. Common practice, no source.
const (
	partingEndRatio = 0.4
	partingEndMM    = 1.25
)

// planGroove gives the time of a plunge, and the slow end of parting off.
func (e *Estimate) planGroove() {
	c, vf := e.Cut, e.Motion.FeedRateMMPerMin
	depth := *c.Engagement.DepthMM
	travel := value(c.Engagement.ApproachMM, approachMM) + depth
	minutes := kinematics.Minutes(kinematics.Path{LengthMM: travel, FeedRateMMPerMin: vf})
	if c.Operation.Name == "parting" && depth >= *c.Engagement.WorkDiameterMM/2-partingEndMM {
		end := min(partingEndMM, depth)
		e.Moves.Exit = &Segment{FeedRateMMPerMin: vf * partingEndRatio, DistanceMM: end}
		minutes += end/(vf*partingEndRatio) - end/vf
	}
	e.Time.CuttingMinutes = unit.Some(minutes)
}
