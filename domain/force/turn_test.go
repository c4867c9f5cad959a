package force_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"swarf/domain/force"
	"swarf/domain/kinematics"
)

// Mean torque, mean force against the feed and peak of the curves over a revolution are what
// Milling gives in closed form, wherever the arc lies, with straight teeth and helical ones.
func TestTurnHasMeansAndPeakOfMilling(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 7))
	for range 150 {
		entry := 3 * random.Float64()
		m := force.Milled{Law: force.Law{SpecificForce11NPerMM2: 600 + 2000*random.Float64(), ThicknessExp: 0.1 + 0.25*random.Float64()},
			FeedPerToothMM: 0.02 + 0.3*random.Float64(), EdgeAngleDeg: 45 + 45*random.Float64(), AxialMM: 1 + 10*random.Float64(), DiameterMM: 20,
			EdgesCount: float64(1 + random.IntN(8)), Arc: kinematics.Arc{EntryRad: entry, ExitRad: entry + 0.1 + (math.Pi-entry-0.1)*random.Float64()}}
		if random.IntN(2) == 0 {
			m.HelixAngleDeg = 5 + 45*random.Float64()
		}
		want := force.Milling(m)
		const samples = 20_161
		var torques, feeds []float64
		peak := 0.0
		for _, i := range force.MillingTurn(m, samples) {
			torques, feeds = append(torques, i.TorqueNm), append(feeds, i.FeedN)
			peak = max(peak, i.TorqueNm)
		}
		torque, feed := stat.Mean(torques[:samples-1], nil), stat.Mean(feeds[:samples-1], nil)
		if math.Abs(torque/want.TorqueNm-1) > 4e-3 || math.Abs(peak/want.TorquePeakNm-1) > 4e-3 || math.Abs(feed-want.FeedForceN) > 4e-3*torque*2000/m.DiameterMM {
			t.Errorf("%+v: means %v N·m and %v N, peak %v; want %v, %v, %v", m, torque, feed, peak, want.TorqueNm, want.FeedForceN, want.TorquePeakNm)
		}
	}
}

// Along and across the feed are two sides of one force: its length is F·√(1 + q²) of a single
// tooth, q the share that pushes out of the cut.
func TestForcesOfATurnAreOneForce(t *testing.T) {
	m := force.Milled{Law: force.Law{SpecificForce11NPerMM2: 1800, ThicknessExp: 0.24}, FeedPerToothMM: 0.12, EdgeAngleDeg: 90, AxialMM: 3, DiameterMM: 20, EdgesCount: 1, Arc: kinematics.Arc{ExitRad: 2}}
	for _, i := range force.MillingTurn(m, 361) {
		whole := math.Hypot(i.FeedN, i.AcrossN)
		if want := i.TorqueNm * 100 * math.Hypot(1, force.NormalShareRatio); math.Abs(whole-want) > 1e-9*(1+want) {
			t.Fatalf("at %v°: %v N, want %v", i.TurnDeg, whole, want)
		}
	}
}
