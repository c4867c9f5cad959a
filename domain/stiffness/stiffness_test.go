package stiffness_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"swarf/domain/stiffness"
	"swarf/testdata/reference/calculation/calculationtest"
)

func TestReference(t *testing.T) { calculationtest.Run(t, "stiffness", 1) }

// From 45 to 60 mm of overhang: geometry, as the trade tables it.
func ExampleShaft_DeflectionMM() {
	at := func(length float64) float64 {
		return stiffness.Shaft{LengthMM: length, TipLengthMM: length, TipDiameterMM: 9.6, RootDiameterMM: 9.6, ModulusGPa: stiffness.CarbideGPa}.DeflectionMM(400)
	}
	fmt.Printf("%.2f", at(60)/at(45))
	// Output: 2.37
}

// The reference for the stepped shaft is gonum's quadrature of moment times lever over the
// stiffness of each section.
func TestSteppedShaftAgreesWithQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(10, 200).Draw(t, "L")
		s := stiffness.Shaft{LengthMM: length, TipLengthMM: length * rapid.Float64Range(0, 1).Draw(t, "tip"),
			TipDiameterMM: rapid.Float64Range(2, 40).Draw(t, "d1"), RootDiameterMM: rapid.Float64Range(2, 40).Draw(t, "d2"), ModulusGPa: rapid.Float64Range(100, 650).Draw(t, "E")}
		part := func(from, to, d float64) float64 {
			if to <= from {
				return 0
			}
			return quad.Fixed(func(x float64) float64 { return x * x }, from, to, 5, nil, 0) / (1000 * s.ModulusGPa * math.Pi * math.Pow(d, 4) / 64)
		}
		want := 300 * (part(0, s.TipLengthMM, s.TipDiameterMM) + part(s.TipLengthMM, length, s.RootDiameterMM))
		if got := s.DeflectionMM(300); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("deflection %v, quadrature %v", got, want)
		}
	})
}

// A wall half as thick gives way eight times as far; a strip as wide as thick is a square
// bar, 12·F·h³/(3·E·t⁴).
func TestWall(t *testing.T) {
	w := stiffness.Wall{HeightMM: 30, ThicknessMM: 2, WidthMM: 2, ModulusGPa: 200}
	want := 100 * 30 * 30 * 30 * 12 / (3 * 200e3 * 16.0)
	if got := w.DeflectionMM(100); math.Abs(got-want) > 1e-12*want {
		t.Errorf("deflection %v, by hand %v", got, want)
	}
	thin := w
	thin.ThicknessMM = 1
	if got := thin.DeflectionMM(100) / w.DeflectionMM(100); math.Abs(got-8) > 1e-12 {
		t.Errorf("half as thick gives way %v times as far", got)
	}
}

// By hand: 4 kg at a radius of 50 mm and 3,000/min pull with 4·0.05·(100·π)² = 19,739 N, and
// hold an energy of 247 J; a torque of 100 N·m on 80 mm and 1,500 N along, twice over at 0.25.
func TestGrip(t *testing.T) {
	c := stiffness.Chuck{JawsCount: 1, JawMassKg: 4, JawRadiusMM: 50, GripDiameterMM: 80, FrictionRatio: 0.25}
	loss := c.LossN(3000)
	if math.Abs(loss-19739.2) > 0.1 || math.Abs(loss*0.05/4-246.74) > 0.01 {
		t.Errorf("loss %v", loss)
	}
	want := 2 * math.Sqrt(2500*2500+1500*1500) / 0.25
	if got := c.NeededN(stiffness.Turned{TorqueNm: 100, AxialForceN: 1500, SafetyRatio: 2}); math.Abs(got-want) > 1e-9*want {
		t.Errorf("needed %v, by hand %v", got, want)
	}
}
