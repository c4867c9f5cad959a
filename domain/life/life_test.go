package life_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/life"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }

func laws(t *rapid.T) life.Taylor {
	return life.Taylor{LifeExp: rapid.Float64Range(0.08, 0.8).Draw(t, "n"), OneMinuteSpeedMPerMin: rapid.Float64Range(20, 3000).Draw(t, "C")}
}

// The law undoes itself, and more speed never lasts longer.
func TestLifeAndSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		law := laws(t)
		v := law.OneMinuteSpeedMPerMin * rapid.Float64Range(0.2, 1).Draw(t, "share")
		if got := law.SpeedMPerMin(law.LifeMinutes(v)); !near(got, v) {
			t.Fatalf("speed %v became %v", v, got)
		}
		k := rapid.Float64Range(1.001, 2).Draw(t, "more")
		if got, want := law.LifeMinutes(v*k), law.LifeMinutes(v)*law.LifeRatio(k); !near(got, want) || got >= law.LifeMinutes(v) {
			t.Fatalf("life at %v times the speed is %v, by its ratio %v, before %v", k, got, want, law.LifeMinutes(v))
		}
		a, b := life.Tested{SpeedMPerMin: v, LifeMinutes: law.LifeMinutes(v)}, life.Tested{SpeedMPerMin: v * k, LifeMinutes: law.LifeMinutes(v * k)}
		through := life.Through(a, b)
		if math.Abs(through.LifeExp/law.LifeExp-1) > 1e-6 || math.Abs(through.OneMinuteSpeedMPerMin/law.OneMinuteSpeedMPerMin-1) > 1e-6 {
			t.Fatalf("through two points of %+v goes %+v", law, through)
		}
	})
}

// The speed of least cost is cheapest among its neighbours, that of least time quickest, and
// the cheap one is never above the quick one.
func TestEconomicSpeedsAreTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		law := laws(t)
		r := life.Rates{MachineCostPerMin: rapid.Float64Range(0.2, 5).Draw(t, "Cm"), EdgeCost: rapid.Float64Range(0.5, 30).Draw(t, "Ce"), ChangeMinutes: rapid.Float64Range(0.2, 10).Draw(t, "tc")}
		worn := func(v float64) life.Worn { return life.Worn{CuttingMinutes: 1000 / v, LifeMinutes: law.LifeMinutes(v)} }
		cheap, fast := r.CheapestSpeedMPerMin(law), r.FastestSpeedMPerMin(law)
		if cheap > fast {
			t.Fatalf("cheapest at %v, fastest at %v", cheap, fast)
		}
		for _, off := range []float64{0.9, 0.99, 1.01, 1.1} {
			if r.CostPerPart(worn(cheap*off)) < r.CostPerPart(worn(cheap)) {
				t.Fatalf("%+v, %+v: %v times the cheapest speed costs less", law, r, off)
			}
			if r.MinutesPerPart(worn(fast*off)) < r.MinutesPerPart(worn(fast)) {
				t.Fatalf("%+v, %+v: %v times the fastest speed takes less", law, r, off)
			}
		}
	})
}

// Two edges last equally long where the laws meet; above, the one of the larger n lasts longer.
func TestEqualSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := laws(t), laws(t)
		if math.Abs(a.LifeExp-b.LifeExp) < 0.02 {
			return // nearly parallel
		}
		if a.LifeExp < b.LifeExp {
			a, b = b, a
		}
		v := life.EqualSpeedMPerMin(a, b)
		if v < 1e-3 || v > 1e6 {
			return // they meet far from any speed
		}
		if la, lb := a.LifeMinutes(v), b.LifeMinutes(v); math.Abs(math.Log(la/lb)) > 1e-6 {
			t.Fatalf("at %v they last %v and %v", v, la, lb)
		}
		if a.LifeMinutes(v*1.2) <= b.LifeMinutes(v*1.2) {
			t.Fatal("above, the larger n does not last longer")
		}
	})
}

// A fifth more speed leaves 23, 48 and 69 % of the life at
// n 0.125, 0.25 and 0.5 (geometry of the law, no source).
func TestShareOfLifeLeft(t *testing.T) {
	for n, want := range map[float64]float64{0.125: 0.23, 0.25: 0.48, 0.5: 0.69} {
		if got := (life.Taylor{LifeExp: n, OneMinuteSpeedMPerMin: 100}).LifeRatio(1.2); math.Abs(got-want) > 0.005 {
			t.Errorf("n %v leaves %v, want %v", n, got, want)
		}
	}
}
