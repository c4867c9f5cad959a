package kinematics_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/kinematics"
)

// Rounds follow one another from the first diameter to the last; those of a circle take
// equal rings, those of a groove equal triangles.
func TestRoundsTakeEqualShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := kinematics.Circle{CutterMM: 5, Internal: rapid.Bool().Draw(t, "internal"), StartMM: rapid.Float64Range(6, 60).Draw(t, "Dw")}
		c.EndMM = c.StartMM + rapid.Float64Range(0.1, 5).Draw(t, "more")
		if !c.Internal {
			c.StartMM, c.EndMM = c.EndMM, c.StartMM
		}
		n := rapid.IntRange(1, 9).Draw(t, "N")
		groove := rapid.Bool().Draw(t, "groove")
		rounds := kinematics.RoundsOf(c, kinematics.Split{RoundsCount: float64(n), Groove: groove})
		if len(rounds) != n || rounds[0].StartMM != c.StartMM || math.Abs(rounds[n-1].EndMM-c.EndMM) > 1e-9 {
			t.Fatalf("%d rounds of %+v: %+v", n, c, rounds)
		}
		share := func(r kinematics.Circle) float64 {
			if groove {
				return math.Pow(r.EndMM-c.StartMM, 2) - math.Pow(r.StartMM-c.StartMM, 2)
			}
			return math.Abs(r.EndMM*r.EndMM - r.StartMM*r.StartMM)
		}
		for i := range rounds {
			if i > 0 && rounds[i].StartMM != rounds[i-1].EndMM {
				t.Fatalf("round %d does not follow: %+v", i, rounds)
			}
			if math.Abs(share(rounds[i])-share(rounds[0])) > 1e-6*share(rounds[0]) {
				t.Fatalf("round %d takes %v, the first %v", i, share(rounds[i]), share(rounds[0]))
			}
			want := rounds[i].EndMM + c.CutterMM
			if c.Internal {
				want = rounds[i].EndMM - c.CutterMM
			}
			if rounds[i].CentreMM() != want {
				t.Fatalf("centre of %+v", rounds[i])
			}
		}
	})
}
