package estimate_test

import (
	"math"
	"testing"

	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
)

// What the curves over a turn come to is what the estimate says: mean torque, mean force
// against the feed, peak torque.
func TestTurnIsThatOfTheEstimate(t *testing.T) {
	for _, name := range []string{"side-milling", "slot-milling", "face-milling", "circular-milling", "trochoidal-milling"} {
		e := estimate.Of(cuttest.Of(name))
		turn := e.Turn(20_161)
		if turn == nil {
			t.Fatal(name)
		}
		var torque, feed, peak float64
		for _, i := range turn[1:] {
			torque, feed, peak = torque+i.TorqueNm/20_160, feed+i.FeedN/20_160, max(peak, i.TorqueNm)
		}
		for what, pair := range map[string][2]float64{"torque": {torque, e.Sharp.TorqueNm}, "feed force": {feed, e.Sharp.FeedForceN.V}, "peak": {peak, e.Sharp.TorquePeakNm}} {
			if math.Abs(pair[0]/pair[1]-1) > 2e-3 {
				t.Errorf("%s: %s is %v over the turn, %v in the estimate", name, what, pair[0], pair[1])
			}
		}
	}
	for _, name := range []string{"plunge-milling", "ball-milling", "chamfer-milling", "turning", "drilling"} {
		if estimate.Of(cuttest.Of(name)).Turn(10) != nil {
			t.Errorf("%s has a turn", name)
		}
	}
}
