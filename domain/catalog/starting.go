package catalog

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
)

// StartingQuery asks for the starting values of an operation in a grade, or in a
// subgroup or group.
type StartingQuery struct {
	Grade        *material.Material // else Group and Subgroup
	Group        material.Group
	Subgroup     string
	Condition    string
	HardnessHBW  float64 // 0: that of the condition, when it is known
	OrHarder     bool    // the work is harder than HardnessHBW, where Brinell has ended
	Operation    string
	Class        string
	ToolMaterial string // empty: the class's
	Finish       bool
}

type startingKey struct {
	condition, operation, class, tool string
	finish                            bool
}

// suited is a starting-value record with how well it fits; lower comes first.
type suited struct {
	startingOn
	whole, class, tool, other, hardness, shop, condition, kind, basis int
}

// ChooseStarting picks the record that serves and those that compete with it: records
// with both speed and feed first; then those for the class, for the tool material
// and for the hardness; then the grade's own before its subgroup's and its group's;
// then by condition, kind of cut, basis, the steward's rank and the id. Carbide never
// gets the speeds of high-speed steel, nor one letter of ISO 513 those of another.
func (s *Snapshot) ChooseStarting(q StartingQuery) cut.StartingChoice {
	sh := s.shelf(q.Grade, q.Group, q.Subgroup)
	class, known := s.Class(q.Class)
	if q.ToolMaterial == "" && known {
		q.ToolMaterial = class.ToolMaterial
	}
	key := startingKey{q.Condition, q.Operation, q.Class, q.ToolMaterial, q.Finish}
	keep := q.HardnessHBW == 0 && (q.Condition == "" || sh.condition(q.Condition) >= 0) &&
		(known || q.Class == "") && len(q.ToolMaterial) <= 3
	if keep {
		if choice, ok := sh.chosenStarting.get(key); ok {
			return choice
		}
	}
	choice := sh.chooseStarting(key, sh.hardness(hardness{q.HardnessHBW, q.OrHarder}, q.Condition), &s.pools)
	if keep && choice.Served != nil {
		sh.chosenStarting.put(key, choice)
	}
	return choice
}

func (sh *shelf) chooseStarting(q startingKey, h hardness, p *pools) cut.StartingChoice {
	var fits []suited
	for r := range sh.startingFor(q.operation) {
		if f, ok := suit(r, q, h); ok {
			fits = append(fits, f)
		}
	}
	slices.SortFunc(fits, suited.compare)
	if len(fits) == 0 {
		return cut.StartingChoice{}
	}
	var choice cut.StartingChoice
	for len(fits) > 0 && fits[0].Unsafe() {
		choice.Withdrawn, fits = fits[0].Starting, fits[1:]
	}
	if len(fits) == 0 {
		return choice
	}
	choice.Served, choice.FallBack, choice.SpreadRatio = fits[0].Starting, widths[fits[0].width], p.speed.SpreadRatio
	for _, f := range fits[1:] {
		if f.Unsafe() {
			continue
		}
		if f.other == 0 && f.hardness == 0 {
			choice.Competing = append(choice.Competing, f.Starting)
		}
	}
	choice.Competing = slices.Clip(choice.Competing)
	return choice
}

// suit says how well a record fits, and whether it applies at all.
func suit(r startingOn, q startingKey, h hardness) (suited, bool) {
	f := suited{startingOn: r, basis: startingBasisOrder(r.Basis)}
	if !r.Speed.Known() || !r.Feed.Known() && !feedIsPitch[q.operation] {
		f.whole = 1
	}
	switch {
	case len(r.Classes) == 0:
		f.class = 1
	case q.class != "" && !slices.Contains(r.Classes, q.class):
		return f, false
	}
	switch r.ToolMaterial {
	case q.tool:
	case "":
		f.tool = 1
	default:
		return f, false
	}
	switch r.Condition {
	case q.condition:
	case "":
		f.condition = 1
	default:
		f.other = 1
	}
	away := h.outside(r.Hardness.Low.Or(0), r.Hardness.High.Or(0))
	switch {
	case away > noNumberRatio:
		return f, false
	case away > 1.25:
		f.hardness = 2
	case away > 1:
		f.hardness = 1
	}
	if r.Basis == domain.Shop {
		f.shop = -1
	}
	f.kind = kindOrder(r.Kind, q.finish)
	return f, true
}

// feedIsPitch are the operations whose feed is the pitch of the thread.
var feedIsPitch = map[string]bool{"tapping": true, "thread-forming": true, "thread-turning": true}

// kindOrder ranks the kinds of cut: a finishing cut takes finishing values, any
// other cut those that are not for finishing.
func kindOrder(kind string, finish bool) int {
	switch {
	case finish && kind == "finish", !finish && kind != "finish":
		return 0
	case finish && kind != "rough":
		return 1
	}
	return 2
}

func (f suited) compare(g suited) int {
	return cmp.Or(f.whole-g.whole, f.class-g.class, f.tool-g.tool, f.other-g.other, f.hardness-g.hardness, f.shop-g.shop,
		f.width-g.width, f.condition-g.condition, f.kind-g.kind, f.basis-g.basis, f.Rank-g.Rank, strings.Compare(f.ID, g.ID))
}

// startingBasisOrder ranks what stands behind a starting value.
func startingBasisOrder(b domain.Basis) int {
	return slices.Index([]domain.Basis{domain.Shop, domain.Published, domain.Recalled, domain.Derived, domain.CommonPractice, domain.Demo}, b)
}
