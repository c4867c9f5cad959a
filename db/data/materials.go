package data

import (
	"slices"

	"swarf/domain/material"
	"swarf/domain/unit"
)

// loadMaterials reads the grades from materials.csv and hangs on them their
// designations, conditions and physical properties, each from a file of its own.
func loadMaterials() ([]material.Material, error) {
	t, err := ReadTable(files, "materials.csv", "id", "name", "group", "subgroup",
		"minimum_chip_ground_edge_mm", "minimum_chip_honed_insert_mm", "cautions", "note")
	if err != nil {
		return nil, err
	}
	grades := make([]material.Material, len(t.Rows))
	byID := make(map[string]*material.Material, len(t.Rows))
	for i, r := range t.Rows {
		grades[i] = material.Material{
			ID:       r.Unique("id"),
			Name:     r.Unique("name"),
			Group:    material.Group(r.OneOf("group", "P", "M", "K", "N", "S", "H", "O")),
			Subgroup: r.Need("subgroup"),
			MinimumChip: material.MinimumChip{
				GroundEdgeMM:  r.Opt("minimum_chip_ground_edge_mm"),
				HonedInsertMM: r.Opt("minimum_chip_honed_insert_mm"),
			},
			Cautions: r.List("cautions"),
			Note:     r.Text("note"),
			Revision: 1,
		}
		for _, code := range grades[i].Cautions {
			if !slices.Contains(material.Cautions, code) {
				r.Fail("cautions", "%q is no finding that a grade carries", code)
			}
		}
		byID[grades[i].ID] = &grades[i]
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	for _, load := range []func(map[string]*material.Material) error{loadDesignations, loadConditions, loadPhysical} {
		if err := load(byID); err != nil {
			return nil, err
		}
	}
	return grades, nil
}

// grade finds the grade that a row is about.
func grade(r *Row, grades map[string]*material.Material) *material.Material {
	if m := grades[r.Need("material")]; m != nil {
		return m
	}
	r.Fail("material", "%q is no grade of materials.csv", r.Text("material"))
	return &material.Material{}
}

// loadDesignations reads what the grades are called.
func loadDesignations(grades map[string]*material.Material) error {
	t, err := ReadTable(files, "designations.csv", "material", "standard", "value", "source")
	if err != nil {
		return err
	}
	for _, r := range t.Rows {
		r.Need("source")
		m := grade(r, grades)
		m.Designations = append(m.Designations, material.Designation{
			Standard: r.OneOf("standard", material.Standards...),
			Value:    r.Need("value"),
		})
	}
	return t.Err()
}

// loadConditions reads the conditions, default first, with their hardness.
// Plastics have no hardness on the scales of metals: their range stays empty.
func loadConditions(grades map[string]*material.Material) error {
	t, err := ReadTable(files, "conditions.csv", "id", "material", "name", "hardness_low", "hardness_high",
		"hardness_scale", "basis", "source", "place", "note")
	if err != nil {
		return err
	}
	for _, r := range t.Rows {
		m := grade(r, grades)
		c := material.Condition{Name: r.Need("name"), Provenance: provenance(r)}
		span := r.Interval(unit.None, "hardness_low", "hardness_high")
		if span.Low.OK != span.High.OK || span.Low.OK == (m.Group == material.O) {
			r.Fail("hardness_low", "a metal needs both ends of its hardness, a plastic has none")
		}
		if span.Low.OK {
			c.Hardness = material.HardnessRange{Low: span.Low.V, High: span.High.V,
				Scale: material.Scale(r.OneOf("hardness_scale", string(material.HBW), string(material.HRC)))}
		}
		if _, twice := m.Condition(c.Name); twice {
			r.Fail("name", "%s has %q already", m.ID, c.Name)
		}
		m.Conditions = append(m.Conditions, c)
	}
	return t.Err()
}

// properties are the columns of physical.csv that hold numbers, and what they are called.
var properties = []struct{ column, name string }{
	{"density_g_per_cm3", "density"},
	{"thermal_conductivity_w_per_m_k", "thermal_conductivity"},
	{"specific_heat_j_per_kg_k", "specific_heat"},
	{"elastic_modulus_gpa", "elastic_modulus"},
	{"thermal_expansion_um_per_m_k", "thermal_expansion"},
}

// loadPhysical reads the physical properties: one row per grade and source, one
// property per cell that is not empty.
func loadPhysical(grades map[string]*material.Material) error {
	columns := []string{"id", "material", "basis", "source", "place", "note"}
	for _, p := range properties {
		columns = append(columns, p.column)
	}
	t, err := ReadTable(files, "physical.csv", columns...)
	if err != nil {
		return err
	}
	for _, r := range t.Rows {
		m, from := grade(r, grades), provenance(r)
		for _, p := range properties {
			value := r.Opt(p.column)
			if !value.OK {
				continue
			}
			one := from
			one.ID += "-" + p.name
			quantity, _ := material.PropertyQuantity(p.name)
			m.Physical = append(m.Physical, material.Property{Name: p.name, Quantity: quantity,
				Value: *unit.Of(quantity, value.V), Provenance: one})
		}
	}
	return t.Err()
}
