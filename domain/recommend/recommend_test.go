package recommend_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// open makes a sample whose parameters are to be chosen from a record.
func open(make func() *cut.Cut, kind material.FeedKind) *cut.Cut {
	c := make()
	c.Parameters = cut.Parameters{}
	c.Material.Starting.Served = &material.Starting{Provenance: material.Provenance{ID: "start", Source: "invented", Basis: domain.Demo},
		Speed: domain.Range{Low: unit.Some(80), High: unit.Some(160)}, FeedKind: kind, Feed: domain.Range{Low: unit.Some(0.05), High: unit.Some(0.2)}}
	return c
}

func samples() map[string]func() *cut.Cut {
	return map[string]func() *cut.Cut{
		"turning": func() *cut.Cut {
			c := open(turningCut, material.PerRevolution)
			c.Engagement.DepthOfCutMM = nil
			return c
		},
		"drilling": func() *cut.Cut { return open(drillingCut, material.PerRevolution) },
		"milling":  func() *cut.Cut { return open(millingCut, material.PerTooth) },
		"open milling": func() *cut.Cut {
			c := open(millingCut, material.PerTooth)
			c.Engagement.AxialDepthMM, c.Engagement.RadialWidthMM = nil, nil
			return c
		},
	}
}

func machineFor(name string, m *machine.Machine) *machine.Machine {
	if name == "turning" {
		m.Process = machine.Turning
	}
	return m
}

// holds checks every limit at the confidence, with a worn edge.
func holds(t interface{ Fatalf(string, ...any) }, name string, r *recommend.Recommendation, confidence float64) {
	k := r.Estimate.Quantile(confidence)
	for _, l := range r.Estimate.Machine.Limits {
		demand := l.Worn
		switch l.Name {
		case "torque", "power", "feed_force":
			demand *= k
		}
		if demand > l.Allowed*(1+1e-6) {
			t.Fatalf("%s: %s asks %v of %v", name, l.Name, demand, l.Allowed)
		}
	}
}

func refused(r *recommend.Recommendation, code string) bool {
	for _, f := range r.Findings {
		if f.Code == code && f.Severity == domain.Refusal {
			return true
		}
	}
	return false
}

func TestGivenParametersAreKept(t *testing.T) {
	for name, make := range samples() {
		c := make()
		c.Parameters.CuttingSpeedMPerMin = n(77)
		r := recommend.Of(c)
		if got := r.Estimate.Motion.CuttingSpeedMPerMin; got != 77 {
			t.Errorf("%s: speed 77 became %v", name, got)
		}
		c = make()
		c.Parameters.FeedPerToothMM = n(0.061)
		if got := recommend.Of(c).Estimate.Motion.FeedPerToothMM; got != 0.061 {
			t.Errorf("%s: feed 0.061 became %v", name, got)
		}
	}
}

func TestEveryLimitHoldsOrItSaysSo(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		power, torque := rapid.Float64Range(0.3, 20).Draw(r, "power"), rapid.Float64Range(1, 80).Draw(r, "torque")
		speed, confidence := rapid.Float64Range(800, 12000).Draw(r, "speed"), rapid.Float64Range(0.5, 0.99).Draw(r, "confidence")
		for name, make := range samples() {
			c := make()
			c.Machine, c.Confidence = machineFor(name, spindle(power, torque, speed)), confidence
			got := recommend.Of(c)
			if refused(got, "no-feasible-set") {
				if !got.Refused {
					r.Fatalf("%s: nothing feasible and not refused", name)
				}
				continue
			}
			holds(r, name, got, confidence)
		}
	})
}

// More confidence: never faster, deeper or more removed, and in metals that harden
// never a thinner chip.
func TestConfidenceIsMonotone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		power, torque := rapid.Float64Range(0.5, 15).Draw(r, "power"), rapid.Float64Range(3, 60).Draw(r, "torque")
		hardens := rapid.Bool().Draw(r, "hardens")
		for name, make := range samples() {
			var last *recommend.Recommendation
			for _, confidence := range []float64{0.5, 0.7, 0.9, 0.99} {
				c := make()
				if hardens {
					c.Material.Group = material.M
				}
				c.Machine, c.Confidence = machineFor(name, spindle(power, torque, 6000)), confidence
				got := recommend.Of(c)
				if last != nil && !last.Refused && !got.Refused {
					a, b := last.Estimate, got.Estimate
					if b.Motion.CuttingSpeedMPerMin > a.Motion.CuttingSpeedMPerMin*1.02 || b.Sharp.RemovalCM3PerMin > a.Sharp.RemovalCM3PerMin*1.005 {
						r.Fatalf("%s at %v: speed %v after %v, removal %v after %v", name, confidence, b.Motion.CuttingSpeedMPerMin, a.Motion.CuttingSpeedMPerMin, b.Sharp.RemovalCM3PerMin, a.Sharp.RemovalCM3PerMin)
					}
					if hardens && b.Chip.ThicknessMaxMM < a.Chip.ThicknessMaxMM*(1-1e-9) {
						r.Fatalf("%s at %v: chip %v after %v", name, confidence, b.Chip.ThicknessMaxMM, a.Chip.ThicknessMaxMM)
					}
				}
				if last != nil && last.Refused && !got.Refused {
					r.Fatalf("%s: refused, and feasible at more confidence", name)
				}
				last = got
			}
		}
	})
}

func TestChipNeverUnderItsFloor(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ae := rapid.Float64Range(0.2, 12).Draw(r, "ae")
		c := open(millingCut, material.PerTooth)
		c.Material.Group = material.M
		c.Engagement.RadialWidthMM = n(ae)
		c.Control.FeedResolutionMMPerMin, c.Control.SpeedResolutionPerMin = n(50), n(100)
		got := recommend.Of(c)
		if h, least := got.Estimate.Chip.ThicknessMaxMM, finding.MinimumChipMM(c); h < least*(1-1e-6) {
			r.Fatalf("chip %v under %v at width %v", h, least, ae)
		}
	})
}

// The list of adjustments is whole: the record's middle times the factors is the speed.
func TestAdjustmentsAreComplete(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		power := rapid.Float64Range(0.5, 20).Draw(r, "power")
		for name, make := range samples() {
			c := make()
			c.Coolant.Delivery = "external"
			c.Machine = machineFor(name, spindle(power, 60, 9000))
			got := recommend.Of(c)
			want := (80.0 + 160) / 2
			for _, a := range got.Adjustments {
				if a.FactorRatio == 1 || a.Reason == "" {
					r.Fatalf("%s: adjustment %s changes nothing or says nothing", name, a.Name)
				}
				if a.ActsOn == "cutting_speed" {
					want *= a.FactorRatio
				}
			}
			if speed := got.Estimate.Motion.CuttingSpeedMPerMin; math.Abs(speed-want) > 1e-6*want {
				r.Fatalf("%s: speed %v, start times factors %v", name, speed, want)
			}
		}
	})
}

func TestNoRecordNoRecommendation(t *testing.T) {
	c := open(drillingCut, material.PerRevolution)
	c.Material.Starting.Served = nil
	got := recommend.Of(c)
	if !got.Refused || !refused(got, "no-data") || got.Estimate != nil {
		t.Errorf("without a record: %+v", got)
	}
}

func TestRoundsDownToTheControl(t *testing.T) {
	c := open(drillingCut, material.PerRevolution)
	c.Control.SpeedResolutionPerMin, c.Control.FeedResolutionMMPerMin = n(50), n(10)
	m := recommend.Of(c).Estimate.Motion
	for what, v := range map[string]float64{"speed": m.SpindleSpeedPerMin / 50, "feed": m.FeedRateMMPerMin / 10} {
		if math.Abs(v-math.Round(v)) > 1e-9 {
			t.Errorf("%s is %v steps of the control", what, v)
		}
	}
}

// A chuck that loses its grip slows the cut instead of refusing it.
func TestGripSlowsTheCut(t *testing.T) {
	recommended := func(mass float64) *recommend.Recommendation {
		c := open(turningCut, material.PerRevolution)
		c.Machine = spindle(50, 500, 6000)
		c.Machine.Process = machine.Turning
		c.WorkHolding = &machine.WorkHolding{StaticGripN: unit.Some(60000), FrictionRatio: unit.Some(0.25), GripDiameterMM: unit.Some(80), SafetyRatio: unit.Some(2),
			JawsCount: unit.Some(3), JawMassKg: unit.Some(mass), JawRadiusMM: unit.Some(60), MaxSpeedPerMin: unit.Some(6000)}
		return recommend.Of(c)
	}
	light, heavy := recommended(0.01), recommended(110)
	if light.Refused || heavy.Refused {
		t.Fatalf("%v, %v", light.Findings, heavy.Findings)
	}
	if heavy.BoundBy != "grip" || light.Estimate.Motion.SpindleSpeedPerMin <= heavy.Estimate.Motion.SpindleSpeedPerMin {
		t.Errorf("bound by %s at %v, %v with light jaws", heavy.BoundBy, heavy.Estimate.Motion.SpindleSpeedPerMin, light.Estimate.Motion.SpindleSpeedPerMin)
	}
}
