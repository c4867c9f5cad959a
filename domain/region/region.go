// Package region answers "where around this cut can it run?": by cutting speed and feed,
// what stands against the cut with a worn edge. It goes round packages estimate and finding,
// and changes nothing.
package region

import (
	"math"
	"slices"

	"swarf/domain/cut"
	"swarf/domain/estimate"
)

// Kind is what sort of thing stands against a cut, the gravest first.
type Kind uint8

// The kinds.
const (
	Nothing Kind = iota
	Limit        // a limit of machine, tool or clamping is passed with a worn edge
	Refused      // a refusal
	Thin         // the chip is thinner than the least: the edge rubs
	Held         // a hold: a person decides
)

// Against is what stands against a cut at one speed and feed: of limits the one that is most
// over. Name is that of the limit or the code of the finding.
type Against struct {
	Kind Kind
	Name string
}

// Region is what stands against a cut around its speed and feed.
type Region struct {
	SpeedMPerMin, FeedMM float64 // of the cut
	PerTooth             bool    // the feed is that of a tooth, else of a turn
	Columns              []Column
}

// Column is one speed, with what stands against the cut from the lowest feed to the highest.
type Column struct {
	SpeedMPerMin float64
	Parts        []Part
}

// Part is a stretch of feeds, up to one.
type Part struct {
	Against Against
	ToMM    float64
}

// How far around the cut is looked, as factors on its speed and feed. Common practice, no
// source.
const (
	LowRatio  = 0.25
	HighRatio = 2.5
)

// How closely is looked: speeds and feeds at even ratios, then as near to every change as
// these ratios say. Between columns a change runs straight; what is drawn is then right to a
// pixel or so. Ours.
const (
	speeds      = 40
	feeds       = 15
	speedNearly = 1.005
	feedNearly  = 1.001
)

// Of looks around a computed cut; ok is false for a cut whose feed is its pitch, and for one
// without loads.
//
// Range: an estimate with its parameters. Errors: none. Source: the contract's section 3.2.
func Of(e *estimate.Estimate) (r *Region, ok bool) {
	if e.Cut.Operation.FeedIsPitch || !e.HasLoads {
		return nil, false
	}
	r = &Region{SpeedMPerMin: e.Motion.CuttingSpeedMPerMin, FeedMM: e.Motion.FeedPerRevolutionMM, PerTooth: e.Cut.Operation.Family == cut.MillingFamily}
	if r.PerTooth {
		r.FeedMM = e.Motion.FeedPerToothMM
	}
	l := newLook(e, r)
	list := l.speeds()
	r.Columns = append(r.Columns, l.column(list[0]))
	for _, v := range list[1:] {
		r.columns(l, r.Columns[len(r.Columns)-1], l.column(v))
	}
	return r, true
}

// columns adds those between two that differ, until they are near, and then the second.
func (r *Region) columns(l *look, a, b Column) {
	if !SameParts(&a, &b) && b.SpeedMPerMin > a.SpeedMPerMin*speedNearly {
		middle := l.column(math.Sqrt(a.SpeedMPerMin * b.SpeedMPerMin))
		r.columns(l, a, middle)
		r.columns(l, middle, b)
		return
	}
	r.Columns = append(r.Columns, b)
}

// SameParts reports columns between which every part goes on.
func SameParts(a, b *Column) bool {
	return slices.EqualFunc(a.Parts, b.Parts, func(p, q Part) bool { return p.Against == q.Against })
}

// Point is a speed and a feed.
type Point struct{ SpeedMPerMin, FeedMM float64 }

// At is what stands against the cut at a point inside the region: parts that two
// neighbouring columns share end on a straight line between them; where they share none, each
// reaches half-way.
func (r *Region) At(p Point) Against {
	k := 1
	for k < len(r.Columns)-1 && r.Columns[k].SpeedMPerMin < p.SpeedMPerMin {
		k++
	}
	a, b := &r.Columns[k-1], &r.Columns[k]
	share := (p.SpeedMPerMin - a.SpeedMPerMin) / (b.SpeedMPerMin - a.SpeedMPerMin)
	if !SameParts(a, b) {
		if share >= 0.5 {
			a = b
		}
		b, share = a, 0
	}
	for i := range a.Parts {
		if p.FeedMM <= a.Parts[i].ToMM+share*(b.Parts[i].ToMM-a.Parts[i].ToMM) {
			return a.Parts[i].Against
		}
	}
	return a.Parts[len(a.Parts)-1].Against
}
