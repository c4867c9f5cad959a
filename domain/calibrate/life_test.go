package calibrate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"swarf/domain/calibrate"
)

// logged are invented edges, three of them changed before their end.
var logged = []calibrate.Edge{
	{100, 41, true}, {100, 38, true}, {100, 52, false}, {110, 30, true}, {110, 22, true}, {120, 19, true}, {120, 25, false},
	{130, 12, true}, {130, 14, true}, {140, 9, true}, {140, 11, false}, {160, 5, true}, {160, 6.5, true}, {160, 4.2, true},
}

// The same edges fitted by survreg of R's package survival 3.5-3 (R 4.2.2, Debian 12),
// Surv(t, ev) ~ log(v), log-normal, with n = −1/b and ln C = a·n from its coefficients and
// the delta method for their errors.
func TestLifeAgreesWithSurvreg(t *testing.T) {
	f, err := calibrate.Life(logged, calibrate.LifePrior{}, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	off := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got/want-1) > within {
			t.Errorf("%s %.8g, survreg %.8g", what, got, want)
		}
	}
	const z = 1.6448536269514722
	off("n", f.LifeExp, 0.22163913, 1e-5)
	off("C", f.OneMinuteSpeedMPerMin, 232.04572498, 1e-5)
	off("scatter", f.ScatterRatio, 0.18696119, 1e-4)
	off("error of ln n", math.Log(f.LifeHighExp/f.LifeLowExp)/(2*z), 0.06709465, 1e-3)
	off("error of ln C", math.Log(f.SpeedHighMPerMin/f.SpeedLowMPerMin)/(2*z), 0.04266486, 1e-3)
	off("median at 115 m/min", f.QuantileMinutes(115, 0.5), 23.74379, 1e-4)
	if f.Count != 14 || f.FailedCount != 11 {
		t.Errorf("%d edges, %d at their end", f.Count, f.FailedCount)
	}
}

// Edges changed before their end prove that they had longer: dropped, or taken for failures,
// they make the life too short.
func TestCensoredEdgesCount(t *testing.T) {
	f, _ := calibrate.Life(logged, calibrate.LifePrior{}, 0.9)
	var dropped, taken []calibrate.Edge
	for _, e := range logged {
		if e.Failed {
			dropped = append(dropped, e)
		}
		e.Failed = true
		taken = append(taken, e)
	}
	for name, edges := range map[string][]calibrate.Edge{"dropped": dropped, "taken for failures": taken} {
		if g, err := calibrate.Life(edges, calibrate.LifePrior{}, 0.9); err != nil || g.QuantileMinutes(110, 0.5) >= f.QuantileMinutes(110, 0.5) {
			t.Errorf("%s: %v, with them %v, %v", name, g.QuantileMinutes(110, 0.5), f.QuantileMinutes(110, 0.5), err)
		}
	}
	planned := []calibrate.Edge{{100, 30, false}, {120, 30, false}}
	if _, err := calibrate.Life(planned, calibrate.LifePrior{}, 0.9); err != calibrate.ErrTooLittle {
		t.Errorf("no edge at its end: %v", err)
	}
}

// In a thousand seeded shops, laws drawn from the record's own belief and a third of the
// edges changed early, the 90 % intervals of n and C hold the truth in 88 to 92 %.
func TestLifeIntervalsHoldWhatTheySay(t *testing.T) {
	const runs = 1000
	prior := calibrate.LifePrior{LifeExp: 0.25, LifeSpreadRatio: 0.25, OneMinuteSpeedMPerMin: 300, SpeedSpreadRatio: 0.2}
	inExp, inSpeed, bias := 0, 0, 0.0
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 11))
		n := prior.LifeExp * math.Exp(prior.LifeSpreadRatio*r.NormFloat64())
		c := prior.OneMinuteSpeedMPerMin * math.Exp(prior.SpeedSpreadRatio*r.NormFloat64())
		scatter := 0.35 * math.Exp(0.3*r.NormFloat64())
		var edges []calibrate.Edge
		for i := range 24 {
			v := c * math.Pow(15, -n) * (0.85 + 0.1*float64(i%4)) // about a quarter of an hour
			t := math.Pow(c/v, 1/n) * math.Exp(scatter*r.NormFloat64())
			plan := math.Pow(c/v, 1/n) * math.Exp(0.2+0.3*r.NormFloat64())
			edges = append(edges, calibrate.Edge{SpeedMPerMin: v, Minutes: min(t, plan), Failed: t <= plan})
		}
		f, err := calibrate.Life(edges, prior, 0.9)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		bias += math.Log(f.OneMinuteSpeedMPerMin/c) / runs
		if f.LifeLowExp <= n && n <= f.LifeHighExp {
			inExp++
		}
		if f.SpeedLowMPerMin <= c && c <= f.SpeedHighMPerMin {
			inSpeed++
		}
	}
	t.Logf("seeds 0 to %d: n in its 90 %% interval %.1f %%, C %.1f %%, bias of ln C %.4f", runs-1, float64(inExp)/10, float64(inSpeed)/10, bias)
	for what, in := range map[string]int{"n": inExp, "C": inSpeed} {
		if in < 880 || in > 920 {
			t.Errorf("%s lies in its 90 %% interval in %d of %d runs", what, in, runs)
		}
	}
	if math.Abs(bias) > 0.02 {
		t.Errorf("ln C is off by %v on average", bias)
	}
}
