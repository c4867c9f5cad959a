package force_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"swarf/domain/force"
)

func drawPlunge(t *rapid.T) force.Plunged {
	d := rapid.Float64Range(4, 80).Draw(t, "dc")
	from := d / 2 * rapid.Float64Range(-1, 0.95).Draw(t, "from")
	return force.Plunged{
		Law:            force.Law{SpecificForce11NPerMM2: 2000, ThicknessExp: rapid.Float64Range(0, 0.4).Draw(t, "mc")},
		FeedPerToothMM: rapid.Float64Range(0.02, 0.4).Draw(t, "fz"), DiameterMM: d,
		FromMM: from, ToMM: from + (d/2-from)*rapid.Float64Range(0.05, 1).Draw(t, "width"),
		EdgesCount: float64(rapid.IntRange(1, 8).Draw(t, "z")),
	}
}

// The reference is gonum's quadrature of chord times width over the band.
func TestPlungeTorqueIsEnergyOverTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlunge(t)
		r := p.DiameterMM / 2
		area := quad.Fixed(func(v float64) float64 { // sin clears the roots at the rim
			u := r * math.Sin(v)
			return 2 * math.Sqrt(max(0, r*r-u*u)) * r * math.Cos(v)
		}, math.Asin(p.FromMM/r), math.Asin(min(1, p.ToMM/r)), 100, nil, 0)
		if got := force.PlungeAreaMM2(p); math.Abs(got-area) > 1e-6*r*r {
			t.Fatalf("area %v, quadrature %v", got, area)
		}
		l := force.Plunging(p)
		kc := p.Law.SpecificForceNPerMM2(p.FeedPerToothMM)
		want := kc * p.FeedPerToothMM * p.EdgesCount * area / (2 * math.Pi) / 1000 // kc·Q over 2π·n
		if math.Abs(l.TorqueNm-want) > 1e-6*kc*p.FeedPerToothMM*r*r/1000 {
			t.Fatalf("torque %v, energy over a turn %v", l.TorqueNm, want)
		}
		if l.TorquePeakNm < l.TorqueNm*(1-1e-9) {
			t.Fatalf("peak %v under mean %v", l.TorquePeakNm, l.TorqueNm)
		}
	})
}

// A plunge into solid metal is a drill with a flat end: same torque, same thrust.
func TestPlungeIntoSolidIsDrilling(t *testing.T) {
	law := force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}
	for _, z := range []float64{1, 2, 3, 5} {
		l := force.Plunging(force.Plunged{Law: law, FeedPerToothMM: 0.1, DiameterMM: 20, FromMM: -10, ToMM: 10, EdgesCount: z})
		drilled := force.DrillingTorqueNm(force.Drilled{Law: law, ThicknessMM: 0.1, FeedPerRevolutionMM: 0.1 * z, DiameterMM: 20})
		thrust := 0.5 * law.SpecificForceNPerMM2(0.1) * 0.1 * z * 10
		if math.Abs(l.TorqueNm/drilled-1) > 1e-9 || math.Abs(l.FeedForceN/thrust-1) > 1e-9 || math.Abs(l.TorquePeakNm/drilled-1) > 1e-9 {
			t.Errorf("%v edges: %+v, a drill %v N·m and %v N", z, l, drilled, thrust)
		}
	}
}

// One tooth at the middle of a narrow band takes kc·fz·ae at nearly the whole radius.
func TestPlungePeakOfOneTooth(t *testing.T) {
	law := force.EnergyLaw(2)
	l := force.Plunging(force.Plunged{Law: law, FeedPerToothMM: 0.1, DiameterMM: 50, FromMM: 20, ToMM: 25, EdgesCount: 1})
	want := 2000 * 0.1 * (25*25 - 20*20) / 2 / 1000.0
	if math.Abs(l.TorquePeakNm/want-1) > 1e-9 {
		t.Errorf("peak %v, by hand %v", l.TorquePeakNm, want)
	}
}

func BenchmarkPlunging(b *testing.B) {
	p := force.Plunged{Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.1, DiameterMM: 50, FromMM: 10, ToMM: 25, EdgesCount: 5}
	for b.Loop() {
		force.Plunging(p)
	}
}

// However thin the band, it has an area: that of a slice of a circle, 4/3·√(2·r)·w^1.5 for a
// thin one (from the series of the segment), and the formula goes over into it.
func TestThinBandsHaveAnArea(t *testing.T) {
	for _, width := range []float64{1e-9, 1e-6, 1e-5, 1.2e-5, 1.3e-5, 1e-4, 1e-3} {
		got := force.PlungeAreaMM2(force.Plunged{DiameterMM: 25, FromMM: 12.5 - width, ToMM: 12.5})
		if want := 4. / 3 * math.Sqrt(25) * math.Pow(width, 1.5); math.Abs(got-want) > 1e-4*want {
			t.Errorf("%v mm wide: %v mm², want %v", width, got, want)
		}
	}
}
