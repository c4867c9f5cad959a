// Package seek looks along one number for where something begins or ends to hold: at factors
// on it close enough that nothing but a sliver hides between two, then by halving the last
// step.
package seek

import (
	"math"
	"slices"
)

// perDecade is how many factors are looked at while a number grows tenfold: steps of 8 %.
const perDecade = 30.0

// Walk is a way from one factor to another; at its breaks the law behind the number changes.
type Walk struct {
	FromRatio, ToRatio float64
	BreaksRatio        []float64
}

// Steps are the factors at which a search looks, in their order: evenly in their logarithm,
// the end among them and the start not, and close on both sides of each break.
//
// Range: factors above zero. Errors: none. Source: definition.
func (w Walk) Steps() []float64 {
	from, to := w.FromRatio, w.ToRatio
	low, high := min(from, to), max(from, to)
	n := max(1, math.Ceil(perDecade*math.Log10(high/low)))
	list := make([]float64, 0, int(n)+3*len(w.BreaksRatio))
	for i := 1.0; i < n; i++ {
		list = append(list, from*math.Pow(to/from, i/n))
	}
	list = append(list, to)
	for _, k := range w.BreaksRatio {
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

// Edge is a factor at which something holds and one at which it does not: between them it
// ceases to.
type Edge struct{ GoodRatio, BadRatio float64 }

// closeRatio is how near the two sides of an edge come: nine digits.
const closeRatio = 1e-9

// Closed is the same edge with its sides nine digits apart, each of them tried.
//
// Range: factors above zero. Errors: none. Source: halving in the logarithm.
func (e Edge) Closed(holds func(ratio float64) bool) Edge {
	for math.Abs(e.GoodRatio-e.BadRatio) > closeRatio*e.GoodRatio {
		if middle := math.Sqrt(e.GoodRatio * e.BadRatio); holds(middle) {
			e.GoodRatio = middle
		} else {
			e.BadRatio = middle
		}
	}
	return e
}
