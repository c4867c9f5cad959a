package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/thread"
	"swarf/domain/unit"
)

// bites are the section and the chip of each pass of a turned thread.
type bites struct {
	passes               []thread.Pass
	areaMM2, thicknessMM float64 // of the pass with the largest section
	contourMM            float64 // its length of edge
	firstMM, lastMM      float64 // thickness of the first and of the last pass
}

func bitesOf(c *cut.Cut) bites {
	en := &c.Engagement
	b := bites{passes: thread.Passes(thread.Series{DepthMM: *en.ThreadDepthMM, PassesCount: *en.PassesCount})}
	before := 0.0
	for i, p := range b.passes {
		groove := thread.Groove{DepthMM: p.ToDepthMM, PitchMM: *en.PitchMM}
		area := groove.AreaMM2() - before
		before = groove.AreaMM2()
		h := area / groove.ContourMM()
		if area > b.areaMM2 {
			b.areaMM2, b.thicknessMM, b.contourMM = area, h, groove.ContourMM()
		}
		if i == 0 {
			b.firstMM = h
		}
		b.lastMM = h
	}
	return b
}

// thread computes a thread turned in passes: the loads are those of the pass with the
// largest section, cut with both flanks.
func (e *Estimate) thread() {
	c, m := e.Cut, &e.Motion
	b := bitesOf(c)
	for _, p := range b.passes {
		e.Moves.Passes = append(e.Moves.Passes, Pass{ToDepthMM: p.ToDepthMM, InfeedMM: p.InfeedMM})
	}
	e.Chip = Chip{ThicknessMeanMM: b.thicknessMM, ThicknessMaxMM: max(b.firstMM, b.lastMM), WidthMM: b.contourMM, EdgesInCutCount: 1}
	e.Sharp.RemovalCM3PerMin = m.CuttingSpeedMPerMin * b.areaMM2
	if !e.serve() {
		return
	}
	of := func(l force.Law) float64 {
		return force.TurningForceN(force.Turned{Law: l, ThicknessMM: b.thicknessMM, WidthMM: b.contourMM})
	}
	l := &e.Sharp
	l.CuttingForceN = of(e.law)
	l.SpecificForceNPerMM2 = e.law.SpecificForceNPerMM2(b.thicknessMM)
	l.FeedForceN = unit.Some(force.FeedShareRatio * l.CuttingForceN)
	l.PassiveForceN = unit.Some(force.PassiveShareRatio * l.CuttingForceN)
	e.turned()
	e.compare(func(law force.Law) float64 {
		return force.TangentialTorqueNm(force.AtDiameter{ForceN: of(law), DiameterMM: m.DiameterMM})
	})
}

// planThread gives the run-in and the time of all passes.
func (e *Estimate) planThread() {
	c, vf := e.Cut, e.Motion.FeedRateMMPerMin
	way := value(c.Engagement.ApproachMM, 0)
	if m := c.Machine; m != nil && m.Axes.AccelerationMPerS2.OK {
		needed := thread.RunInMM(thread.RunUp{FeedRateMMPerMin: vf, AccelerationMPerS2: m.Axes.AccelerationMPerS2.V})
		e.Moves.Entry = &Segment{FeedRateMMPerMin: vf, DistanceMM: max(way, needed)}
		way = max(way, needed)
	} else {
		e.unchecked("run_in", "the machine's acceleration")
	}
	if c.Engagement.LengthMM == nil {
		e.unchecked("time", "engagement.length, the length of thread")
		return
	}
	length := (*c.Engagement.LengthMM + way) * *c.Engagement.PassesCount
	e.Time.CuttingMinutes = unit.Some(kinematics.Minutes(kinematics.Path{LengthMM: length, FeedRateMMPerMin: vf}))
}
