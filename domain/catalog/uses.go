package catalog

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/material"
)

// SourceUse is one record that rests on a source.
type SourceUse struct {
	Kind  string // condition, physical, force_data, starting_values, life_data
	ID    string
	Scope material.Scope
	Basis domain.Basis
	Place string
}

// use is where a record stands that rests on a source: a condition or property of a
// grade, or a record of its own.
type use struct {
	kind useKind
	at   int32
	of   int32 // which condition or property
}

type useKind uint8

const (
	conditionUse useKind = iota
	physicalUse
	forceUse
	startingUse
	lifeUse
)

var useNames = [...]string{"condition", "physical", "force_data", "starting_values", "life_data"}

// SourceUses lists the records that rest on a source: conditions and properties by
// grade in the order of the data, then records by kind and id.
func (s *Snapshot) SourceUses(id string) []SourceUse {
	uses := make([]SourceUse, len(s.uses[id]))
	for i, u := range s.uses[id] {
		p, scope := s.data.used(u)
		uses[i] = SourceUse{Kind: useNames[u.kind], ID: p.ID, Scope: scope, Basis: p.Basis, Place: p.Place}
	}
	first := slices.IndexFunc(s.uses[id], func(u use) bool { return u.kind >= forceUse })
	if first >= 0 {
		slices.SortStableFunc(uses[first:], func(a, b SourceUse) int {
			return cmp.Or(slices.Index(useNames[:], a.Kind)-slices.Index(useNames[:], b.Kind), strings.Compare(a.ID, b.ID))
		})
	}
	return uses
}

// used finds the record that a use is about.
func (d *Data) used(u use) (*material.Provenance, material.Scope) {
	switch u.kind {
	case forceUse:
		return &d.Force[u.at].Provenance, d.Force[u.at].Scope
	case startingUse:
		return &d.Starting[u.at].Provenance, d.Starting[u.at].Scope
	case lifeUse:
		return &d.Life[u.at].Provenance, d.Life[u.at].Scope
	}
	m := &d.Materials[u.at]
	own := material.Scope{Level: materialLevel, Key: m.ID}
	if u.kind == conditionUse {
		return &m.Conditions[u.of].Provenance, own
	}
	return &m.Physical[u.of].Provenance, own
}

func usesOf(d *Data) map[string][]use {
	uses := map[string][]use{}
	add := func(source string, kind useKind, at, of int) {
		uses[source] = append(uses[source], use{kind, int32(at), int32(of)}) // #nosec G115 -- places in lists that fit into memory many times over
	}
	for i := range d.Materials {
		m := &d.Materials[i]
		for j := range m.Conditions {
			add(m.Conditions[j].Source, conditionUse, i, j)
		}
		for j := range m.Physical {
			add(m.Physical[j].Source, physicalUse, i, j)
		}
	}
	for i := range d.Force {
		add(d.Force[i].Source, forceUse, i, 0)
	}
	for i := range d.Starting {
		add(d.Starting[i].Source, startingUse, i, 0)
	}
	for i := range d.Life {
		add(d.Life[i].Source, lifeUse, i, 0)
	}
	for source := range uses {
		uses[source] = slices.Clone(uses[source]) // no larger than it must be
	}
	return uses
}
