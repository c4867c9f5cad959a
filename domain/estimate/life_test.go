package estimate_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// lasting is a turned cut with a tool-life record: P. C. Sharma's example 14.4, n 0.13, C of
// an hour at 30 m/min, 0.3 mm and 2.5 mm with exponents 0.77 and 0.37.
func lasting(change func(*material.Life)) *cut.Cut {
	c := cuttest.Turning()
	r := &material.Life{Provenance: material.Provenance{ID: "life-a", Basis: domain.Published, Source: "pcsharma", Place: "example 14.4"}, Process: "turning", ToolMaterial: "HSS",
		TaylorExp: unit.Some(0.13), TaylorSpeedMPerMin: unit.Some(30 * math.Pow(60, 0.13)), FeedExp: unit.Some(0.77), DepthExp: unit.Some(0.37),
		ReferenceFeedMM: unit.Some(0.3), ReferenceDepthMM: unit.Some(2.5)}
	if change != nil {
		change(r)
	}
	c.Material.Life = cut.LifeChoice{Served: r}
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: n(30), FeedPerRevolutionMM: n(0.3)}
	c.Engagement.DepthOfCutMM = n(2.5)
	return c
}

// The printed lives of that example: an hour, and what a fifth more of speed, feed, depth
// and all of them leaves.
func TestLifeOfTheExample(t *testing.T) {
	for _, row := range []struct{ speed, feed, depth, life float64 }{
		{30, 0.3, 2.5, 60}, {36, 0.3, 2.5, 14.76}, {30, 0.36, 2.5, 20.38}, {30, 0.3, 3, 35.71}, {36, 0.36, 3, 2.98},
	} {
		c := lasting(nil)
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: n(row.speed), FeedPerRevolutionMM: n(row.feed)}
		c.Engagement.DepthOfCutMM = n(row.depth)
		e := estimate.Of(c)
		near(t, "life", e.Life.MedianMinutes, row.life, 2e-3)
	}
}

// What an answer says of the life: the share of edges that outlives low, parts and path to
// an edge, the speed for a wanted life, and what it takes for granted.
func TestLifeInTheAnswer(t *testing.T) {
	c := lasting(func(r *material.Life) { r.Criterion = "VB 0.3 mm" })
	c.Engagement.LengthMM = n(100)
	c.Confidence = 0.9
	c.Target.ToolLifeMinutes = n(20)
	e := estimate.Of(c)
	s := 0.2 / 0.13
	near(t, "spread", e.Life.SpreadRatio, s, 1e-12)
	near(t, "low", e.Life.LowMinutes, 60*math.Exp(-s*distuv.UnitNormal.Quantile(0.9)), 1e-9)
	near(t, "parts", e.Life.PartsCount.V, 60/e.Time.CuttingMinutes.V, 1e-9)
	near(t, "path", e.Life.FeedPathMM, 60*e.Motion.FeedRateMMPerMin, 1e-9)
	c.Parameters.CuttingSpeedMPerMin = n(e.Life.TargetMPerMin.V)
	near(t, "at the speed for the target", estimate.Of(c).Life.LowMinutes, 20, 1e-9)
	if len(e.Assumed) != 0 {
		t.Errorf("assumed %+v", e.Assumed)
	}

	// Tested elsewhere: said, not corrected.
	bare := lasting(func(r *material.Life) {
		r.FeedExp, r.DepthExp, r.ReferenceFeedMM, r.ReferenceDepthMM = unit.Opt{}, unit.Opt{}, unit.Some(0.1), unit.Some(2.5)
	})
	bare.Material.Life.FallBack = "group"
	e = estimate.Of(bare)
	if len(e.Assumed) != 3 {
		t.Errorf("a group's record of another feed, without a criterion: %+v", e.Assumed)
	}
	near(t, "spread of an analogy", e.Life.SpreadRatio, 0.35/0.13, 1e-12)

	none := lasting(nil)
	none.Material.Life = cut.LifeChoice{}
	none.Target.ToolLifeMinutes = n(20)
	if e := estimate.Of(none); e.Life != nil || !hasUnchecked(e, "tool_life") {
		t.Errorf("without a record: %+v", e.Unchecked)
	}
}

func hasUnchecked(e *estimate.Estimate, check string) bool {
	for _, u := range e.Unchecked {
		if u.Check == check {
			return true
		}
	}
	return false
}

// A dry austenitic cut and harder steel are felt as more speed, each as a stated factor.
func TestWhatAnEdgeFeels(t *testing.T) {
	c := lasting(nil)
	c.Material.Group, c.Coolant.Delivery = material.M, "none"
	e := estimate.Of(c)
	near(t, "dry", e.Life.MedianMinutes, 60*math.Pow(0.6, 1/0.13), 1e-9)
	if len(e.Life.Adjusted) != 1 || e.Life.Adjusted[0].Name != "coolant" {
		t.Errorf("%+v", e.Life.Adjusted)
	}
	hard := lasting(nil)
	hard.Material.Group = material.P
	hard.Material.ConditionLowHBW, hard.Material.ConditionHighHBW = 180, 220
	hard.Material.Hardness, hard.Material.HardnessHBW = &material.Hardness{Value: 220, Scale: material.HBW}, 220
	e = estimate.Of(hard)
	near(t, "hard", e.Life.MedianMinutes, 60*math.Pow(1.1, -1.35/0.13), 1e-9)
}
