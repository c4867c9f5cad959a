package data

import (
	"swarf/domain"
	"swarf/domain/material"
)

// bases are what may stand behind a shipped number: what is invented or a shop's
// own is no reference data.
var bases = []string{string(domain.Published), string(domain.Recalled), string(domain.CommonPractice), string(domain.Derived)}

// provenance reads the columns id, basis, source, place and note. A published
// number without its place in the source is a fault.
func provenance(r *Row) material.Provenance {
	p := material.Provenance{
		ID:     r.Unique("id"),
		Basis:  domain.Basis(r.OneOf("basis", bases...)),
		Source: r.Need("source"),
		Place:  r.Text("place"),
		Note:   r.Text("note"),
	}
	if p.Basis == domain.Published && p.Place == "" {
		r.Fail("place", "a published number needs its place in the source")
	}
	return p
}
