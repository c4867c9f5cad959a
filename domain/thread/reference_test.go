package thread_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/thread"
	"swarf/testdata/reference/calculation/calculationtest"
)

// Printed tables of ISO 724, ISO 965, ASME B1.1 and a handbook's percents.
func TestReference(t *testing.T) { calculationtest.Run(t, "thread", 40) }

// The passes of a thread end at its depth, each shallower than the one before, and each
// takes the same of a sharp groove.
func TestPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := thread.Series{DepthMM: rapid.Float64Range(0.1, 5).Draw(t, "depth"), PassesCount: float64(rapid.IntRange(1, 30).Draw(t, "count"))}
		passes := thread.Passes(s)
		sum, before := 0.0, 0.0
		for i, p := range passes {
			if i > 0 && p.InfeedMM >= passes[i-1].InfeedMM {
				t.Fatalf("pass %d takes %v after %v", i+1, p.InfeedMM, passes[i-1].InfeedMM)
			}
			area := p.ToDepthMM*p.ToDepthMM - before*before
			if want := s.DepthMM * s.DepthMM / s.PassesCount; math.Abs(area-want) > 1e-9*want {
				t.Fatalf("pass %d takes an area of %v, %v each", i+1, area, want)
			}
			before = p.ToDepthMM
			sum += p.InfeedMM
		}
		if math.Abs(sum-s.DepthMM) > 1e-9 {
			t.Fatalf("infeeds add up to %v of %v", sum, s.DepthMM)
		}
	})
}

// A hole for a percent has that percent.
func TestHoleForAPercent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(2, 60).Draw(t, "D")
		w := thread.Wanted{Thread: thread.Thread{NominalMM: d, PitchMM: d * rapid.Float64Range(0.05, 0.25).Draw(t, "P/D")},
			Base:         rapid.SampledFrom([]thread.Base{thread.Internal, thread.National, thread.Formed}).Draw(t, "base"),
			PercentRatio: rapid.Float64Range(0.4, 1).Draw(t, "share")}
		if got := (thread.Hole{Thread: w.Thread, HoleMM: w.HoleMM()}).PercentOn(w.Base); math.Abs(got-100*w.PercentRatio) > 1e-9*got {
			t.Fatalf("%v %% for %v", got, 100*w.PercentRatio)
		}
	})
}

// By hand: 6,000 mm/min is 100 mm/s; at 1 m/s² it takes 0.1 s and 5 mm.
func TestRunIn(t *testing.T) {
	if got := thread.RunInMM(thread.RunUp{FeedRateMMPerMin: 6000, AccelerationMPerS2: 1}); math.Abs(got-5) > 1e-12 {
		t.Errorf("run-in %v mm, by hand 5", got)
	}
}
