package force_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"swarf/domain/force"
)

func drawChamfer(t *rapid.T) force.Chamfered {
	d := rapid.Float64Range(4, 40).Draw(t, "dc")
	c := force.Chamfered{
		Law:            force.Law{SpecificForce11NPerMM2: 2000, ThicknessExp: rapid.Float64Range(0, 0.4).Draw(t, "mc")},
		FeedPerToothMM: rapid.Float64Range(0.02, 0.2).Draw(t, "fz"), DiameterMM: d,
		EdgeAngleDeg: rapid.Float64Range(15, 75).Draw(t, "kappa"), WidthMM: d * rapid.Float64Range(0.01, 0.35).Draw(t, "width"),
		EdgesCount: float64(rapid.IntRange(1, 6).Draw(t, "z")),
	}
	switch rapid.IntRange(0, 2).Draw(t, "corner") {
	case 1:
		c.WorkMM, c.Internal = d*rapid.Float64Range(1.5, 10).Draw(t, "bore"), true
	case 2:
		c.WorkMM = d * rapid.Float64Range(1, 10).Draw(t, "boss")
	}
	return c
}

// The reference is gonum's quadrature over depth and arc with many points.
func TestChamferAgreesWithQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChamfer(t)
		sin, tan := math.Sin(c.EdgeAngleDeg*math.Pi/180), math.Tan(c.EdgeAngleDeg*math.Pi/180)
		force1 := func(z float64) float64 { // over one tooth's arc at height z over the lower end, times radius
			width := z / tan
			d := c.DiameterMM - 2*(c.WidthMM-width)
			ae := width
			if c.WorkMM > 0 && c.Internal {
				ae = width * (c.WorkMM + width) / (c.WorkMM + 2*width - d)
			} else if c.WorkMM > 0 {
				ae = width * (c.WorkMM - width) / (c.WorkMM - 2*width + d)
			}
			exit := math.Acos(max(-1, 1-2*ae/d))
			return quad.Fixed(func(u float64) float64 {
				return math.Pow(c.FeedPerToothMM*sin*math.Sin(u*u), 1-c.ThicknessExp) * 2 * u
			}, 0, math.Sqrt(exit), 80, nil, 0) * d / 2
		}
		top := c.WidthMM * tan
		integral := quad.Fixed(func(u float64) float64 { return force1(u*u) * 2 * u }, 0, math.Sqrt(top), 80, nil, 0)
		want := c.EdgesCount / (2 * math.Pi) * c.SpecificForce11NPerMM2 / sin * integral / 1000
		l := force.Chamfering(c)
		if math.Abs(l.TorqueNm/want-1) > 1e-3 {
			t.Fatalf("torque %v, quadrature %v (%+v)", l.TorqueNm, want, c)
		}
		if l.TorquePeakNm < l.TorqueNm*(1-1e-9) {
			t.Fatalf("peak %v under mean %v", l.TorquePeakNm, l.TorqueNm)
		}
	})
}

// With one energy for every chip a straight chamfer needs that energy for its section.
func TestChamferOfOneEnergy(t *testing.T) {
	c := force.Chamfered{Law: force.EnergyLaw(3), FeedPerToothMM: 0.05, EdgeAngleDeg: 30, WidthMM: 1, DiameterMM: 12, EdgesCount: 4}
	area := math.Tan(math.Pi/6) / 2
	if got := force.ChamferAreaMM2(c); math.Abs(got/area-1) > 1e-12 {
		t.Errorf("section %v, by hand %v", got, area)
	}
	want := 3 * area * 0.05 * 4 / (2 * math.Pi)
	if got := force.Chamfering(c).TorqueNm; math.Abs(got/want-1) > 1e-6 {
		t.Errorf("torque %v, energy over a turn %v", got, want)
	}
}

func BenchmarkChamfering(b *testing.B) {
	c := force.Chamfered{Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.05, EdgeAngleDeg: 45, WidthMM: 0.5, DiameterMM: 10, EdgesCount: 4}
	for b.Loop() {
		force.Chamfering(c)
	}
}
