package force_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/force"
)

// A square edge, and a corner that is all of the cut.
func ExampleTurningShares() {
	square, flat := force.TurningShares(90), force.TurningShares(0)
	fmt.Printf("%.1f %.1f, %.1f %.1f", square.FeedRatio, square.PassiveRatio, flat.FeedRatio, flat.PassiveRatio)
	// Output: 0.5 0.2, 0.3 0.6
}

// The shares stay inside the trade's ranges, and the passive force falls as the chord
// stands up.
func TestTurningSharesStayInRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 150).Draw(t, "chord")
		s, steeper := force.TurningShares(angle), force.TurningShares(angle+10)
		if s.FeedRatio < 0.3 || s.FeedRatio > 0.5+1e-12 || s.PassiveRatio < 0.2 || s.PassiveRatio > 0.6+1e-12 || steeper.PassiveRatio > s.PassiveRatio {
			t.Fatalf("%v at %v deg, %v ten degrees on", s, angle, steeper)
		}
	})
}
