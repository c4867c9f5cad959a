package catalog

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
)

// LifeQuery asks for the life of an edge in a grade, or in a subgroup or group.
type LifeQuery struct {
	Grade        *material.Material // else Group and Subgroup
	Group        material.Group
	Subgroup     string
	Process      string // turning, milling, drilling
	ToolMaterial string // empty: the class's
	Class        string
}

type lifeKey struct{ process, tool string }

// lifeOn is a record with how far its scope is from the shelf.
type lifeOn struct {
	*material.Life
	width int
}

// ChooseLife picks the record that serves and those that compete with it: shop records
// first, then the grade's own before its subgroup's and its group's, tests of the very
// process before general ones, then by basis and id. An edge of another material, or
// tested in another process, lasts otherwise: no record serves for it, nor one without C.
func (s *Snapshot) ChooseLife(q LifeQuery) cut.LifeChoice {
	sh := s.shelf(q.Grade, q.Group, q.Subgroup)
	if q.ToolMaterial == "" {
		if class, ok := s.Class(q.Class); ok {
			q.ToolMaterial = class.ToolMaterial
		}
	}
	if len(q.ToolMaterial) > 3 {
		return cut.LifeChoice{}
	}
	key := lifeKey{q.Process, q.ToolMaterial}
	if choice, ok := sh.chosenLife.get(key); ok {
		return choice
	}
	choice := sh.chooseLife(key)
	if processes[q.Process] && (choice.Served != nil || choice.Withdrawn != nil) {
		sh.chosenLife.put(key, choice)
	}
	return choice
}

func (sh *shelf) chooseLife(q lifeKey) cut.LifeChoice {
	var fits []lifeOn
	for r := range sh.allLife {
		if r.ToolMaterial == q.tool && (r.Process == q.process || r.Process == "general") && r.TaylorSpeedMPerMin.OK && r.TaylorExp.OK {
			fits = append(fits, r)
		}
	}
	order := func(r lifeOn) []int {
		shop, process := 0, 0
		if r.Basis == domain.Shop {
			shop = -1
		}
		if r.Process != q.process {
			process = 1
		}
		return []int{shop, r.width, process, basisOrder(r.Basis)}
	}
	slices.SortFunc(fits, func(a, b lifeOn) int { return cmp.Or(slices.Compare(order(a), order(b)), strings.Compare(a.ID, b.ID)) })
	var choice cut.LifeChoice
	for len(fits) > 0 && fits[0].Unsafe() {
		choice.Withdrawn, fits = fits[0].Life, fits[1:]
	}
	if len(fits) == 0 {
		return choice
	}
	choice.Served, choice.FallBack = fits[0].Life, widths[fits[0].width]
	for _, f := range fits[1:] {
		if !f.Unsafe() {
			choice.Competing = append(choice.Competing, f.Life)
		}
	}
	return choice
}
