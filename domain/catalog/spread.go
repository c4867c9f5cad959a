package catalog

import (
	"math"
	"slices"

	"swarf/domain/material"
)

// How far a record may be off is taken from the records themselves. For every quantity that
// two or more independent sources give (the force or energy of one metal in one process,
// the speed of one operation with one kind of tool) each source is left out in turn, and the
// record that would then serve is held against it. The ninth tenth of those differences, as
// logarithms, over the normal quantile of nine tenths either way, is the pooled spread: a
// 90 % interval of it holds nine in ten left-out values. A quantity's own differences move
// its spread away from the pooled one as their number grows. Sources with the same digits
// are copies of one another and count once.

// alike is how near two values are that were copied from one another, as a ratio.
const alike = 1.01

// pooledWeight is how many differences of its own weigh as much as the pooled spread.
const pooledWeight = 4

// leastDifferences is from how many left-out values on a pooled spread is believed.
const leastDifferences = 10

// plainChipMM is the chip at which force records are compared.
const plainChipMM = 0.2

// Pool is the pooled spread of one kind of quantity and what it rests on.
type Pool struct {
	Kind        string  // force, energy, starting speed
	SpreadRatio float64 // 0: too few left-out values
	Quantities  int     // that two or more independent sources give
	Count       int     // left-out values
	HeldCount   int     // of them inside the 90 % interval that the other quantities give
}

// pools are the pooled spreads of a snapshot.
type pools struct{ force, energy, speed Pool }

// quantity is the values of one thing, each an independent source's, the best first.
type quantity []float64

// leaveOneOut are the differences of a quantity: each value against the one that would
// serve without it.
func (q quantity) leaveOneOut() []float64 {
	if len(q) < 2 {
		return nil
	}
	out := make([]float64, len(q))
	for i, left := range q {
		served := q[0]
		if i == 0 {
			served = q[1]
		}
		out[i] = math.Log(left / served)
	}
	return out
}

// independent drops values that are copies of one before them.
func independent(values []float64) quantity {
	var q quantity
	for _, v := range values {
		if v > 0 && !slices.ContainsFunc(q, func(w float64) bool { return max(v/w, w/v) < alike }) {
			q = append(q, v)
		}
	}
	return q
}

// pool finds the spread of one kind of quantity, and holds every left-out value against the
// spread that the other quantities give, moved by what the sources that are left differ.
func pool(kind string, all []quantity) Pool {
	p := Pool{Kind: kind}
	var shared []quantity
	for _, q := range all {
		if len(q) > 1 {
			shared = append(shared, q)
			p.Count += len(q)
		}
	}
	p.Quantities = len(shared)
	if p.Count < leastDifferences {
		return p
	}
	p.SpreadRatio = scale(shared, -1)
	var without [folds]float64
	for f := range without {
		without[f] = scale(shared, f)
	}
	for i, q := range shared {
		without := without[i%folds]
		for k, left := range q {
			rest := slices.Delete(slices.Clone(q), k, k+1)
			if math.Abs(math.Log(left/rest[0])) <= normal90*ownSpread(without, rest.leaveOneOut()) {
				p.HeldCount++
			}
		}
	}
	return p
}

// folds is in how many parts the quantities are split: each is held against the others.
const folds = 20

// normal90 is the normal quantile with nine tenths between it and its negative.
const normal90 = 1.6448536269514722

// scale is the spread whose 90 % interval holds nine in ten differences, but for those of
// one part of the quantities.
func scale(shared []quantity, but int) float64 {
	var sizes []float64
	for i, q := range shared {
		if i%folds == but {
			continue
		}
		for _, d := range q.leaveOneOut() {
			sizes = append(sizes, math.Abs(d))
		}
	}
	if len(sizes) == 0 {
		return 0
	}
	slices.Sort(sizes)
	at := 0.9 * float64(len(sizes)-1)
	below := int(at)
	size := sizes[below]
	if below+1 < len(sizes) {
		size += (at - float64(below)) * (sizes[below+1] - size)
	}
	return size / normal90
}

// ownSpread is a pooled spread moved by a quantity's own differences.
func ownSpread(pooled float64, own []float64) float64 {
	sum := pooledWeight * pooled * pooled
	for _, d := range own {
		sum += d * d
	}
	return math.Sqrt(sum / (pooledWeight + float64(len(own))))
}

// poolsOf pools the records of a snapshot's data, each scope by itself.
func poolsOf(d *Data) pools {
	force, energy := map[string][]ranked{}, map[string][]ranked{}
	for i := range d.Force {
		r := &d.Force[i]
		if !r.Serves() {
			continue
		}
		f, _ := rank(forceOn{Force: r}, forceKey{condition: r.Condition, process: r.Process}, hardness{})
		key := r.Level + "|" + r.Key + "|" + r.Process
		switch r.Method {
		case material.Kienzle:
			force[key] = append(force[key], f)
		case material.UnitPower:
			energy[key+"|"+r.Condition] = append(energy[key+"|"+r.Condition], f)
		}
	}
	speeds := map[string][]suited{}
	for i := range d.Starting {
		r := &d.Starting[i]
		if !r.Serves() || middleOf(r) == 0 {
			continue
		}
		for _, operation := range r.Operations {
			for _, class := range append(slices.Clone(r.Classes), "") {
				if class == "" && len(r.Classes) > 0 {
					continue
				}
				key := r.Level + "|" + r.Key + "|" + operation + "|" + class + "|" + r.ToolMaterial + "|" + r.Kind
				f, _ := suit(startingOn{Starting: r}, startingKey{condition: r.Condition, operation: operation, class: class, tool: r.ToolMaterial}, hardness{})
				speeds[key] = append(speeds[key], f)
			}
		}
	}
	return pools{
		force:  pool("force", quantities(force, ranked.compare, func(r ranked) (string, float64) { return r.Source, plainForce(r.Force) })),
		energy: pool("energy", quantities(energy, ranked.compare, func(r ranked) (string, float64) { return r.Source, r.EnergyJPerMM3.Or(0) })),
		speed:  pool("starting speed", quantities(speeds, suited.compare, func(r suited) (string, float64) { return r.Source, middleOf(r.Starting) })),
	}
}

// quantities are the values of each key, the best record of each source, in order.
func quantities[R any](by map[string][]R, compare func(a, b R) int, value func(R) (string, float64)) []quantity {
	keys := make([]string, 0, len(by))
	for key := range by {
		keys = append(keys, key)
	}
	slices.Sort(keys) // so that the same data gives the same digits
	var all []quantity
	for _, key := range keys {
		records := by[key]
		slices.SortFunc(records, compare)
		seen := map[string]bool{}
		var values []float64
		for _, r := range records {
			source, v := value(r)
			if !seen[source] {
				seen[source] = true
				values = append(values, v)
			}
		}
		all = append(all, independent(values))
	}
	return all
}

// plainForce is the specific force of a pair at the chip where records are compared.
func plainForce(r *material.Force) float64 {
	return r.SpecificCuttingForce11NPerMM2.Or(0) * math.Pow(plainChipMM, -r.ChipThicknessExp.Or(0))
}

// middleOf is the middle of a record's speeds.
func middleOf(r *material.Starting) float64 {
	low, high := r.Speed.Low, r.Speed.High
	switch {
	case low.OK && high.OK:
		return math.Sqrt(low.V * high.V)
	case low.OK:
		return low.V
	}
	return high.Or(0)
}

// Pools are the pooled spreads of the snapshot's records and how well they hold.
func (s *Snapshot) Pools() []Pool { return []Pool{s.pools.force, s.pools.energy, s.pools.speed} }

// ofForce is the spread of the record that serves, and how many independent sources give
// what it gives: those of its own scope, method and process that fit the work as well.
func (p *pools) ofForce(fits []ranked) (spread float64, sources int) {
	served := fits[0]
	pooled, value := p.force.SpreadRatio, plainForce
	if served.Method == material.UnitPower {
		pooled, value = p.energy.SpreadRatio, func(r *material.Force) float64 { return r.EnergyJPerMM3.Or(0) }
	}
	seen := map[string]bool{}
	var values []float64
	for _, f := range fits {
		if f.Method != served.Method || f.width != served.width || f.process > served.process || f.condition > 1 || f.hardness > 1 || f.Unsafe() || seen[f.Source] {
			continue
		}
		seen[f.Source] = true
		values = append(values, value(f.Force))
	}
	q := independent(values)
	if pooled == 0 {
		return 0, len(q)
	}
	return ownSpread(pooled, q.leaveOneOut()), len(q)
}
