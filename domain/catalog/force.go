package catalog

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
)

// ForceQuery asks for the force records of a grade, or of a subgroup or group.
type ForceQuery struct {
	Grade       *material.Material // else Group and Subgroup
	Group       material.Group
	Subgroup    string
	Condition   string
	HardnessHBW float64 // 0: that of the condition, when it is known
	OrHarder    bool    // the work is harder than HardnessHBW, where Brinell has ended
	Process     string  // turning, milling, drilling
}

type forceKey struct{ condition, process string }

// noNumberRatio is how far outside its range a record no longer serves (PRACTICE 5.3:
// beyond 2 times no number is served).
const noNumberRatio = 2

// ranked is a force record with how well it fits; lower comes first.
type ranked struct {
	forceOn
	shop, method, rung, condition, hardness, process, basis int
}

// ChooseForce picks the record that serves and those that compete with it: shop
// records first, then the grade's own before its subgroup's and its group's, Kienzle
// pairs before unit power; then by rung of evidence, condition, hardness, process,
// basis, the steward's rank and the id. Nothing is averaged.
func (s *Snapshot) ChooseForce(q ForceQuery) cut.ForceChoice {
	sh := s.shelf(q.Grade, q.Group, q.Subgroup)
	key := forceKey{q.Condition, q.Process}
	keep := q.HardnessHBW == 0 && (q.Condition == "" || sh.condition(q.Condition) >= 0) && processes[q.Process]
	if keep {
		if choice, ok := sh.chosenForce.get(key); ok {
			return choice
		}
	}
	choice := sh.chooseForce(key, sh.hardness(hardness{q.HardnessHBW, q.OrHarder}, q.Condition), &s.pools)
	if keep {
		sh.chosenForce.put(key, choice)
	}
	return choice
}

var processes = map[string]bool{"turning": true, "milling": true, "drilling": true}

func (sh *shelf) chooseForce(q forceKey, h hardness, p *pools) cut.ForceChoice {
	fits := make([]ranked, 0, 16)
	var far *material.Force
	farthest := math.Inf(1)
	for r := range sh.allForce {
		if r.Method == material.DrillWork {
			continue
		}
		if f, ok := rank(r, q, h); ok {
			fits = append(fits, f)
		} else if away := h.outside(r.Hardness.Low.Or(0), r.Hardness.High.Or(0)); away > noNumberRatio && away < farthest {
			far, farthest = r.Force, away
		}
	}
	slices.SortFunc(fits, ranked.compare)
	if len(fits) == 0 {
		return cut.ForceChoice{Far: far}
	}
	var choice cut.ForceChoice
	for len(fits) > 0 && fits[0].Unsafe() {
		choice.Withdrawn, fits = fits[0].Force, fits[1:]
	}
	if len(fits) == 0 {
		return choice
	}
	choice.Served, choice.FallBack = fits[0].Force, widths[fits[0].width]
	choice.SpreadRatio, choice.SourcesCount = p.ofForce(fits)
	for _, f := range fits[1:] {
		if f.Unsafe() {
			continue // what serves is better than what was withdrawn
		}
		switch {
		case f.Method == material.UnitPower:
			choice.UnitPower = append(choice.UnitPower, f.Force)
		case f.condition < 2 && f.hardness < 2:
			choice.Competing = append(choice.Competing, f.Force)
		}
	}
	choice.Competing, choice.UnitPower = slices.Clip(choice.Competing), slices.Clip(choice.UnitPower)
	return choice
}

// rank says how well a record fits, and whether it applies at all. A unit-power or
// drilling record applies only inside its hardness band and to its own condition; a
// Kienzle pair of another condition of the grade still serves when nothing better does.
func rank(r forceOn, q forceKey, h hardness) (ranked, bool) {
	f := ranked{forceOn: r, rung: -r.Basis.Rung(), basis: basisOrder(r.Basis)}
	if r.Basis == domain.Shop {
		f.shop = -1
	}
	if r.Method != material.Kienzle {
		f.method = 1
	}
	switch r.Condition {
	case q.condition:
	case "":
		f.condition = 1
	default:
		f.condition = 2
	}
	known := h.hbw > 0 && r.Hardness.Known()
	away := h.outside(r.Hardness.Low.Or(0), r.Hardness.High.Or(0))
	switch {
	case known && away == 1:
	case away == 1:
		f.hardness = 1
	default:
		f.hardness = 2
	}
	switch r.Process {
	case q.process:
	case "general", "":
		f.process = 1
	case "turning":
		f.process = 2
	default:
		f.process = 3
	}
	if r.Method != material.Kienzle && (away > 1 || f.condition == 2) {
		return f, false
	}
	return f, away <= noNumberRatio
}

func (f ranked) compare(g ranked) int {
	return cmp.Or(f.shop-g.shop, f.width-g.width, f.method-g.method, f.rung-g.rung, f.condition-g.condition,
		f.hardness-g.hardness, f.process-g.process, f.basis-g.basis, f.Rank-g.Rank, strings.Compare(f.ID, g.ID))
}

// basisOrder ranks what stands behind a force record.
func basisOrder(b domain.Basis) int {
	return slices.Index([]domain.Basis{domain.Shop, domain.Published, domain.Derived, domain.Recalled, domain.CommonPractice, domain.Demo}, b)
}

// ChooseDrillWork picks the work material factor of the handbook drilling method, by
// the order of ChooseForce; nil when no record applies.
func (s *Snapshot) ChooseDrillWork(q ForceQuery) *material.Force {
	sh := s.shelf(q.Grade, q.Group, q.Subgroup)
	keep := q.HardnessHBW == 0 && (q.Condition == "" || sh.condition(q.Condition) >= 0)
	if keep {
		if served, ok := sh.chosenDrilling.get(q.Condition); ok {
			return served
		}
	}
	served := sh.chooseDrillWork(q.Condition, sh.hardness(hardness{q.HardnessHBW, q.OrHarder}, q.Condition))
	if keep {
		sh.chosenDrilling.put(q.Condition, served)
	}
	return served
}

func (sh *shelf) chooseDrillWork(condition string, h hardness) *material.Force {
	return sh.best(forceKey{condition, "drilling"}, h, func(m material.Method) bool { return m == material.DrillWork })
}

// bestForce is the record that chooseForce serves.
func (sh *shelf) bestForce(q forceKey, h hardness) *material.Force {
	return sh.best(q, h, func(m material.Method) bool { return m != material.DrillWork })
}

// best is the record in force that fits best among those of some methods, nil without one.
func (sh *shelf) best(q forceKey, h hardness, of func(material.Method) bool) *material.Force {
	var best ranked
	for r := range sh.allForce {
		if !of(r.Method) || r.Unsafe() {
			continue
		}
		if f, ok := rank(r, q, h); ok && (best.Force == nil || f.compare(best) < 0) {
			best = f
		}
	}
	return best.Force
}
