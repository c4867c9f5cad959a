package recommend_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// priced is a turned cut with a law and rates, without a machine.
func priced(exp, c float64, rates cut.Rates) *cut.Cut {
	one := cuttest.Turning()
	one.Machine, one.Force = nil, nil
	one.Material.Life.Served = &material.Life{Provenance: material.Provenance{ID: "life-a", Basis: domain.Published, Source: "a-book"}, Process: "turning", ToolMaterial: "HC",
		TaylorExp: unit.Some(exp), TaylorSpeedMPerMin: unit.Some(c)}
	one.Material.Starting = cut.StartingChoice{}
	one.Rates = &rates
	one.Engagement.LengthMM = cuttest.N(100)
	one.Parameters = cut.Parameters{CuttingSpeedMPerMin: cuttest.N(c / 3), FeedPerRevolutionMM: cuttest.N(0.2)}
	return one
}

func economy(t testing.TB, c *cut.Cut) recommend.Economy {
	t.Helper()
	e, ok := recommend.EconomyOf(estimate.Of(c))
	if !ok {
		t.Fatal("no economy")
	}
	return e
}

// Speeds printed for the same law and rates: A. Ghosh, A. K. Mallik, Manufacturing Science,
// 2nd ed., problem 4.26 (27.42 m/min); M. P. Groover, 4th ed., example 23.3 (50 and 42 m/min,
// printed figures recalled).
func TestEconomyOfPrintedExamples(t *testing.T) {
	ghosh := economy(t, priced(0.25, 75, cut.Rates{MachineCostPerMin: 0.15, EdgeCost: 2.5, ChangeMinutes: 2}))
	if math.Abs(ghosh.Cheapest.SpeedMPerMin-27.42) > 0.005 || ghosh.Cheapest.BoundBy != "" {
		t.Errorf("cheapest at %+v", ghosh.Cheapest)
	}
	groover := economy(t, priced(0.125, 70, cut.Rates{MachineCostPerMin: 0.5, EdgeCost: 3, ChangeMinutes: 2}))
	if math.Round(groover.Fastest.SpeedMPerMin) != 50 || math.Round(groover.Cheapest.SpeedMPerMin) != 42 {
		t.Errorf("fastest at %v, cheapest at %v", groover.Fastest.SpeedMPerMin, groover.Cheapest.SpeedMPerMin)
	}
}

// The cheapest is cheapest, the fastest fastest, and the speeds nearly as cheap cost just
// that share more.
func TestEconomyIsTheBest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := priced(rapid.Float64Range(0.1, 0.6).Draw(r, "n"), rapid.Float64Range(50, 900).Draw(r, "C"),
			cut.Rates{MachineCostPerMin: rapid.Float64Range(0.2, 4).Draw(r, "Cm"), EdgeCost: rapid.Float64Range(0.5, 20).Draw(r, "Ce"), ChangeMinutes: rapid.Float64Range(0.3, 8).Draw(r, "tc")})
		best := economy(t, c)
		run := func(speed float64) recommend.CostPoint {
			c.Parameters.CuttingSpeedMPerMin = &speed
			return economy(t, c).AsRun
		}
		for _, off := range []float64{0.8, 0.97, 1.03, 1.25} {
			if p := run(best.Cheapest.SpeedMPerMin * off); p.PartCost < best.Cheapest.PartCost*(1-1e-12) {
				r.Fatalf("%v of the cheapest speed costs %v, not %v", off, p.PartCost, best.Cheapest.PartCost)
			}
			if p := run(best.Fastest.SpeedMPerMin * off); p.PartMinutes < best.Fastest.PartMinutes*(1-1e-12) {
				r.Fatalf("%v of the fastest speed takes %v, not %v", off, p.PartMinutes, best.Fastest.PartMinutes)
			}
		}
		for _, speed := range []float64{best.NearLowMPerMin, best.NearHighMPerMin} {
			if p := run(speed); math.Abs(p.PartCost/best.Cheapest.PartCost-recommend.NearRatio) > 1e-6 {
				r.Fatalf("at %v a part costs %v times the least", speed, p.PartCost/best.Cheapest.PartCost)
			}
		}
	})
}

// A machine that cannot run the best speed holds it down and is named; a larger feed of the
// record is taken where it is cheaper.
func TestEconomyWithinLimits(t *testing.T) {
	c := priced(0.25, 700, cut.Rates{MachineCostPerMin: 2, EdgeCost: 1, ChangeMinutes: 1})
	free := economy(t, c)
	e := estimate.Of(c)
	c.Machine = cuttest.Machine(cuttest.Drive{PowerKW: 100, TorqueNm: 1000, MaxSpeedPerMin: e.Motion.SpindleSpeedPerMin * 1.2})
	c.Machine.Process = "turning"
	held := economy(t, c)
	if held.Cheapest.BoundBy != "spindle_speed" || held.Cheapest.SpeedMPerMin >= free.Cheapest.SpeedMPerMin || held.Cheapest.PartCost <= free.Cheapest.PartCost {
		t.Errorf("held %+v, free %+v", held.Cheapest, free.Cheapest)
	}
	c.Machine = nil
	c.Material.Starting.Served = &material.Starting{Provenance: material.Provenance{ID: "s", Basis: domain.Published, Source: "a-book"}, FeedKind: material.PerRevolution,
		Speed: domain.Range{Quantity: unit.Speed, Low: unit.Some(100), High: unit.Some(300)}, Feed: domain.Range{Quantity: unit.Length, Low: unit.Some(0.1), High: unit.Some(0.4)}}
	if blind := economy(t, c); blind.Cheapest.FeedPerRevolutionMM != 0.2 {
		t.Errorf("a law that knows nothing of feed moved it to %v", blind.Cheapest.FeedPerRevolutionMM)
	}
	c.Material.Life.Served.FeedExp, c.Material.Life.Served.ReferenceFeedMM = unit.Some(0.3), unit.Some(0.2)
	if wide := economy(t, c); wide.Cheapest.FeedPerRevolutionMM != 0.4 || wide.Cheapest.PartCost >= free.Cheapest.PartCost {
		t.Errorf("with a larger feed on record: %+v, without %+v", wide.Cheapest, free.Cheapest)
	}
}

// A wanted life moves the speed so far that it is outlived at the confidence asked for, and
// no further than practice goes.
func TestTargetLifeDrivesTheSpeed(t *testing.T) {
	c := priced(0.25, 700, cut.Rates{MachineCostPerMin: 1, EdgeCost: 1, ChangeMinutes: 1})
	c.Parameters = cut.Parameters{}
	c.Material.Starting.Served = &material.Starting{Provenance: material.Provenance{ID: "s", Basis: domain.Published, Source: "a-book"}, FeedKind: material.PerRevolution,
		Speed: domain.Range{Quantity: unit.Speed, Low: unit.Some(200), High: unit.Some(260)}, Feed: domain.Range{Quantity: unit.Length, Low: unit.Some(0.2), High: unit.Some(0.3)}}
	free := recommend.Of(c).Estimate
	c.Target.ToolLifeMinutes = cuttest.N(free.Life.LowMinutes * 2)
	longer := recommend.Of(c)
	if got := longer.Estimate.Life.LowMinutes; math.Abs(got/(free.Life.LowMinutes*2)-1) > 1e-9 || longer.BoundBy != "tool-life" {
		t.Errorf("asked for %v, low is %v, bound by %s", free.Life.LowMinutes*2, got, longer.BoundBy)
	}
	c.Target.ToolLifeMinutes = cuttest.N(free.Life.LowMinutes * 100)
	far := recommend.Of(c)
	if ratio := far.Estimate.Motion.CuttingSpeedMPerMin / free.Motion.CuttingSpeedMPerMin; math.Abs(ratio-0.6) > 1e-9 {
		t.Errorf("a hundred times the life: %v of the speed", ratio)
	}
	held := false
	for _, f := range far.Findings {
		held = held || f.Code == "outside-record-range" && f.Field == "target.tool_life"
	}
	if !held {
		t.Errorf("nothing says so: %+v", far.Findings)
	}
}
