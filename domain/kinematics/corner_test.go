package kinematics_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/kinematics"
)

// A corner cut to its radius on a square edge: the chord of a quarter circle.
func ExampleChordAngleDeg() {
	fmt.Printf("%.1f", kinematics.ChordAngleDeg(kinematics.Corner{DepthMM: 0.8, EdgeAngleDeg: 90, CornerRadiusMM: 0.8}))
	// Output: 45.0
}

// Without corner and feed the chord is the edge; with them it is flatter, the more so the
// larger the corner against the depth, and steeper with the edge.
func TestChordAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := kinematics.Corner{DepthMM: rapid.Float64Range(0.05, 10).Draw(t, "ap"), EdgeAngleDeg: rapid.Float64Range(10, 120).Draw(t, "kappa")}
		if got := kinematics.ChordAngleDeg(c); math.Abs(got-c.EdgeAngleDeg) > 1e-9 {
			t.Fatalf("a sharp edge of %v has a chord of %v", c.EdgeAngleDeg, got)
		}
		c.CornerRadiusMM = rapid.Float64Range(0, 6).Draw(t, "RE")
		c.FeedPerRevolutionMM = rapid.Float64Range(0, 1).Draw(t, "f")
		was := kinematics.ChordAngleDeg(c)
		rounder, deeper, steeper := c, c, c
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		rounder.CornerRadiusMM *= more
		deeper.DepthMM, deeper.FeedPerRevolutionMM = c.DepthMM*more, c.FeedPerRevolutionMM*more
		steeper.EdgeAngleDeg = min(120, c.EdgeAngleDeg*more)
		if was > c.EdgeAngleDeg+1e-9 || kinematics.ChordAngleDeg(rounder) > was+1e-9 || kinematics.ChordAngleDeg(deeper) < was-1e-9 || kinematics.ChordAngleDeg(steeper) < was-1e-9 {
			t.Fatalf("%+v: %v; rounder %v, deeper %v, steeper %v", c, was, kinematics.ChordAngleDeg(rounder), kinematics.ChordAngleDeg(deeper), kinematics.ChordAngleDeg(steeper))
		}
	})
}
