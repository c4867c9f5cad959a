package diagnose

import (
	"cmp"
	"math"
	"slices"

	"swarf/domain/estimate"
	"swarf/domain/evidence"
)

// Known is what is known beside the reading. Ratios are read over expected; nought is not
// known.
type Known struct {
	OverrideLogged, IdleTakenOff, MeterKnown, EdgesCounted bool
	HardnessMeasured                                       bool
	RisesWithinCut                                         *bool
	FreshEdgeRatio, OtherMachineRatio, OtherLotRatio       float64
}

// Ranked is one cause: how probable it is among those listed, and how much of the
// difference it could explain at the most.
type Ranked struct {
	Cause         string
	Probability   float64
	ExplainsRatio float64
	Test          string
}

// noise is what a reading repeats to, as a logarithm. Common practice, no source.
const noise = 0.05

// Rank weighs the causes against everything that was read. offRatio is read over expected
// with a sharp edge.
//
// Range: a computed estimate, offRatio above nought. Errors: none. Source: Bayes' theorem
// over one cause at a time; weights are common practice, no source.
func Rank(e *estimate.Estimate, l *evidence.Load, k *Known, offRatio float64) []Ranked {
	list := causes(e, l, k)
	off := math.Log(offRatio)
	weights := make([]float64, len(list))
	total := 0.0
	for i := range list {
		c := &list[i]
		if k.HardnessMeasured && c.name == "lot-or-hardness" {
			c.weight *= 0.3
		}
		weights[i] = c.weight * c.likelihood(off, k)
		total += weights[i]
	}
	out := make([]Ranked, len(list))
	for i := range list {
		out[i] = Ranked{Cause: list[i].name, Probability: weights[i] / max(total, 1e-300), ExplainsRatio: list[i].explains(off), Test: list[i].test}
	}
	slices.SortStableFunc(out, func(a, b Ranked) int { return cmp.Compare(b.Probability, a.Probability) })
	return out
}

// likelihood is how probable all readings are if this is the cause: over the sizes its
// effect may have, the same size in every reading that it stays in.
func (c *cause) likelihood(off float64, k *Known) float64 {
	readings := []struct{ value, stays float64 }{{off, 1}}
	add := func(ratio, stays float64) {
		if ratio > 0 {
			readings = append(readings, struct{ value, stays float64 }{math.Log(ratio), stays})
		}
	}
	add(k.FreshEdgeRatio, c.fresh)
	add(k.OtherMachineRatio, c.elsewhere)
	add(k.OtherLotRatio, c.otherLot)
	sum := 0.0
	for _, n := range c.effect {
		const steps = 48
		for i := range steps {
			z := (float64(i)+0.5)/steps*6 - 3
			size := n.mean + z*n.spread
			p := n.share * math.Exp(-z*z/2) * 6 / steps / math.Sqrt(2*math.Pi)
			for _, r := range readings {
				d := (r.value - r.stays*size) / noise
				p *= math.Exp(-d*d/2) / (noise * math.Sqrt(2*math.Pi))
			}
			sum += p
		}
	}
	if k.RisesWithinCut != nil {
		if *k.RisesWithinCut {
			sum *= c.rises
		} else {
			sum *= 1 - c.rises
		}
	}
	return sum
}

// explains is the share of the difference that the cause could make, at its likely most.
func (c *cause) explains(off float64) float64 {
	if math.Abs(off) < 1e-9 {
		return 0
	}
	most := 0.0
	for _, n := range c.effect {
		for _, end := range []float64{n.mean - 1.5*n.spread, n.mean + 1.5*n.spread} {
			if end*off > 0 {
				most = max(most, math.Abs(end))
			}
		}
	}
	return min(1, most/math.Abs(off))
}
