package seek_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/seek"
)

// Steps go one way, end at the end, leave no gap over 8 %, and stand on both sides of each
// break between start and end.
func TestSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := rapid.Float64Range(0.01, 1e4).Draw(t, "from"), rapid.Float64Range(0.01, 1e4).Draw(t, "to")
		breaks := rapid.SliceOfN(rapid.Float64Range(0.01, 1e4), 0, 5).Draw(t, "breaks")
		list := seek.Walk{FromRatio: from, ToRatio: to, BreaksRatio: breaks}.Steps()
		if list[len(list)-1] != to {
			t.Fatalf("ends at %v", list[len(list)-1])
		}
		before := from
		for _, k := range list {
			if (k-before)*(to-from) < 0 || math.Abs(math.Log10(k/before)) > 1.0/30+1e-9 {
				t.Fatalf("from %v to %v on the way from %v to %v", before, k, from, to)
			}
			before = k
		}
		for _, b := range breaks {
			for _, near := range []float64{b * (1 - 1e-9), b * (1 + 2e-9)} {
				if near > min(from, to) && near < max(from, to) && !slices.Contains(list, near) {
					t.Fatalf("nothing beside the break at %v", b)
				}
			}
		}
	})
}

// A closed edge finds a threshold to nine digits and keeps to its sides.
func TestEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(1, 1.08).Draw(t, "at")
		e := seek.Edge{GoodRatio: 1, BadRatio: 1.08}.Closed(func(x float64) bool { return x <= at })
		if e.GoodRatio > at || e.BadRatio < at || e.BadRatio/e.GoodRatio > 1+2e-9 {
			t.Fatalf("%v about %v", e, at)
		}
	})
}
