// Package seek looks along one number for where something begins or ends to hold: at values
// close enough that nothing but a sliver hides between two, then by halving the last step.
package seek

import (
	"math"
	"slices"
)

// perDecade is how many values are looked at while a number grows tenfold: steps of 8 %.
const perDecade = 30.0

// Steps are the values at which a search looks on its way, in their order: evenly in their
// logarithm, the end among them and the start not, and close on both sides of each break,
// where the law behind the number changes.
//
// Range: from and to above zero. Errors: none. Source: definition.
func Steps(from, to float64, breaks []float64) []float64 {
	low, high := min(from, to), max(from, to)
	n := max(1, math.Ceil(perDecade*math.Log10(high/low)))
	list := make([]float64, 0, int(n)+3*len(breaks))
	for i := 1.0; i < n; i++ {
		list = append(list, from*math.Pow(to/from, i/n))
	}
	list = append(list, to)
	for _, k := range breaks {
		for _, near := range [3]float64{k * (1 - 1e-9), k, k * (1 + 2e-9)} {
			if near > low && near < high {
				list = append(list, near)
			}
		}
	}
	slices.Sort(list)
	if to < from {
		slices.Reverse(list)
	}
	return list
}

// closeRatio is how near the two sides of an edge come: nine digits.
const closeRatio = 1e-9

// Edge closes in on where something ceases to hold, between a value at which it does and one
// at which it does not; it returns the last of each that it met, nine digits apart.
//
// Range: both above zero. Errors: none. Source: halving in the logarithm.
func Edge(good, bad float64, holds func(float64) bool) (lastGood, lastBad float64) {
	for math.Abs(good-bad) > closeRatio*good {
		middle := math.Sqrt(good * bad)
		if middle == good || middle == bad {
			break
		}
		if holds(middle) {
			good = middle
		} else {
			bad = middle
		}
	}
	return good, bad
}
