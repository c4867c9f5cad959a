package domain

import "swarf/domain/unit"

// Basis says what stands behind a number.
type Basis string

// The bases of API.md section 2.
const (
	Published      Basis = "published"       // held against a copy of the named source
	Recalled       Basis = "recalled"        // from memory of the named source
	CommonPractice Basis = "common-practice" // of the trade, no source
	Shop           Basis = "shop"            // measured here
	Derived        Basis = "derived"         // worked out from other numbers
	Request        Basis = "request"         // sent by the caller
	Demo           Basis = "demo"            // invented, for the demonstration only
)

// SpreadRatio is the standard deviation of the logarithm of a number on this
// basis until it is measured.
//
// Range: the bases above. Errors: none; an unknown basis spreads like a group value.
// Source: common practice, no source.
func (b Basis) SpreadRatio() float64 {
	switch b {
	case Published:
		return 0.20
	case Recalled, Derived:
		return 0.25
	case Shop:
		return 0.12
	case Request:
		return 0.12
	}
	return 0.35
}

// Rung is the strength of evidence, 0 (analogy) to 5 (watched production).
func (b Basis) Rung() int {
	switch b {
	case Published, Recalled, Derived:
		return 1
	case Shop:
		return 3
	}
	return 0
}

// Source is where numbers come from.
type Source struct {
	ID       string
	Author   string
	Title    string
	Year     string
	Place    string // pages, tables, equations used
	Address  string
	Kind     string // textbook, handbook, standard, open data, common practice …
	Access   string // how it was seen
	Note     string
	Reviewed string // the day on which the rows here were last held against it; empty: not told
	Revision int64  // in which the record last changed
}

// Range is a range of validity of a quantity. A NaN-free, closed interval; a
// missing end is absent.
type Range struct {
	Quantity  unit.Quantity
	Low, High unit.Opt
}

// Holds reports whether a metric value lies in the range.
func (r Range) Holds(metric float64) bool {
	return !(r.Low.OK && metric < r.Low.V) && !(r.High.OK && metric > r.High.V)
}

// Known reports whether the range says anything.
func (r Range) Known() bool { return r.Low.OK || r.High.OK }
