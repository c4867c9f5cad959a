package thread_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/thread"
	"swarf/testdata/reference"
)

var calculations = map[string]func(t thread.Thread, hole float64) (value float64, unit string){
	"minor":       func(t thread.Thread, _ float64) (float64, string) { return t.MinorMM(), "mm" },
	"pitch":       func(t thread.Thread, _ float64) (float64, string) { return t.PitchDiameterMM(), "mm" },
	"screw_minor": func(t thread.Thread, _ float64) (float64, string) { return t.ScrewMinorMM(), "mm" },
	"minor_low":   func(t thread.Thread, _ float64) (float64, string) { l, _ := t.MinorLimit(); return l.LowMM, "mm" },
	"minor_high":  func(t thread.Thread, _ float64) (float64, string) { l, _ := t.MinorLimit(); return l.HighMM, "mm" },
	"percent_internal": func(t thread.Thread, hole float64) (float64, string) {
		return thread.Hole{Thread: t, HoleMM: hole}.PercentOn(thread.Internal), "%"
	},
	"percent_national": func(t thread.Thread, hole float64) (float64, string) {
		return thread.Hole{Thread: t, HoleMM: hole}.PercentOn(thread.National), "%"
	},
}

// constantDigits is what the six digits of the sources' constants (1.29904, 1.08253) can
// differ by from the exact ones.
const constantDigits = 2e-6

func TestReference(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, "thread") {
		held++
		t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
			in := func(name string) float64 {
				v, err := c.Input(o, name, "mm")
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			hole := 0.0
			if _, ok := o.Inputs["hole"]; ok {
				hole = in("hole")
			}
			calculate, ok := calculations[o.Quantity]
			if !ok {
				t.Fatalf("no calculation of %s", o.Quantity)
			}
			value, unit := calculate(thread.Thread{NominalMM: in("nominal_diameter"), PitchMM: in("pitch")}, hole)
			if unit != o.Unit {
				if value, err = reference.Convert(value, unit, o.Unit); err != nil {
					t.Fatal(err)
				}
			}
			if err := c.Hold(o, value, constantDigits); err != nil {
				t.Errorf("%s (%s): %v", c.Title, c.Source, err)
			}
		})
	}
	if held < 40 {
		t.Errorf("only %d outputs were held against threads", held)
	}
}

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
