package force_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"swarf/domain/force"
	"swarf/domain/kinematics"
)

// Mean and peak of the curve over a revolution are what Milling gives in closed form.
func TestTurnHasMeanAndPeakOfMilling(t *testing.T) {
	for _, helix := range []float64{0, 38} {
		for _, edges := range []float64{1, 3, 6} {
			for _, arc := range []kinematics.Arc{{EntryRad: 0, ExitRad: math.Pi}, {EntryRad: 2.4, ExitRad: math.Pi}, {EntryRad: 0.6, ExitRad: 2.3}} {
				m := force.Milled{Law: force.Law{SpecificForce11NPerMM2: 1800, ThicknessExp: 0.24}, FeedPerToothMM: 0.12, EdgeAngleDeg: 90, AxialMM: 8, DiameterMM: 20, EdgesCount: edges, HelixAngleDeg: helix, Arc: arc}
				want := force.Milling(m)
				const samples = 36_001
				var torques []float64
				peak := 0.0
				for _, i := range force.MillingTurn(m, samples) {
					torques = append(torques, i.TorqueNm)
					peak = max(peak, i.TorqueNm)
				}
				mean := stat.Mean(torques[:samples-1], nil)
				if math.Abs(mean/want.TorqueNm-1) > 2e-3 || math.Abs(peak/want.TorquePeakNm-1) > 2e-3 {
					t.Errorf("helix %v, %v edges, %v: mean %v and peak %v, want %v and %v", helix, edges, arc, mean, peak, want.TorqueNm, want.TorquePeakNm)
				}
			}
		}
	}
}
