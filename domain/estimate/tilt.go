package estimate

import (
	"math"
	"slices"

	"swarf/domain/kinematics"
)

// Tilt is what a ball may run at one tilt of its axis, and what binds there.
type Tilt struct {
	TiltDeg, EffectiveDiameterMM, SpindleSpeedPerMin, FeedRateMMPerMin float64
	Binding                                                            string
}

// shownTilts are the angles that are shown beside the one asked for, in degrees.
var shownTilts = []float64{0, 5, 10, 15, 20, 30, 45}

// tilts shows how speed and feed of a ball change with the tilt, at the cutting speed of
// this cut and its feed per revolution, each as far as spindle, tool, table and rotary
// axis let it go.
func (e *Estimate) tilts() {
	if e.Cut.Operation.Name != "ball-milling" {
		return
	}
	ball := ballOf(e.Cut)
	angles := shownTilts
	if at, found := slices.BinarySearch(shownTilts, ball.TiltDeg); !found {
		angles = slices.Insert(slices.Clone(shownTilts), at, ball.TiltDeg)
	}
	e.Tilts = make([]Tilt, len(angles))
	for i, angle := range angles {
		ball.TiltDeg = angle
		e.Tilts[i] = e.tilt(ball)
	}
}

func (e *Estimate) tilt(b kinematics.Ball) Tilt {
	t := Tilt{TiltDeg: b.TiltDeg, EffectiveDiameterMM: kinematics.BallDiameterMM(b), Binding: "cutting_speed"}
	t.SpindleSpeedPerMin = kinematics.SpindleSpeedPerMin(kinematics.Rim{DiameterMM: t.EffectiveDiameterMM, SpeedMPerMin: e.Motion.CuttingSpeedMPerMin})
	most := func(name string, n float64) {
		if n < t.SpindleSpeedPerMin {
			t.SpindleSpeedPerMin, t.Binding = n, name
		}
	}
	feedMost := math.Inf(1)
	if m := e.Cut.Machine; m != nil {
		most("spindle_speed", m.Spindle.MaxSpeedPerMin)
		feedMost = m.Axes.MaxFeedRateMMPerMin.Or(feedMost)
	}
	if n := e.Cut.Tool.MaxSpindleSpeedPerMin; n != nil {
		most("tool_speed", *n)
	}
	name := "feed_rate"
	if r, ok := e.Cut.Rotary.FeedMMPerMin(); ok && r < feedMost {
		name, feedMost = "rotary_rate", r
	}
	if n := feedMost / e.Motion.FeedPerRevolutionMM; n < t.SpindleSpeedPerMin {
		most(name, n)
	}
	t.FeedRateMMPerMin = kinematics.FeedRateMMPerMin(kinematics.Advance{FeedPerRevolutionMM: e.Motion.FeedPerRevolutionMM, SpindleSpeedPerMin: t.SpindleSpeedPerMin})
	return t
}
