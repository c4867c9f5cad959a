package db

import (
	"fmt"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

type sourceRow struct {
	ID       string `json:"id"`
	Author   string `json:"author"`
	Title    string `json:"title"`
	Year     string `json:"year"`
	Place    string `json:"place"`
	Address  string `json:"address"`
	Kind     string `json:"kind"`
	Access   string `json:"access"`
	Note     string `json:"note"`
	Reviewed string `json:"reviewed"`
	Revision int64  `json:"revision"`
}

type materialRow struct {
	ID            string         `json:"id"`
	Name          string         `json:"name"`
	Group         material.Group `json:"iso_group"`
	Subgroup      string         `json:"subgroup"`
	GroundEdgeMM  unit.Opt       `json:"minimum_chip_ground_edge_mm"`
	HonedInsertMM unit.Opt       `json:"minimum_chip_honed_insert_mm"`
	Cautions      list           `json:"cautions"`
	Note          string         `json:"note"`
}

type designationRow struct {
	MaterialID string `json:"material_id"`
	Position   int    `json:"position"`
	Standard   string `json:"standard"`
	Value      string `json:"value"`
}

type conditionRow struct {
	MaterialID string         `json:"material_id"`
	Position   int            `json:"position"`
	Name       string         `json:"name"`
	Low        unit.Opt       `json:"hardness_low"`
	High       unit.Opt       `json:"hardness_high"`
	Scale      material.Scale `json:"hardness_scale"`
	RecordID   string         `json:"record_id"`
	provenanceRow
}

type propertyRow struct {
	MaterialID string  `json:"material_id"`
	Position   int     `json:"position"`
	Name       string  `json:"name"`
	Quantity   string  `json:"quantity"`
	Value      float64 `json:"value"`
	RecordID   string  `json:"record_id"`
	provenanceRow
}

type hardnessRow struct {
	Position               int      `json:"position"`
	HV                     unit.Opt `json:"hv"`
	HBW                    unit.Opt `json:"hbw"`
	HRC                    unit.Opt `json:"hrc"`
	HRB                    unit.Opt `json:"hrb"`
	TensileStrengthNPerMM2 unit.Opt `json:"tensile_strength_n_per_mm2"`
	SourceID               string   `json:"source_id"`
}

func provenanceOf(p material.Provenance) provenanceRow {
	return provenanceRow{Basis: p.Basis, SourceID: p.Source, Place: p.Place, Note: p.Note}
}

func (p provenanceRow) provenance(id string) material.Provenance {
	return material.Provenance{ID: id, Basis: p.Basis, Source: p.SourceID, Place: p.Place, Note: p.Note}
}

func (r *rows) addSource(s domain.Source) {
	r.sources = append(r.sources, sourceRow(s))
}

// addMaterial adds a grade with what belongs to it; records come by themselves.
func (r *rows) addMaterial(m *material.Material) error {
	if len(m.Force)+len(m.Starting)+len(m.Life) > 0 {
		return fmt.Errorf("material %s: its records belong beside it, with their scope", m.ID)
	}
	r.materials = append(r.materials, materialRow{
		ID: m.ID, Name: m.Name, Group: m.Group, Subgroup: m.Subgroup,
		GroundEdgeMM: m.MinimumChip.GroundEdgeMM, HonedInsertMM: m.MinimumChip.HonedInsertMM,
		Cautions: m.Cautions, Note: m.Note,
	})
	for i, d := range m.Designations {
		r.designations = append(r.designations, designationRow{
			MaterialID: m.ID, Position: i + 1, Standard: d.Standard, Value: d.Value,
		})
	}
	for i, c := range m.Conditions {
		r.conditions = append(r.conditions, conditionRow{
			MaterialID: m.ID, Position: i + 1, Name: c.Name,
			Low: present(c.Hardness.Low), High: present(c.Hardness.High), Scale: c.Hardness.Scale,
			RecordID: c.ID, provenanceRow: provenanceOf(c.Provenance),
		})
	}
	for i, p := range m.Physical {
		if p.Quantity != p.Value.Quantity {
			return fmt.Errorf("material %s, %s: a value of %s where %s belongs", m.ID, p.Name, p.Value.Quantity.Name(), p.Quantity.Name())
		}
		r.properties = append(r.properties, propertyRow{
			MaterialID: m.ID, Position: i + 1, Name: p.Name, Quantity: p.Quantity.Name(), Value: p.Value.Amount,
			RecordID: p.ID, provenanceRow: provenanceOf(p.Provenance),
		})
	}
	return nil
}

func (r *rows) addHardness(h material.HardnessRow) {
	r.hardness = append(r.hardness, hardnessRow{
		Position: len(r.hardness) + 1,
		HV:       present(h.HV), HBW: present(h.HBW), HRC: present(h.HRC), HRB: present(h.HRB),
		TensileStrengthNPerMM2: present(h.TensileStrengthNPerMM2), SourceID: h.Source,
	})
}

func (x hardnessRow) row() material.HardnessRow {
	return material.HardnessRow{HV: x.HV.V, HBW: x.HBW.V, HRC: x.HRC.V, HRB: x.HRB.V,
		TensileStrengthNPerMM2: x.TensileStrengthNPerMM2.V, Source: x.SourceID}
}

// materialList puts the grades together again.
func (r *rows) materialList() ([]material.Material, error) {
	list := make([]material.Material, 0, len(r.materials))
	at := make(map[string]int, len(r.materials))
	for _, x := range r.materials {
		at[x.ID] = len(list)
		list = append(list, material.Material{
			ID: x.ID, Name: x.Name, Group: x.Group, Subgroup: x.Subgroup,
			MinimumChip: material.MinimumChip{GroundEdgeMM: x.GroundEdgeMM, HonedInsertMM: x.HonedInsertMM},
			Cautions:    x.Cautions.entries(), Note: x.Note,
		})
	}
	of := func(id string) (*material.Material, error) {
		i, there := at[id]
		if !there {
			return nil, fmt.Errorf("material %s: something belongs to it, and it is not there", id)
		}
		return &list[i], nil
	}
	for _, x := range r.designations {
		m, err := of(x.MaterialID)
		if err != nil {
			return nil, err
		}
		m.Designations = append(m.Designations, material.Designation{Standard: x.Standard, Value: x.Value})
	}
	for _, x := range r.conditions {
		m, err := of(x.MaterialID)
		if err != nil {
			return nil, err
		}
		m.Conditions = append(m.Conditions, material.Condition{
			Name:       x.Name,
			Hardness:   material.HardnessRange{Low: x.Low.V, High: x.High.V, Scale: x.Scale},
			Provenance: x.provenance(x.RecordID),
		})
	}
	for _, x := range r.properties {
		m, err := of(x.MaterialID)
		if err != nil {
			return nil, err
		}
		quantity, known := unit.Named(x.Quantity)
		if !known {
			return nil, fmt.Errorf("material %s, %s: quantity %q is not known", x.MaterialID, x.Name, x.Quantity)
		}
		m.Physical = append(m.Physical, material.Property{
			Name: x.Name, Quantity: quantity,
			Value:      unit.Measure{Amount: x.Value, Quantity: quantity},
			Provenance: x.provenance(x.RecordID),
		})
	}
	return list, nil
}
