package smell

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain/catalog"
	"swarf/domain/material"
)

// designations finds names that point to several grades: in a standard that cannot be;
// common words may be ambiguous on purpose, and callers are shown the candidates.
func designations(b *book) {
	type use struct {
		m *material.Material
		d material.Designation
	}
	uses := map[string][]use{}
	for i := range b.Materials {
		m := &b.Materials[i]
		if len(m.Designations) == 0 {
			b.found(Warning, "material", m.ID, "the grade has no designation")
		}
		for _, d := range m.Designations {
			b.row()
			key := catalog.Key(d.Value)
			b.failIf(key == "", "designation", name(m, d), "%q has neither letter nor digit", d.Value)
			uses[key] = append(uses[key], use{m, d})
		}
	}
	for _, of := range uses {
		var ids, formal []string
		for _, u := range of {
			if !slices.Contains(ids, u.m.ID) {
				ids = append(ids, u.m.ID)
			}
			if u.d.Standard != "common" && !slices.Contains(formal, u.m.ID) {
				formal = append(formal, u.m.ID)
			}
		}
		slices.Sort(ids)
		slices.Sort(formal)
		last := of[len(of)-1]
		switch {
		case len(formal) > 1:
			b.found(Error, "designation", name(last.m, last.d), "%s stands in its standard for %s", last.d.Value, strings.Join(formal, " and "))
		case len(ids) > 1:
			b.found(Note, "designation", name(last.m, last.d), "%s is ambiguous on purpose: %s", last.d.Value, strings.Join(ids, ", "))
		}
	}
	slices.SortFunc(b.now.Findings, func(x, y Finding) int { return cmp.Or(int(y.Level)-int(x.Level), strings.Compare(x.ID, y.ID)) })
}

// name is the id of a designation.
func name(m *material.Material, d material.Designation) string {
	return m.ID + " " + d.Standard + " " + d.Value
}

// softStates are conditions between which hardness runs on without a gap. Between an
// annealed and an aged alloy, or a quenched and a hardened steel, lies nothing. Common
// practice, no source.
var softStates = []string{"annealed", "as-rolled", "normalised", "cold-worked", "quenched-and-tempered", "as-cast"}

// conditions checks the hardness ranges of each grade. Precipitation-hardening steels
// are apart: solution annealed martensite is as hard as overaged, so hardness does not
// tell them apart. Plastics have no hardness on the scales of metals.
func conditions(b *book) {
	for i := range b.Materials {
		m := &b.Materials[i]
		b.failIf(len(m.Conditions) == 0, "material", m.ID, "no condition")
		sorted := slices.Clone(m.Conditions)
		slices.SortStableFunc(sorted, func(x, y material.Condition) int {
			return cmp.Or(strings.Compare(string(y.Hardness.Scale), string(x.Hardness.Scale)), cmp.Compare(x.Hardness.Low, y.Hardness.Low))
		})
		for j, c := range sorted {
			b.row()
			r := c.Hardness
			if m.Group == material.O {
				b.failIf(r.High != 0, "condition", c.ID, "a plastic has no hardness on the scales of metals")
				continue
			}
			window := windows[r.Scale]
			b.failIf(!(r.Low >= window[0] && r.High <= window[1] && r.Low < r.High), "condition", c.ID, "hardness %v to %v %s is none: %v to %v, low below high", r.Low, r.High, r.Scale, window[0], window[1])
			if j == 0 || sorted[j-1].Hardness.Scale != r.Scale || m.Subgroup == "precipitation-hardening" {
				continue
			}
			before := sorted[j-1]
			b.failIf(before.Hardness.High > r.Low, "condition", c.ID, "%s and %s of %s overlap: %v is above %v %s", before.Name, c.Name, m.ID, before.Hardness.High, r.Low, r.Scale)
			gap := slices.Contains(softStates, before.Name) && slices.Contains(softStates, c.Name) && before.Hardness.High < r.Low
			b.failIf(gap, "condition", c.ID, "gap between %s and %s of %s: %v to %v %s", before.Name, c.Name, m.ID, before.Hardness.High, r.Low, r.Scale)
		}
	}
}

// windows are what each scale can mean for a metal. Common practice, no source.
var windows = map[material.Scale][2]float64{material.HBW: {10, 650}, material.HRC: {20, 70}, material.HRB: {10, 105}, material.HV: {10, 1200}}

// grades checks what follows from the metal.
func grades(b *book) {
	for i := range b.Materials {
		m := &b.Materials[i]
		b.row()
		fail := func(bad bool, text string) { b.failIf(bad, "material", m.ID, "%s", text) }
		inP := strings.HasPrefix(m.Subgroup, "stainless-") || m.Subgroup == "precipitation-hardening"
		fail(inP && m.Group != material.P, m.Subgroup+" stands in P by ISO 513:2012, not in "+string(m.Group))
		inM := m.Subgroup == material.Austenitic || m.Subgroup == material.Duplex
		fail(inM != (m.Group == material.M), m.Subgroup+" does not go with group "+string(m.Group))
		burns := m.IsMagnesium() || m.Subgroup == material.Titanium || m.Subgroup == "zirconium"
		fail(slices.Contains(m.Cautions, "combustible-fines") != burns, "combustible-fines belongs to magnesium, titanium and zirconium and to nothing else")
		poison := strings.Contains(m.ID, "pb") || strings.Contains(m.ID, "cube") || m.Subgroup == material.Cobalt
		fail(poison && !slices.Contains(m.Cautions, "hazardous-dust"), "lead, beryllium and cobalt carry hazardous-dust")
		chip := m.MinimumChip
		fail(m.IsMagnesium() && (chip.GroundEdgeMM.V < 0.05 || chip.HonedInsertMM.V < 0.05), "a chip of magnesium is never planned under 0.05 mm")
		fail(chip.GroundEdgeMM.OK && chip.GroundEdgeMM.V <= 0 || chip.HonedInsertMM.OK && chip.HonedInsertMM.V <= 0, "a least chip is above zero")
	}
}

// solids are the limits between which a solid's property lies. Common practice, no source.
var solids = map[string][2]float64{"density": {0.8, 22.7}, "thermal_conductivity": {0.1, 430}, "specific_heat": {120, 2500},
	"elastic_modulus": {0.1, 460}, "thermal_expansion": {1, 200}}

// densities are the limits by group, g/cm3. Common practice, no source.
var densities = map[material.Group][2]float64{material.P: {7, 8.2}, material.M: {7, 8.2}, material.K: {7, 8.2}, material.O: {0.85, 2.3}}

func physical(b *book) {
	for i := range b.Materials {
		m := &b.Materials[i]
		seen := map[string]bool{}
		for _, p := range m.Physical {
			b.row()
			b.failIf(seen[p.Name], "physical", p.ID, "%s has %s twice", m.ID, p.Name)
			seen[p.Name] = true
			span, there := solids[p.Name]
			b.failIf(!there, "physical", p.ID, "no property %s", p.Name)
			b.failIf(there && !(p.Value.Amount >= span[0] && p.Value.Amount <= span[1]), "physical", p.ID, "%s %v is no solid's: %v to %v", p.Name, p.Value.Amount, span[0], span[1])
			if of, there := densities[m.Group]; there && p.Name == "density" {
				b.failIf(p.Value.Amount < of[0] || p.Value.Amount > of[1], "physical", p.ID, "density %v does not go with group %s: %v to %v g/cm3", p.Value.Amount, m.Group, of[0], of[1])
			}
		}
	}
}
