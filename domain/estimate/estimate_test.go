package estimate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
)

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance*math.Abs(want) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func samples() map[string]func() *cut.Cut {
	return map[string]func() *cut.Cut{"turning": turningCut, "drilling": drillingCut, "milling": millingCut}
}

func TestDoubleDepthIsDoubleForce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ap := rapid.Float64Range(0.2, 10).Draw(r, "ap")
		c := turningCut()
		c.Engagement.DepthOfCutMM = n(ap)
		one := estimate.Of(c)
		c.Engagement.DepthOfCutMM = n(2 * ap)
		two := estimate.Of(c)
		near(t, "force", two.Sharp.CuttingForceN, 2*one.Sharp.CuttingForceN, 1e-12)
	})
}

func TestThickerChipTakesLessEach(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := rapid.Float64Range(0.05, 0.5).Draw(r, "f")
		for name, make := range samples() {
			c := make()
			c.Parameters.FeedPerToothMM, c.Parameters.FeedPerRevolutionMM = n(f), nil
			thin := estimate.Of(c)
			c.Parameters.FeedPerToothMM = n(1.5 * f)
			thick := estimate.Of(c)
			if thick.Sharp.SpecificForceNPerMM2 >= thin.Sharp.SpecificForceNPerMM2 || thick.Sharp.TorqueNm <= thin.Sharp.TorqueNm {
				r.Fatalf("%s: kc %v at feed %v and %v at 1.5 times that", name, thin.Sharp.SpecificForceNPerMM2, f, thick.Sharp.SpecificForceNPerMM2)
			}
		}
	})
}

func TestPowerIsTorqueTimesSpeed(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		vc := rapid.Float64Range(5, 600).Draw(r, "vc")
		for name, make := range samples() {
			c := make()
			c.Parameters.CuttingSpeedMPerMin = n(vc)
			e := estimate.Of(c)
			near(t, name+" power", e.Sharp.PowerKW, e.Sharp.TorqueNm*e.Motion.SpindleSpeedPerMin*2*math.Pi/60000, 1e-9)
			near(t, name+" energy", e.Sharp.PowerKW*60, e.Sharp.RemovalCM3PerMin*e.Sharp.SpecificForceNPerMM2/1000, 1e-9)
			if e.Sharp.TorquePeakNm < e.Sharp.TorqueNm*(1-1e-12) || e.Worn().TorqueNm < e.Sharp.TorqueNm {
				r.Fatalf("%s: peak under mean, or worn under sharp", name)
			}
		}
	})
}

func TestExistingHoleTakesLess(t *testing.T) {
	c := drillingCut()
	full := estimate.Of(c)
	c.Engagement.StartDiameterMM = n(6)
	rest := estimate.Of(c)
	near(t, "share of torque", rest.Sharp.TorqueNm/full.Sharp.TorqueNm, 1-36.0/144, 1e-12)
}

func TestEfficiencyAndIdlePowerCount(t *testing.T) {
	c := drillingCut()
	c.Machine = spindle(10, 60, 8000)
	e := estimate.Of(c)
	near(t, "motor power", e.Machine.MotorPowerKW.V, e.Sharp.PowerKW/0.9+0.5, 1e-12)
	power, _ := e.Machine.Limit("power")
	near(t, "power allowed", power.Allowed, (10-0.5)*0.9, 1e-12)
	torque, _ := e.Machine.Limit("torque")
	near(t, "torque allowed", torque.Allowed, 60*0.9, 1e-12)
	near(t, "worn utilisation", torque.UtilisationWorn, 1.3*torque.Utilisation, 1e-12)
}

// A stronger machine never makes a cut less feasible.
func TestStrongerMachineIsNeverWorse(t *testing.T) {
	rank := map[domain.Verdict]int{domain.Yes: 0, domain.Conditional: 1, domain.No: 2}
	rapid.Check(t, func(r *rapid.T) {
		power := rapid.Float64Range(1, 40).Draw(r, "power")
		torque := rapid.Float64Range(5, 200).Draw(r, "torque")
		speed := rapid.Float64Range(1000, 15000).Draw(r, "speed")
		more := func(name string) float64 { return 1 + rapid.Float64Range(0, 2).Draw(r, name) }
		weak := spindle(power, torque, speed)
		strong := spindle(power*more("power+"), torque*more("torque+"), speed)
		for name, make := range samples() {
			if name == "turning" {
				weak.Process, strong.Process = machine.Turning, machine.Turning
			} else {
				weak.Process, strong.Process = machine.Milling, machine.Milling
			}
			verdict := func(m *machine.Machine) domain.Verdict {
				c := make()
				c.Machine = m
				return domain.VerdictOf(finding.Judge(estimate.Of(c)))
			}
			if a, b := verdict(weak), verdict(strong); rank[b] > rank[a] {
				r.Fatalf("%s: %s on the weak machine, %s on the strong one", name, a, b)
			}
		}
	})
}

func TestExplanationEndsInTheNumbers(t *testing.T) {
	for name, make := range samples() {
		e := estimate.Of(make())
		want := map[string]float64{"torque": e.Sharp.TorqueNm, "cutting_power": e.Sharp.PowerKW, "removal_rate": e.Sharp.RemovalCM3PerMin}
		for _, s := range e.Explain() {
			if s.Formula == "" || s.Source == "" {
				t.Errorf("%s: step %s has no formula or no source", name, s.Name)
			}
			if v, ok := want[s.Name]; ok {
				near(t, name+" "+s.Name, s.Result.Amount, v, 1e-12)
				delete(want, s.Name)
			}
		}
		for missing := range want {
			t.Errorf("%s: %s is not explained", name, missing)
		}
	}
}

func BenchmarkDrilling(b *testing.B) { benchmark(b, drillingCut()) }
func BenchmarkTurning(b *testing.B)  { benchmark(b, turningCut()) }
func BenchmarkMilling(b *testing.B)  { benchmark(b, millingCut()) }

func benchmark(b *testing.B, c *cut.Cut) {
	b.ReportAllocs()
	for b.Loop() {
		estimate.Of(c)
	}
}

// A slot of 16 by 100 mm drilled with 14 mm at a pitch of 15: (100 − 2 − 14)/15 and one
// more are 6 holes with webs of 1 mm, 58 % of the slot. Geometry.
func TestChainOfHoles(t *testing.T) {
	c := drillingCut()
	c.Operation, c.Tool.CuttingDiameterMM = operation("chain-drilling"), n(14)
	c.Engagement = cut.Engagement{SlotWidthMM: n(16), SlotLengthMM: n(100), SlotDepthMM: n(50), PitchMM: n(15), WallAllowanceMM: n(1), FloorAllowanceMM: n(0.3)}
	e := estimate.Of(c)
	h := e.Moves.Holes
	if h.Count != 6 || h.WebMM != 1 {
		t.Errorf("%+v", h)
	}
	near(t, "share", h.RemovedShareRatio, 6*math.Pi*49/1600, 1e-12)
	one := drillingCut()
	one.Tool.CuttingDiameterMM, one.Engagement.HoleDepthMM, one.Engagement.Through = n(14), n(49.7), nil
	near(t, "time", e.Time.CuttingMinutes.V, 6*estimate.Of(one).Time.CuttingMinutes.V, 1e-12)
}
