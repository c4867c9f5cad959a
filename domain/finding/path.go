package finding

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// ramp judges how a milling cutter goes down: on a ramp, on a helix, straight.
func (j *judge) ramp() {
	if j.c.Operation.Family != cut.MillingFamily {
		return
	}
	if j.c.Operation.Name == "plunge-milling" {
		j.plunge()
		return
	}
	a := j.e.RampDeg()
	if a <= 0 {
		return
	}
	field := "engagement.ramp_angle"
	if j.c.Engagement.RampAngleDeg == nil {
		field = "engagement.pitch" // the angle of the helix
	}
	if limit, known := given(j.c.Tool.MaxRampAngleDeg); known && over(a, limit) {
		j.says("ramp-angle-exceeded", domain.Refusal, field, unit.Angle, a, limit,
			"a way down at {value} is steeper than the tool's {limit}", "a flatter ramp, or a larger helix")
	} else if !known {
		j.unchecked("ramp_angle", "tool.max_ramp_angle")
	}
}

// plunge refuses a plunge with the axis in the metal where the tool does not cut there.
func (j *judge) plunge() {
	band := estimate.PlungeOf(j.c)
	if band.FromMM >= 0 || band.ToMM <= 0 {
		return
	}
	switch cuts := j.c.Tool.CentreCutting; {
	case cuts == nil:
		j.unchecked("centre_cutting", "tool.centre_cutting: the axis of the tool is in the work")
	case !*cuts:
		j.says("not-centre-cutting", domain.Refusal, "tool.centre_cutting", unit.Length, *j.c.Engagement.RadialWidthMM, band.DiameterMM/2,
			"a width of {value} puts the axis in the work, where this tool does not cut; {limit} is the most", "less width, a ramp, or a centre-cutting tool")
	}
}

// cornerRatio is how much longer the arc may be in a corner than on the straight.
// Common practice, no source.
const cornerRatio = 1.25

// path judges bends of a milling path, the tip of a ball and rotary axes along it.
func (j *judge) path() {
	if b := j.e.Moves.Bend; b != nil {
		if straight := b.StraightAngleDeg; straight > 0 && over(b.EngagementAngleDeg, cornerRatio*straight) {
			j.says("corner-engagement-high", domain.Warning, "motion.bend.engagement_angle", unit.Angle, b.EngagementAngleDeg, cornerRatio*straight,
				"in the corner a tooth cuts over {value}; {limit} is a quarter more than on the straight", "a larger corner, a smaller tool, or the feed of motion.bend there")
		}
		if corrects := j.c.Control.CorrectsArcs; (corrects == nil || *corrects) && b.FactorRatio != 1 {
			j.says("arc-feed-may-double", domain.Note, "motion.bend.factor", unit.None, b.FactorRatio, 1,
				"the feed of the bend is already {value} of the straight's; a control that corrects arcs would do it twice", "ask what the control does, and let only one of the two")
		}
	}
	if j.c.Operation.Name == "ball-milling" {
		ball := kinematics.Ball{DiameterMM: *j.c.Tool.CuttingDiameterMM, DepthMM: *j.c.Engagement.AxialDepthMM}
		if clear, tilt := kinematics.BallContactDeg(ball), *j.c.Engagement.TiltAngleDeg; over(clear, tilt) {
			j.says("tip-in-cut", domain.Warning, "engagement.tilt_angle", unit.Angle, tilt, clear,
				"at a tilt of {value} the tip, which stands still, is in the cut; it is clear from {limit}", "tilt by {limit} or more, 10 to 20 degrees as a habit")
		}
	}
	if w := j.c.Engagement.ChamferWidthMM; w != nil {
		if inner := *j.c.Tool.CuttingDiameterMM/2 - *w; inner < tipClearMM*(1-1e-9) {
			j.says("tip-in-cut", domain.Warning, "engagement.chamfer_width", unit.Length, inner, tipClearMM,
				"the chamfer comes within {value} of the cutter's axis, where the edge rubs; {limit} keeps clear of it", "a larger cutter, or another place along the edge")
		}
	}
	if feed, ok := j.c.Rotary.FeedMMPerMin(); ok && over(j.e.Motion.FeedRateMMPerMin, feed) {
		j.says("feed-rate-exceeded", domain.Refusal, "rotary.max_rate", unit.FeedRate, j.e.Motion.FeedRateMMPerMin, feed,
			"at feed {value} the rotary axis would turn faster than it can; it follows to {limit}", "lower the feed there, or a path that turns less")
	}
}

// tipClearMM keeps a chamfer off the tip of its cutter. Common practice, no source.
const tipClearMM = 0.2
