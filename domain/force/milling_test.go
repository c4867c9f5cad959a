package force_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
	"swarf/domain/force"
	"swarf/domain/kinematics"
)

func drawMilled(t *rapid.T) force.Milled {
	entry := rapid.Float64Range(0, 2.5).Draw(t, "entry")
	exit := entry + rapid.Float64Range(0.05, math.Pi-entry).Draw(t, "sweep")
	return force.Milled{
		Law:            force.Law{SpecificForce11NPerMM2: 2000, ThicknessExp: rapid.Float64Range(0, 0.45).Draw(t, "mc")},
		FeedPerToothMM: 0.1,
		EdgeAngleDeg:   rapid.Float64Range(10, 90).Draw(t, "kappa"),
		AxialMM:        rapid.Float64Range(0.2, 40).Draw(t, "ap"),
		DiameterMM:     rapid.Float64Range(4, 60).Draw(t, "dc"),
		EdgesCount:     float64(rapid.IntRange(1, 12).Draw(t, "z")),
		HelixAngleDeg:  rapid.SampledFrom([]float64{0, 5, 30, 38, 50}).Draw(t, "helix"),
		Arc:            kinematics.Arc{EntryRad: entry, ExitRad: min(math.Pi, exit)},
	}
}

// tooth is the tangential force of a thin slice of one tooth per mm of axial depth.
func tooth(m force.Milled, phi float64) float64 {
	if phi < m.Arc.EntryRad || phi > m.Arc.ExitRad {
		return 0
	}
	s := math.Sin(m.EdgeAngleDeg * math.Pi / 180)
	h := m.FeedPerToothMM * s * math.Sin(phi)
	if h <= 0 {
		return 0
	}
	return m.SpecificForce11NPerMM2 * math.Pow(h, 1-m.ThicknessExp) / s
}

// The reference for the mean is gonum's fixed Legendre quadrature, not our own code.
func TestMillingMeanAgreesWithQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMilled(t)
		integral := quad.Fixed(func(u float64) float64 { // u² clears the root at the entry
			phi := m.Arc.EntryRad + u*u
			return tooth(m, min(phi, m.Arc.ExitRad)) * 2 * u
		}, 0, math.Sqrt(m.Arc.SweepRad()), 200, quad.Legendre{}, 0)
		want := m.EdgesCount / (2 * math.Pi) * m.AxialMM * integral * m.DiameterMM / 2000
		got := force.Milling(m).TorqueNm
		if math.Abs(got-want) > 2e-5*want {
			t.Fatalf("mean torque %v, quadrature %v", got, want)
		}
	})
}

// The reference for the peak is a dense numerical integration over the turn and the
// length of the edge, again by gonum.
func TestMillingPeakAgreesWithDenseIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMilled(t)
		lag := 2 * m.AxialMM * math.Tan(m.HelixAngleDeg*math.Pi/180) / m.DiameterMM
		pitch := 2 * math.Pi / m.EdgesCount
		torque := func(turn float64) float64 {
			sum := 0.0
			for k := -math.Ceil(lag/pitch) - 1; k <= m.EdgesCount+math.Ceil(lag/pitch)+1; k++ {
				tip := turn + k*pitch
				if lag == 0 {
					sum += m.AxialMM * tooth(m, tip)
					continue
				}
				from, to := max(m.Arc.EntryRad, tip-lag), min(m.Arc.ExitRad, tip)
				if to > from {
					sum += m.AxialMM / lag * quad.Fixed(func(phi float64) float64 { return tooth(m, phi) }, from, to, 40, nil, 0)
				}
			}
			return sum * m.DiameterMM / 2000
		}
		want, at := 0.0, 0.0
		try := func(turn float64) {
			if v := torque(turn); v > want {
				want, at = v, turn
			}
		}
		const turns = 400
		for i := range turns + 1 {
			try(m.Arc.EntryRad + pitch*float64(i)/turns)
			try(m.Arc.ExitRad - pitch*float64(i)/turns)
			try(m.Arc.EntryRad + lag + pitch*float64(i)/turns)
		}
		for step := pitch / turns; step > 1e-5; step /= 8 { // close in on the best turn
			for i, around := -8, at; i <= 8; i++ {
				try(around + step*float64(i)/8)
			}
		}
		got := force.Milling(m).TorquePeakNm
		if got < want*(1-1e-3) || got > want*(1+1e-3) {
			t.Fatalf("peak torque %v, dense integration %v (%+v)", got, want, m)
		}
	})
}

func TestMillingPeakIsNeverUnderTheMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := force.Milling(drawMilled(t))
		if l.TorquePeakNm < l.TorqueNm*(1-1e-9) {
			t.Fatalf("peak %v under mean %v", l.TorquePeakNm, l.TorqueNm)
		}
	})
}

// Ratios of peak to mean in a full slot at mc 0.20: geometry, as the trade tables it.
func ExampleMilling() {
	for _, z := range []float64{1, 2, 3, 4, 5} {
		l := force.Milling(force.Milled{
			Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.05, EdgeAngleDeg: 90,
			AxialMM: 5, DiameterMM: 12, EdgesCount: z, Arc: kinematics.Arc{ExitRad: math.Pi},
		})
		fmt.Printf("%.2f ", l.TorquePeakNm/l.TorqueNm)
	}
	// Output: 2.94 1.47 1.13 1.12 1.05
}

func BenchmarkMillingStraight(b *testing.B) { benchmarkMilling(b, 0) }
func BenchmarkMillingHelical(b *testing.B)  { benchmarkMilling(b, 38) }

func benchmarkMilling(b *testing.B, helix float64) {
	m := force.Milled{
		Law: force.Law{SpecificForce11NPerMM2: 2300, ThicknessExp: 0.2}, FeedPerToothMM: 0.06, EdgeAngleDeg: 90,
		AxialMM: 12, DiameterMM: 12, EdgesCount: 4, HelixAngleDeg: helix,
		Arc: kinematics.EngagementArc(kinematics.Immersion{DiameterMM: 12, WidthMM: 4.8, OffsetMM: -3.6}),
	}
	for b.Loop() {
		force.Milling(m)
	}
}
