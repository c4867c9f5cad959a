package estimate_test

import (
	"math"
	"testing"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/kinematics"
)

// Two rounds of a thread take equal sections of its groove, each comes in on an arc at
// half the feed, and the load is that of the wider one.
func TestThreadMilledInRounds(t *testing.T) {
	c := cuttest.Of("thread-milling") // from 30 to 33 inside, cutter 12
	once := estimate.Of(c)
	if len(once.Moves.Passes) != 0 {
		t.Errorf("one round lists %+v", once.Moves.Passes)
	}
	near(t, "arc in", once.Moves.Entry.DistanceMM, math.Pi*(33-12)/4, 1e-12)
	near(t, "feed of the arc", once.Moves.Entry.FeedRateMMPerMin, once.Motion.FeedRateMMPerMin/2, 1e-12)
	near(t, "once round", once.Time.CuttingMinutes.V, math.Pi*21/once.Motion.FeedRateMMPerMin, 1e-12)

	c.Engagement.PassesCount = n(2)
	twice := estimate.Of(c)
	first := 1.5 / math.Sqrt2 // of the depth of 1.5, equal triangles
	p := twice.Moves.Passes
	if len(p) != 2 {
		t.Fatalf("%+v", p)
	}
	near(t, "first depth", p[0].ToDepthMM, first, 1e-12)
	near(t, "second infeed", p[1].InfeedMM, 1.5-first, 1e-12)
	near(t, "whole depth", p[1].ToDepthMM, 1.5, 1e-12)
	ring := kinematics.CircleWidthMM(kinematics.Circle{CutterMM: 12, StartMM: 30, EndMM: 30 + 2*first, Internal: true})
	near(t, "the wider round", estimate.WidthMM(c), ring, 1e-12)
	if twice.Sharp.TorqueNm >= once.Sharp.TorqueNm || twice.Time.TotalMinutes().V <= once.Time.TotalMinutes().V {
		t.Errorf("two rounds: torque %v after %v, time %v after %v", twice.Sharp.TorqueNm, once.Sharp.TorqueNm, twice.Time.TotalMinutes(), once.Time.TotalMinutes())
	}
}

// In a balanced head two edges share the feed; stepped, they share the width and each takes
// the whole feed: the chip is twice as thick, so the torque is 2^−mc of it.
func TestSteppedBoringHead(t *testing.T) {
	c := cuttest.Of("boring-rotating")
	c.Tool.EffectiveEdgesCount = n(2)
	c.Force = &cut.ForceData{SpecificCuttingForce11NPerMM2: n(2000), ChipThicknessExp: n(0.25)}
	balanced := estimate.Of(c)
	c.Tool.Arrangement = "stepped"
	stepped := estimate.Of(c)
	f := balanced.Motion.FeedPerRevolutionMM
	near(t, "balanced chip", balanced.Chip.ThicknessMaxMM, f/2, 1e-12)
	near(t, "stepped chip", stepped.Chip.ThicknessMaxMM, f, 1e-12)
	near(t, "stepped width", stepped.Chip.WidthMM, balanced.Chip.WidthMM/2, 1e-12)
	near(t, "torque", stepped.Sharp.TorqueNm/balanced.Sharp.TorqueNm, math.Pow(2, -0.25), 1e-12)
}

// Which drill wants a spot or a pilot, and how a gun drill is set going (common practice).
func TestSpotAndPilot(t *testing.T) {
	of := func(class string, depth float64) *estimate.Moves {
		c := cuttest.Of("drilling")
		own := *c.Tool.Class
		own.ID = class
		c.Tool.Class = &own
		c.Engagement.HoleDepthMM = n(depth * *c.Tool.CuttingDiameterMM)
		return &estimate.Of(c).Moves
	}
	for _, row := range []struct {
		class       string
		depth       float64
		spot, pilot string
	}{
		{"drill-twist-hss", 4, "optional", ""},
		{"drill-solid-carbide", 4, "none", "none"},
		{"drill-solid-carbide", 14, "none", "required"},
		{"drill-exchangeable-tip", 7.9, "none", "none"},
		{"drill-exchangeable-tip", 8, "none", "required"},
		{"drill-indexable", 2, "none", ""},
		{"drill-flat-bottom", 2, "none", ""},
		{"drill-gun", 20, "none", "required"},
	} {
		m := of(row.class, row.depth)
		if m.Spot == nil || m.Spot.Verdict != row.spot || (m.Pilot == nil) != (row.pilot == "") || m.Pilot != nil && m.Pilot.Verdict != row.pilot {
			t.Errorf("%s %v diameters deep: spot %+v, pilot %+v", row.class, row.depth, m.Spot, m.Pilot)
		}
		if (len(m.Start) > 0) != (row.class == "drill-gun") {
			t.Errorf("%s starts by %+v", row.class, m.Start)
		}
	}
	start := of("drill-gun", 20).Start
	if start[0].SpindleSpeedPerMin != 50 || start[0].ToDepthMM >= 18 || start[2].SpindleSpeedPerMin <= 50 || start[len(start)-1].SpindleSpeedPerMin != 50 {
		t.Errorf("gun drill: %+v", start)
	}
}
