package word

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
)

func TestRounded(t *testing.T) {
	for _, c := range []struct{ v, step, down, up float64 }{
		{1591.55, 1, 1591, 1592}, {1591.55, 50, 1550, 1600}, {190, 1, 190, 190}, {0.3, 0.1, 0.3, 0.3}, {0.29999999999999, 0.1, 0.3, 0.3}, {0.4, 1, 0, 1}, {2.54, 0.254, 2.54, 2.54},
	} {
		if down, up := rounded(c.v, c.step, false), rounded(c.v, c.step, true); math.Abs(down-c.down) > 1e-9 || math.Abs(up-c.up) > 1e-9 {
			t.Errorf("%v in steps of %v: %v and %v, want %v and %v", c.v, c.step, down, up, c.down, c.up)
		}
	}
}

// Whatever the steps, the words are whole steps, no try goes up by more than a twentieth,
// and the first goes down in both.
func TestTriesKeepTheirWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := cuttest.Milling()
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: cuttest.N(rapid.Float64Range(20, 400).Draw(t, "speed")), FeedPerRevolutionMM: cuttest.N(rapid.Float64Range(0.02, 0.5).Draw(t, "feed"))}
		e := estimate.Of(c)
		s := Steps{SpeedPerMin: rapid.SampledFrom([]float64{0.1, 1, 10, 100}).Draw(t, "speed step"), PerRevolution: rapid.Bool().Draw(t, "per revolution"),
			FeedMMPerMin: rapid.SampledFrom([]float64{0.1, 1, 10}).Draw(t, "rate step"), PerRevolutionMM: rapid.SampledFrom([]float64{0.001, 0.01}).Draw(t, "feed step")}
		n, turn := e.Motion.SpindleSpeedPerMin, e.Motion.FeedPerRevolutionMM
		for i, try := range tries(e, s) {
			feed, step := turn, s.PerRevolutionMM
			if !s.PerRevolution {
				feed, step = turn*try.speed, s.FeedMMPerMin
			}
			if !whole(try.speed/s.SpeedPerMin) || !whole(try.feed/step) {
				t.Fatalf("%+v is not in steps of %+v", try, s)
			}
			if i == 0 && !try.up && (try.speed > n*(1+1e-9) || try.feed > feed*(1+1e-9)) {
				t.Fatalf("the first try %+v goes up from %v and %v", try, n, feed)
			}
			if try.speed > n*1.051 || try.feed > feed*1.051 {
				t.Fatalf("%+v goes up by more than a twentieth from %v and %v", try, n, feed)
			}
		}
	})
}

// A spindle that starts at 100.2/min cannot run 100: the speed goes up to the next step,
// and says so. Where the steps are too coarse for that, there are no words.
func TestUpWhereDownBreaksALimit(t *testing.T) {
	c := cuttest.Milling()
	c.Machine = cuttest.Machine(cuttest.Drive{PowerKW: 20, TorqueNm: 100, MaxSpeedPerMin: 12000})
	for i := range c.Machine.Spindle.Gears {
		c.Machine.Spindle.Gears[i].MinSpeedPerMin = 100.2
	}
	c.Parameters = cut.Parameters{SpindleSpeedPerMin: cuttest.N(100.4), FeedPerToothMM: cuttest.N(0.06)}
	w, broken, ok := Of(estimate.Of(c), Steps{SpeedPerMin: 1, FeedMMPerMin: 1, PerRevolutionMM: 0.001})
	if !ok || !w.Up || w.SpindleSpeedPerMin != 101 || w.FeedRateMMPerMin != 24 {
		t.Errorf("%+v, broken %+v", w, broken)
	}
	if w, broken, ok := Of(estimate.Of(c), Steps{SpeedPerMin: 10, FeedMMPerMin: 1, PerRevolutionMM: 0.001}); ok || len(broken) == 0 {
		t.Errorf("steps of 10: %+v, broken %+v", w, broken)
	}
	c.Machine = nil
	if w, _, ok := Of(estimate.Of(c), Steps{SpeedPerMin: 1, FeedMMPerMin: 1, PerRevolutionMM: 0.001}); !ok || w.Up || w.SpindleSpeedPerMin != 100 {
		t.Errorf("without a machine: %+v", w)
	}
}
