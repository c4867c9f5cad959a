package estimate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/tool"
)

func as(name string, engagement cut.Engagement) *cut.Cut {
	c := millingCut()
	c.Operation = cuttest.Operation(name)
	c.Tool.Class = &tool.Class{ID: "mill-end", Operations: []string{name}, Edge: tool.Ground, ToolMaterial: "HC"}
	c.Engagement = engagement
	return c
}

// A ball's speed belongs to its effective diameter: 10·sin(15° + 16.26°) = 5.19 mm.
func TestBallRunsAtItsEffectiveDiameter(t *testing.T) {
	c := as("ball-milling", cut.Engagement{AxialDepthMM: n(0.2), StepOverMM: n(0.3), TiltAngleDeg: n(15)})
	c.Tool.CuttingDiameterMM = n(10)
	e := estimate.Of(c)
	near(t, "effective diameter", e.Motion.DiameterMM, 5.1893, 1e-4)
	near(t, "spindle speed", e.Motion.SpindleSpeedPerMin, 1000*120/(math.Pi*5.1893), 1e-4)
	near(t, "power of force and speed", e.Sharp.CuttingForceN*e.Motion.CuttingSpeedMPerMin/60000, e.Sharp.PowerKW, 1e-9)
	near(t, "scallop", e.Finish.ScallopHeightUM.V, 1000*(5-math.Sqrt(25-0.15*0.15)), 1e-6)
}

// Upright a ball asks for more than a spindle has; tilting brings it back, until the whole
// diameter cuts. The table says what binds.
func TestTiltTable(t *testing.T) {
	c := as("ball-milling", cut.Engagement{AxialDepthMM: n(0.2), StepOverMM: n(0.3), TiltAngleDeg: n(12)})
	c.Tool.CuttingDiameterMM = n(10)
	c.Machine = cuttest.Machine(cuttest.Drive{PowerKW: 20, TorqueNm: 100, MaxSpeedPerMin: 12000})
	e := estimate.Of(c)
	if len(e.Tilts) != 8 {
		t.Fatalf("%d tilts", len(e.Tilts))
	}
	for i, row := range e.Tilts {
		want := "cutting_speed"
		if row.TiltDeg == 0 {
			want = "spindle_speed"
			near(t, "speed upright", row.SpindleSpeedPerMin, 12000, 0)
		}
		if row.Binding != want {
			t.Errorf("at %v° %s binds", row.TiltDeg, row.Binding)
		}
		if i > 0 && (row.TiltDeg <= e.Tilts[i-1].TiltDeg || row.EffectiveDiameterMM <= e.Tilts[i-1].EffectiveDiameterMM || row.SpindleSpeedPerMin >= e.Tilts[i-1].SpindleSpeedPerMin) {
			t.Errorf("row %+v after %+v", row, e.Tilts[i-1])
		}
		if row.TiltDeg == 12 {
			near(t, "the row asked for", row.SpindleSpeedPerMin, e.Motion.SpindleSpeedPerMin, 1e-12)
		}
	}
	c.Rotary = &cut.Rotary{DegPerMM: n(1), MaxRateDegPerMin: n(1000)}
	for _, row := range estimate.Of(c).Tilts {
		if row.Binding != "rotary_rate" || math.Abs(row.FeedRateMMPerMin-1000) > 1e-9 {
			t.Errorf("with a slow rotary axis %+v", row)
		}
	}
}

// In a corner the wall keeps its feed; one no larger than the cutter takes a quarter turn
// more, and the feed at which its torque is that of the straight.
func TestBends(t *testing.T) {
	c := millingCut() // 12 mm, 4 mm wide
	c.Engagement.PathRadiusMM = n(30)
	e := estimate.Of(c)
	b := e.Moves.Bend
	near(t, "feed inside", b.FeedRateMMPerMin, e.Motion.FeedRateMMPerMin*48/60, 1e-12)
	near(t, "wall", b.WallFeedRateMMPerMin, e.Motion.FeedRateMMPerMin, 1e-12)
	ae := (60.0*60 - 52*52) / (4 * 48) // (Dm² − Dw²)/(4·(Dm − DC))
	near(t, "engagement inside", b.EngagementAngleDeg, math.Acos(1-2*ae/12)*180/math.Pi, 1e-9)
	c.Engagement.PathRadiusMM = n(-30)
	b = estimate.Of(c).Moves.Bend
	near(t, "feed outside", b.FeedRateMMPerMin, e.Motion.FeedRateMMPerMin*72/60, 1e-12)
	ae = (68.0*68 - 60*60) / (4 * 72)
	near(t, "engagement outside", b.EngagementAngleDeg, math.Acos(1-2*ae/12)*180/math.Pi, 1e-9)
	c.Engagement.PathRadiusMM = n(6)
	b = estimate.Of(c).Moves.Bend
	near(t, "engagement in a square corner", b.EngagementAngleDeg, b.StraightAngleDeg+90, 1e-9)
	sharp := as("side-milling", cut.Engagement{AxialDepthMM: n(10), RadialWidthMM: n(6 * (1 - math.Cos(b.EngagementAngleDeg*math.Pi/180)))})
	sharp.Parameters.FeedPerToothMM = n(0.06 * b.FactorRatio)
	near(t, "torque in the corner", estimate.Of(sharp).Sharp.TorqueNm, e.Sharp.TorqueNm, 1e-9)
}

// A loop that opens to half a turn is a slot.
func TestTrochoidalBecomesASlot(t *testing.T) {
	slot := estimate.Of(as("slot-milling", cut.Engagement{AxialDepthMM: n(10), RadialWidthMM: n(12)}))
	loop := func(phi float64) *estimate.Estimate {
		return estimate.Of(as("trochoidal-milling", cut.Engagement{AxialDepthMM: n(10), SlotWidthMM: n(20), EngagementAngleDeg: n(phi)}))
	}
	near(t, "torque", loop(180).Sharp.TorqueNm, slot.Sharp.TorqueNm, 1e-9)
	near(t, "peak", loop(180).Sharp.TorquePeakNm, slot.Sharp.TorquePeakNm, 1e-9)
	rapid.Check(t, func(r *rapid.T) {
		phi := rapid.Float64Range(5, 179).Draw(r, "phi")
		if e := loop(phi); e.Sharp.TorqueNm >= slot.Sharp.TorqueNm || e.Sharp.TorqueNm <= loop(phi*0.99).Sharp.TorqueNm {
			r.Fatalf("torque %v at %v°, %v in a slot", e.Sharp.TorqueNm, phi, slot.Sharp.TorqueNm)
		}
	})
}

// Once round and down: the way of the cutter's centre and its helix.
func TestPathsOfCircles(t *testing.T) {
	yes := true
	c := as("circular-milling", cut.Engagement{StartDiameterMM: n(29), EndDiameterMM: n(30), Internal: &yes, PitchMM: n(1.097068), AxialDepthMM: n(12)})
	c.Tool.CuttingDiameterMM = n(20)
	e := estimate.Of(c)
	near(t, "helix angle", e.RampDeg(), 2, 1e-6)
	near(t, "minutes", e.Time.CuttingMinutes.V, math.Pi*10*10.93824/e.Motion.FeedRateMMPerMin, 1e-6)
	near(t, "feed at the wall", e.Moves.Bend.WallFeedRateMMPerMin, e.Motion.FeedRateMMPerMin*3, 1e-12)
}

// Flat-bottom holes may overlap: what two share is taken out once, and the rest pass meets
// what stands beside the opening. Two holes of 20 mm, 15 mm apart, in a slot as wide.
func TestOverlappingChain(t *testing.T) {
	c := drillingCut()
	c.Operation, c.Tool.CuttingDiameterMM, c.Tool.PointAngleDeg = cuttest.Operation("chain-drilling"), n(20), n(180)
	c.Engagement = cut.Engagement{SlotWidthMM: n(20), SlotLengthMM: n(35), SlotDepthMM: n(10), PitchMM: n(15), WallAllowanceMM: n(0), FloorAllowanceMM: n(0)}
	h := estimate.Of(c).Moves.Holes
	near(t, "holes", h.Count, 2, 0)
	near(t, "rest", h.RestWidthMM, 20-13.22876, 1e-6)
	// by columns across the slot's length: the outline of two circles, 15 mm apart
	area, steps := 0.0, 35000
	for i := range steps {
		x := 35 * (float64(i) + 0.5) / float64(steps)
		area += 35 / float64(steps) * 2 * max(0, math.Sqrt(max(0, 100-(x-10)*(x-10))), math.Sqrt(max(0, 100-(x-25)*(x-25))))
	}
	near(t, "share", h.RemovedShareRatio, area/(35*20), 1e-5)
	c.Engagement.PitchMM, c.Engagement.SlotLengthMM = n(21), n(41)
	h = estimate.Of(c).Moves.Holes
	near(t, "share of holes apart", h.RemovedShareRatio, 2*math.Pi*100/(41*20), 1e-12)
	near(t, "rest at a web", h.RestWidthMM, 20, 0)
}

// The short way to the torque at another cutting edge angle agrees with the long one.
func TestTorqueAtAnotherEdgeAngle(t *testing.T) {
	held := 0
	for _, name := range cut.Names() {
		c := cuttest.Of(name)
		e := estimate.Of(c)
		ratio, ok := e.TorqueRatioAtEdgeAngle(55)
		if !ok {
			continue
		}
		held++
		c.Tool.CuttingEdgeAngleDeg = n(55)
		loads, _ := estimate.LoadsOf(c)
		near(t, name+" torque", loads.TorqueNm/e.Sharp.TorqueNm, ratio, 1e-9)
		near(t, name+" peak", loads.TorquePeakNm/e.Sharp.TorquePeakNm, ratio, 1e-9)
	}
	if held < 5 {
		t.Errorf("held for %d operations", held)
	}
}
