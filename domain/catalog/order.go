package catalog

import (
	"slices"

	"swarf/domain/cut"
	"swarf/domain/material"
)

// Placed is a record that applies to a question, and by what the one that serves goes
// before it; empty for the one that serves.
type Placed struct {
	Force   *material.Force
	LosesBy string
}

// criteria are the names of what force records are ordered by, in order.
var criteria = []string{"shop records come first", "scope", "method", "evidence", "condition", "hardness", "process", "basis", "steward's rank"}

func (f ranked) places() []int {
	return []int{f.shop, f.width, f.method, f.rung, f.condition, f.hardness, f.process, f.basis, f.Rank}
}

// OrderForce lists every force record that applies, in the order of precedence, with what
// puts each behind the one that serves.
func (s *Snapshot) OrderForce(q ForceQuery) []Placed {
	sh := s.shelf(q.Grade, q.Group, q.Subgroup)
	h := sh.hardness(hardness{q.HardnessHBW, q.OrHarder}, q.Condition)
	var fits []ranked
	for r := range sh.allForce {
		if f, ok := rank(r, forceKey{q.Condition, q.Process}, h); ok && r.Method != material.DrillWork && !r.Unsafe() {
			fits = append(fits, f)
		}
	}
	slices.SortFunc(fits, ranked.compare)
	out := make([]Placed, len(fits))
	for i, f := range fits {
		out[i].Force = f.Force
		if i == 0 {
			continue
		}
		out[i].LosesBy = "id"
		first := fits[0].places()
		for k, place := range f.places() {
			if place != first[k] {
				out[i].LosesBy = criteria[k]
				break
			}
		}
	}
	return out
}

// PlainForceNPerMM2 is the specific cutting force of a record at the chip where records are
// compared, 0.2 mm: a plain cut's force and power go with it.
func PlainForceNPerMM2(r *material.Force) float64 {
	if r.Method == material.UnitPower {
		return 1000 * r.EnergyJPerMM3.Or(0)
	}
	return plainForce(r)
}

// PlainChipMM is that chip.
const PlainChipMM = plainChipMM

// SpreadOf is the spread of what serves a question, and its independent sources.
func (s *Snapshot) SpreadOf(choice cut.ForceChoice) (spreadRatio float64, sources int) {
	if r := choice.Served; r != nil && r.SpreadRatio.OK {
		return r.SpreadRatio.V, choice.SourcesCount
	}
	return choice.SpreadRatio, choice.SourcesCount
}
