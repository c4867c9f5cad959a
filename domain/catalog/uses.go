package catalog

import (
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

// SourceUses lists the records that rest on a source, in the order of the data.
func (s *Snapshot) SourceUses(id string) []SourceUse { return s.uses[id] }

func usesOf(d *Data) map[string][]SourceUse {
	uses := map[string][]SourceUse{}
	add := func(kind string, p *material.Provenance, scope material.Scope) {
		uses[p.Source] = append(uses[p.Source], SourceUse{Kind: kind, ID: p.ID, Scope: scope, Basis: p.Basis, Place: p.Place})
	}
	for i := range d.Materials {
		m := &d.Materials[i]
		own := material.Scope{Level: materialLevel, Key: m.ID}
		for j := range m.Conditions {
			add("condition", &m.Conditions[j].Provenance, own)
		}
		for j := range m.Physical {
			add("physical", &m.Physical[j].Provenance, own)
		}
	}
	for i := range d.Force {
		add("force_data", &d.Force[i].Provenance, d.Force[i].Scope)
	}
	for i := range d.Starting {
		add("starting_values", &d.Starting[i].Provenance, d.Starting[i].Scope)
	}
	for i := range d.Life {
		add("life_data", &d.Life[i].Provenance, d.Life[i].Scope)
	}
	return uses
}
