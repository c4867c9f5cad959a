package force_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"swarf/domain/force"
	"swarf/domain/kinematics"
)

func drawBall(t *rapid.T) force.BallMilled {
	d := rapid.Float64Range(1, 40).Draw(t, "dc")
	ap := d * rapid.Float64Range(0.005, 0.5).Draw(t, "ap/dc")
	width := kinematics.BallWidthMM(kinematics.Ball{DiameterMM: d, DepthMM: ap})
	return force.BallMilled{
		Law:            force.Law{SpecificForce11NPerMM2: 2000, ThicknessExp: rapid.Float64Range(0, 0.4).Draw(t, "mc")},
		FeedPerToothMM: rapid.Float64Range(0.01, 0.3).Draw(t, "fz"),
		DiameterMM:     d, DepthMM: ap, StepMM: width * rapid.Float64Range(0.02, 1).Draw(t, "step"),
		TiltDeg:    rapid.Float64Range(0, 60).Draw(t, "tilt"),
		EdgesCount: float64(rapid.IntRange(1, 6).Draw(t, "z")),
	}
}

// The reference is gonum's quadrature over width and height of the section that the
// ball takes out, another order of integration than the code's directions.
func TestBallTorqueAgreesWithQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawBall(t)
		r := m.DiameterMM / 2
		old := r - m.DepthMM // of the old surface, below the centre
		area, weighted := 0.0, 0.0
		half := math.Sqrt(r*r - old*old)
		right := min(half, m.StepMM/2)
		column := func(y, exponent float64) float64 {
			bottom, top := math.Sqrt(max(0, r*r-y*y)), old
			if beside := r*r - (y-m.StepMM)*(y-m.StepMM); beside > 0 {
				top = max(top, math.Sqrt(beside))
			}
			if top >= bottom {
				return 0
			}
			return quad.Fixed(func(u float64) float64 { // z = bottom − u² clears the root at the rim
				return math.Pow(u*math.Sqrt(2*bottom-u*u)/r, exponent) * 2 * u
			}, 0, math.Sqrt(bottom-top), 60, nil, 0)
		}
		kink := min(right, max(-half, m.StepMM-half))
		for _, part := range [2][2]float64{{-half, kink}, {kink, right}} {
			if part[1] <= part[0] {
				continue
			}
			area += quad.Fixed(func(y float64) float64 { return column(y, 0) }, part[0], part[1], 200, nil, 0)
			weighted += quad.Fixed(func(y float64) float64 { return column(y, -m.ThicknessExp) }, part[0], part[1], 200, nil, 0)
		}
		want := m.EdgesCount / (2 * math.Pi) * m.SpecificForce11NPerMM2 * math.Pow(m.FeedPerToothMM, 1-m.ThicknessExp) *
			weighted * m.DepthMM * m.StepMM / area / 1000
		if got := force.BallTorqueNm(m); math.Abs(got-want) > 1e-3*want {
			t.Fatalf("mean torque %v, quadrature %v (%+v)", got, want, m)
		}
	})
}

// With one energy for every chip a ball needs what a flat cutter needs for the same
// layer, whatever its diameter, step and tilt.
func TestBallOfOneEnergyIsAFlatCutter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawBall(t)
		m.Law = force.EnergyLaw(2.5)
		perTurn := m.DepthMM * m.StepMM * m.FeedPerToothMM * m.EdgesCount // mm³
		want := 2.5 * perTurn / (2 * math.Pi)
		l := force.BallMilling(m)
		if math.Abs(l.TorqueNm-want) > 1e-9*want {
			t.Fatalf("torque %v, energy over a turn %v", l.TorqueNm, want)
		}
		if l.TorquePeakNm < l.TorqueNm*(1-1e-9) {
			t.Fatalf("peak %v under mean %v", l.TorquePeakNm, l.TorqueNm)
		}
	})
}

// A larger ball leaves a lower ridge, toward none: the surface of a flat cutter; and its
// chip is thinner for the same layer, so that the specific force rises.
func TestBallBecomesFlatAsItGrows(t *testing.T) {
	m := force.BallMilled{Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.1, DepthMM: 0.2, StepMM: 0.3, EdgesCount: 2}
	ridge, torque := math.Inf(1), 0.0
	for d := 4.0; d <= 4096; d *= 2 {
		m.DiameterMM = d
		h := kinematics.ScallopHeightUM(kinematics.Ridge{DiameterMM: d, StepMM: m.StepMM})
		if h >= ridge || math.Abs(h/(1000*m.StepMM*m.StepMM/(4*d))-1) > 0.01 {
			t.Errorf("DC %v: ridge %v µm after %v", d, h, ridge)
		}
		now := force.BallTorqueNm(m)
		if now <= torque {
			t.Errorf("DC %v: torque %v after %v", d, now, torque)
		}
		ridge, torque = h, now
	}
}

// An upright ball in a groove of its own: the thickest chip is fz·sin κ at the old surface,
// sin κ = De/DC.
func TestBallChipInAGroove(t *testing.T) {
	ball := kinematics.Ball{DiameterMM: 10, DepthMM: 0.5}
	m := force.BallMilled{FeedPerToothMM: 0.1, DiameterMM: 10, DepthMM: 0.5, StepMM: kinematics.BallWidthMM(ball), EdgesCount: 2}
	want := 0.1 * kinematics.BallDiameterMM(ball) / 10
	if got := force.BallChipOf(m); math.Abs(got.ThicknessMaxMM-want) > 1e-12 || got.ThicknessMeanMM >= want {
		t.Errorf("chip %+v, thickest should be %v", got, want)
	}
}

func BenchmarkBallMilling(b *testing.B) {
	m := force.BallMilled{Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.08, DiameterMM: 10, DepthMM: 0.2, StepMM: 0.3, TiltDeg: 15, EdgesCount: 2}
	for b.Loop() {
		force.BallMilling(m)
	}
}
