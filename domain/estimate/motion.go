package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/kinematics"
)

// move completes speeds and feeds from the two that were given. The speed belongs
// to the work's diameter before the cut in turning, to the thread's nominal one in
// tapping, to the effective one of a ball, to the tool's elsewhere: chamfers are cut with the outer end of the edge.
func (e *Estimate) move() {
	c, p, m := e.Cut, &e.Cut.Parameters, &e.Motion
	switch {
	case c.Operation.Family == cut.TurningFamily:
		m.DiameterMM = *c.Engagement.WorkDiameterMM
	case c.Operation.Family == cut.ThreadFamily:
		m.DiameterMM = *c.Engagement.NominalDiameterMM
	case c.Operation.Name == "ball-milling":
		m.DiameterMM = kinematics.BallDiameterMM(ballOf(c))
	default:
		m.DiameterMM = *c.Tool.CuttingDiameterMM
	}
	if p.CuttingSpeedMPerMin != nil {
		m.CuttingSpeedMPerMin = *p.CuttingSpeedMPerMin
		m.SpindleSpeedPerMin = kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: m.DiameterMM, SpeedMPerMin: m.CuttingSpeedMPerMin})
	} else {
		m.SpindleSpeedPerMin = *p.SpindleSpeedPerMin
		m.CuttingSpeedMPerMin = kinematics.CuttingSpeedMPerMin(kinematics.Turn{DiameterMM: m.DiameterMM, SpindleSpeedPerMin: m.SpindleSpeedPerMin})
	}
	z := value(c.Tool.EffectiveEdgesCount, 1)
	switch {
	case c.Operation.FeedIsPitch && p.FeedPerToothMM == nil && p.FeedPerRevolutionMM == nil && p.FeedRateMMPerMin == nil:
		m.FeedPerRevolutionMM = *c.Engagement.PitchMM
		m.FeedPerToothMM = m.FeedPerRevolutionMM / z
	case p.FeedPerToothMM != nil:
		m.FeedPerToothMM = *p.FeedPerToothMM
		m.FeedPerRevolutionMM = kinematics.FeedPerRevolutionMM(kinematics.Teeth{FeedPerToothMM: m.FeedPerToothMM, EdgesCount: z})
	case p.FeedPerRevolutionMM != nil:
		m.FeedPerRevolutionMM = *p.FeedPerRevolutionMM
		m.FeedPerToothMM = m.FeedPerRevolutionMM / z
	default:
		m.FeedRateMMPerMin = *p.FeedRateMMPerMin
		m.FeedPerRevolutionMM = m.FeedRateMMPerMin / m.SpindleSpeedPerMin
		m.FeedPerToothMM = m.FeedPerRevolutionMM / z
		return
	}
	m.FeedRateMMPerMin = kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: m.FeedPerRevolutionMM, SpindleSpeedPerMin: m.SpindleSpeedPerMin})
}
