package region_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/region"
	"swarf/domain/unit"
)

// cuts are the samples that are looked around, each on a machine that it loads in earnest.
func cuts() map[string]*cut.Cut {
	on := func(c *cut.Cut, d cuttest.Drive) *cut.Cut {
		c.Machine = cuttest.Machine(d)
		return c
	}
	list := map[string]*cut.Cut{
		"a wall":                   on(cuttest.Milling(), cuttest.Drive{PowerKW: 1.5, TorqueNm: 4, MaxSpeedPerMin: 6000}),
		"a wall on a weak feed":    on(cuttest.Milling(), cuttest.Drive{PowerKW: 12, TorqueNm: 80, MaxSpeedPerMin: 12000}),
		"a hole":                   on(cuttest.Drilling(), cuttest.Drive{PowerKW: 4, TorqueNm: 12, MaxSpeedPerMin: 4000}),
		"a diameter":               on(cuttest.Turning(), cuttest.Drive{PowerKW: 6, TorqueNm: 40, MaxSpeedPerMin: 1300}),
		"a wall without a machine": cuttest.Milling(),
	}
	list["a wall on a weak feed"].Machine.Axes.MaxFeedRateMMPerMin = unit.Some(1500)
	list["a diameter"].Machine.Process = machine.Turning
	points := &list["a hole"].Machine.Spindle.Gears[1].Ratings[0]
	points.Points = []machine.Point{{SpeedPerMin: 700, PowerKW: 1.5}, {SpeedPerMin: 2000, PowerKW: 4}, {SpeedPerMin: 4000, PowerKW: 2.5}}
	return list
}

// full judges a cut at one speed and feed by the whole estimate and every finding.
func full(c cut.Cut, v, f float64, perTooth bool) (limit string, verdict domain.Verdict, thin bool) {
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &v, FeedPerRevolutionMM: &f}
	if perTooth {
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &v, FeedPerToothMM: &f}
	}
	e := estimate.Of(&c)
	if e.Machine != nil {
		if l, ok := e.Machine.Limit(e.Machine.Binding()); ok && l.UtilisationWorn > 1+1e-9 {
			limit = l.Name
		}
	}
	return limit, domain.VerdictOf(finding.Judge(e)), e.Chip.ThicknessMaxMM < finding.MinimumChipMM(&c)*(1-1e-9)
}

// At random points the region says what the full judgement says, but for a hair beside its
// boundaries.
func TestRegionIsTheFullJudgement(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 1))
	met := map[region.Against]int{}
	for name, c := range cuts() {
		r, ok := region.Of(estimate.Of(c))
		if !ok {
			t.Fatal(name)
		}
		wrong := 0
		const points = 1500
		for range points {
			spread := func() float64 { return region.LowRatio + (region.HighRatio-region.LowRatio)*random.Float64() }
			v, f := r.SpeedMPerMin*spread(), r.FeedMM*spread()
			got := r.At(region.Point{SpeedMPerMin: v, FeedMM: f})
			limit, verdict, thin := full(*c, v, f, r.PerTooth)
			if (got.Kind == region.Nothing) == (limit == "" && verdict == domain.Yes && !thin) && (got.Kind == region.Limit) == (limit != "") && (limit == "" || got.Name == limit) {
				met[got]++
				continue
			}
			wrong++
			if near(r, got, v, f) {
				continue
			}
			t.Errorf("%s at %v m/min and %v mm: drawn %v, judged limit %q, %s", name, v, f, got, limit, verdict)
		}
		if wrong > points/100 {
			t.Errorf("%s: %d of %d points are wrong", name, wrong, points)
		}
	}
	for _, a := range []region.Against{{}, {Kind: region.Limit, Name: "torque"}, {Kind: region.Limit, Name: "power"}, {Kind: region.Limit, Name: "spindle_speed"}, {Kind: region.Limit, Name: "feed_rate"}, {Kind: region.Thin, Name: "chip-too-thin"}} {
		if met[a] < 20 {
			t.Errorf("%v was met at %d points", a, met[a])
		}
	}
}

// near reports that something else is drawn within 0.6 % of a point.
func near(r *region.Region, got region.Against, v, f float64) bool {
	for i := range 16 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 8)
		if r.At(region.Point{SpeedMPerMin: v * (1 + 0.006*cos), FeedMM: f * (1 + 0.006*sin)}) != got {
			return true
		}
	}
	return false
}

func TestThreadsHaveNoRegion(t *testing.T) {
	if _, ok := region.Of(estimate.Of(cuttest.Of("tapping"))); ok {
		t.Error("the feed of a tap is its pitch")
	}
}

func BenchmarkRegion(b *testing.B) {
	c := cuts()["a wall"]
	e := estimate.Of(c)
	for b.Loop() {
		region.Of(e)
	}
}
