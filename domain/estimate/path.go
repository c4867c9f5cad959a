package estimate

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// entryRatio is the share of the feed until the cutter is fully on, and on a ramp.
// Common practice, no source.
const entryRatio = 0.5

// planMilling gives the way in and the bends of a milling path, and its time.
func (e *Estimate) planMilling() {
	c, vf := e.Cut, e.Motion.FeedRateMMPerMin
	name := c.Operation.Name
	if name != "ball-milling" && name != "chamfer-milling" && name != "plunge-milling" {
		e.Moves.Bend = e.bendOf()
	}
	length, ok := e.pathMM()
	if !ok {
		e.unchecked("time", "engagement.length, the path at feed")
	} else {
		e.Time.CuttingMinutes = unit.Some(kinematics.Minutes(kinematics.Path{LengthMM: length, FeedRateMMPerMin: vf}))
	}
	if c.Engagement.EndDiameterMM != nil {
		e.planRounds()
	}
	switch angle := e.RampDeg(); {
	case angle > 0:
		way := kinematics.RampPathMM(kinematics.Ramp{DepthMM: DepthMM(c), AngleDeg: angle})
		e.slowly(way, way, "down the ramp at half the feed")
	case name == "face-milling":
		way := value(c.Engagement.ApproachMM, approachMM) + e.Motion.DiameterMM/2
		e.slowly(way, 0, "half the feed until the cutter is fully on")
	}
}

// slowly sets the way in, at half the feed; beyond is the part of it that the path at
// feed does not hold.
func (e *Estimate) slowly(way, beyond float64, why string) {
	vf := e.Motion.FeedRateMMPerMin
	e.Moves.Entry = &Segment{FeedRateMMPerMin: vf * entryRatio, DistanceMM: way}
	e.Time.Allowances = append(e.Time.Allowances, Allowance{Name: "entry", Minutes: way/(vf*entryRatio) - (way-beyond)/vf, Why: why})
}

// pathMM is the path at feed: as it was given, or the cutter's centre once round, or one
// plunge.
func (e *Estimate) pathMM() (length float64, ok bool) {
	c, en := e.Cut, &e.Cut.Engagement
	switch {
	case en.LengthMM != nil:
		return *en.LengthMM, true
	case c.Operation.Name == "plunge-milling":
		return value(en.ApproachMM, approachMM) + *en.AxialDepthMM, true
	case en.EndDiameterMM != nil:
		turns := 1.0
		if c.Operation.Name == "circular-milling" && en.PitchMM != nil && en.AxialDepthMM != nil {
			turns = *en.AxialDepthMM / *en.PitchMM
		}
		return roundPathMM(c) * turns, true
	case c.Operation.Name == "chamfer-milling" && en.WorkDiameterMM != nil:
		d, w := *c.Tool.CuttingDiameterMM, 2**en.ChamferWidthMM
		if *en.Internal {
			return math.Pi * (*en.WorkDiameterMM + w - d), true
		}
		return math.Pi * (*en.WorkDiameterMM - w + d), true
	}
	return 0, false
}

// RampDeg is the angle at which the cutter goes down, as asked or by its helix; 0 for
// level paths. A thread's helix is the thread itself and no way in.
//
// Range: a checked cut. Errors: none. Source: geometry.
func (e *Estimate) RampDeg() float64 {
	en := &e.Cut.Engagement
	switch {
	case en.RampAngleDeg != nil:
		return *en.RampAngleDeg
	case e.Cut.Operation.Name == "circular-milling" && en.PitchMM != nil:
		return kinematics.HelixAngleDeg(kinematics.Turns{PitchMM: *en.PitchMM, CentreDiameterMM: cut.CircleOf(e.Cut).CentreMM()})
	}
	return 0
}
