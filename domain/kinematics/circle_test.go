package kinematics_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/kinematics"
)

// A bore opened from 30 to 33 mm by a 12 mm cutter: the width is more than the 1.5 mm
// of a straight wall. Geometry.
func ExampleCircleWidthMM() {
	fmt.Println(kinematics.CircleWidthMM(kinematics.Circle{CutterMM: 12, StartMM: 30, EndMM: 33, Internal: true}))
	// Output: 2.25
}

// Half immersion is 90°. Geometry.
func ExampleSweepWidthMM() {
	fmt.Printf("%.3f\n", kinematics.SweepWidthMM(kinematics.Sweep{DiameterMM: 12, EngagementAngleDeg: 90}))
	// Output: 6.000
}

// The ring's area is the width times the way of the cutter's centre, and on a circle
// without end the width is the stock of a straight wall.
func TestCircleRemovesItsRing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := rapid.Float64Range(2, 50).Draw(r, "cutter")
		stock := rapid.Float64Range(0.01, 1).Draw(r, "stock")
		start := d * rapid.Float64Range(1.1, 1e5).Draw(r, "size")
		c := kinematics.Circle{CutterMM: d, StartMM: start, EndMM: start + 2*stock, Internal: true}
		ring := math.Pi / 4 * (c.EndMM*c.EndMM - c.StartMM*c.StartMM)
		if got := kinematics.CircleWidthMM(c) * math.Pi * (c.EndMM - d); math.Abs(got-ring) > 1e-6*ring {
			r.Fatalf("inside: %v of a ring of %v", got, ring)
		}
		c = kinematics.Circle{CutterMM: d, StartMM: start + 2*stock, EndMM: start}
		if got := kinematics.CircleWidthMM(c) * math.Pi * (c.EndMM + d); math.Abs(got-ring) > 1e-6*ring {
			r.Fatalf("outside: %v of a ring of %v", got, ring)
		}
	})
}
