package data

import (
	"swarf/domain"
	"swarf/domain/material"
)

// provenance reads the columns id, basis, source, place and note, which every
// record has. A published number without its place in the source is a fault.
func provenance(r *Row) material.Provenance {
	p := material.Provenance{
		ID:     r.Unique("id"),
		Source: r.Need("source"),
		Place:  r.Text("place"),
		Note:   r.Text("note"),
	}
	p.Basis = domain.Basis(r.OneOf("basis", string(domain.Published), string(domain.Recalled),
		string(domain.CommonPractice), string(domain.Derived)))
	if p.Basis == domain.Published && p.Place == "" {
		r.Fail("place", "a published number needs its place in the source")
	}
	return p
}
