package catalog

import (
	"slices"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// Reading is a hardness of a metal on one scale.
type Reading struct {
	Scale       material.Scale
	Value       float64
	Approximate bool // by a table that is made for another metal
	Basis       domain.Basis
	Sources     []string // ids
}

// Readings is a hardness, or a tensile strength, on every scale that a table on file
// reads for the metal, with what cannot be read and why.
type Readings struct {
	By                     material.Conversion
	Read                   []Reading
	TensileStrengthNPerMM2 unit.Opt
	Unread                 []domain.Unchecked
}

// plateSource is where the relation for annealed austenitic plate is from.
const plateSource = "astm-e140"

// Convert reads a hardness of a grade on the other scales and as tensile strength. Where
// only a tensile strength is given it is read as hardness. Nothing is extrapolated, and no
// strength is read of a metal that the table is not made for.
func (s *Snapshot) Convert(m *material.Material, h *material.Hardness, tensileNPerMM2 *float64) Readings {
	out := Readings{By: material.ConversionOf(m.Group, m.Subgroup)}
	miss := func(what string, err error) {
		out.Unread = append(out.Unread, domain.Unchecked{Check: what, Needs: domain.Faults(err)[0].Msg})
	}
	fromTensile := false
	if h == nil && tensileNPerMM2 != nil {
		read, err := s.hardness.OfTensile(*tensileNPerMM2)
		if out.By != material.OfSteel {
			err = noTable("tensile strength", m)
		}
		if err != nil {
			miss("hardness", err)
			return out
		}
		h, out.TensileStrengthNPerMM2, fromTensile = &read, unit.Some(*tensileNPerMM2), true
	}
	if h == nil {
		return out
	}
	for _, scale := range material.Scales {
		r, err := s.reading(m, out.By, *h, scale)
		if err != nil {
			miss(string(scale), err)
			continue
		}
		if fromTensile {
			r.Basis, r.Sources = domain.Published, s.hardnessSources()
		}
		out.Read = append(out.Read, r)
	}
	switch strength, err := s.hardness.TensileNPerMM2(*h); {
	case out.TensileStrengthNPerMM2.OK:
	case out.By != material.OfSteel:
		miss("tensile_strength", noTable("hardness", m))
	case err != nil:
		miss("tensile_strength", err)
	default:
		out.TensileStrengthNPerMM2 = unit.Some(strength)
	}
	return out
}

// reading reads a hardness on one scale by the table the metal goes by.
func (s *Snapshot) reading(m *material.Material, by material.Conversion, h material.Hardness, on material.Scale) (Reading, error) {
	r := Reading{Scale: on, Value: h.Value, Basis: domain.Published, Sources: s.hardnessSources()}
	if h.Scale == on {
		r.Basis, r.Sources = domain.Request, nil
		return r, nil
	}
	if plate, err := material.AusteniticHBW(h); by == material.OfAustenitic && err == nil {
		if on != material.HBW {
			return r, noTable("hardness", m)
		}
		r.Value, r.Basis, r.Sources = plate, domain.Recalled, []string{plateSource}
		return r, nil
	}
	if by == material.NoTable {
		return r, noTable("hardness", m)
	}
	value, err := s.hardness.To(h, on)
	r.Value, r.Approximate = value, by != material.OfSteel
	return r, err
}

func noTable(what string, m *material.Material) error {
	kind := m.Subgroup
	if kind == material.Austenitic {
		kind = "austenitic steel"
	}
	return &domain.Error{Kind: domain.Invalid, Code: "value-out-of-range", Msg: "no table on file is made for the " + what + " of " + kind}
}

// hardnessSources are the sources of the conversion table, in its order.
func (s *Snapshot) hardnessSources() []string {
	var ids []string
	for i := range s.data.Hardness {
		if id := s.data.Hardness[i].Source; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// Read checks a hardness as it was sent, with its fields under a name.
func (h *HardnessQuery) Read(field string) (*material.Hardness, *domain.Error) { return h.read(field) }
