package catalog

import (
	"fmt"
	"strings"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// many invents a catalogue of a size that no shop has: n grades of four designations,
// with two force records and two starting values each, beside what the subgroups and
// groups have. Every text is a string of its own, as rows of a database are.
func many(n int) Data {
	d := sample()
	d.Materials, d.Hardness = make([]material.Material, n), sample().Hardness
	d.Force, d.Starting = make([]material.Force, 0, 2*n+64), make([]material.Starting, 0, 2*n+64)
	for i := range n {
		kind := manyKinds[i%len(manyKinds)]
		m := &d.Materials[i]
		*m = material.Material{
			ID: fmt.Sprintf("grade-%06d", i), Name: fmt.Sprintf("X%dCrNi%d-%d %s %d", i%997, i/997, i%13, kind.name, i),
			Group: kind.group, Subgroup: strings.Clone(kind.subgroup), Revision: 1,
			Designations: []material.Designation{
				uns(fmt.Sprintf("%c%05d", "SNRGAC"[i/100_000%6], i%100_000)), number(fmt.Sprintf("%d.%05d", 1+i/100_000, i%100_000)),
				en(fmt.Sprintf("X%dCrNi%d-%d", i%997, i/997, i%13)), common(fmt.Sprintf("Alloy %dK", i)),
			},
			Conditions: []material.Condition{{Name: "annealed", Hardness: material.HardnessRange{Low: 150, High: 210, Scale: material.HBW},
				Provenance: provided(fmt.Sprintf("cond-%06d", i))}},
		}
		for j := range 2 {
			f := pair(provided(fmt.Sprintf("force-%06d-%d", i, j)), of(strings.Clone(m.ID)), 1500+float64((i*7+j)%1500))
			f.Process, f.ChipThickness = []string{"turning", "milling"}[j], band(0.05, 1)
			f.ReferenceRakeDeg, f.Hardness = unit.Some(6), band(140, 220)
			s := start(provided(fmt.Sprintf("start-%06d-%d", i, j)), of(strings.Clone(m.ID)), "HC", "drill-solid-carbide")
			s.Operations = [][]string{{"drilling"}, {"turning", "facing"}}[j]
			if j == 1 {
				s.Classes = nil
			}
			d.Force, d.Starting = append(d.Force, f), append(d.Starting, s)
		}
	}
	for _, kind := range manyKinds {
		key := string(kind.group) + "/" + kind.subgroup
		for j := range 4 {
			d.Force = append(d.Force, pair(provided(fmt.Sprintf("sub-%s-%d", key, j)), ofSubgroup(key), 2000))
			d.Starting = append(d.Starting, start(provided(fmt.Sprintf("start-%s-%d", key, j)), ofSubgroup(key), "HC", "drill-solid-carbide"))
		}
	}
	return d
}

// manyKinds are the kinds of metal that many goes round.
var manyKinds = []struct {
	group          material.Group
	subgroup, name string
}{
	{material.P, "alloy", "heat-treatable steel"}, {material.M, "austenitic", "austenitic stainless steel"}, {material.K, "ductile-iron", "ductile cast iron"},
	{material.N, "aluminium", "aluminium alloy"}, {material.S, "nickel", "nickel alloy"}, {material.P, "tool", "tool steel"},
}

// provided is the provenance of a row as it comes from a database.
func provided(id string) material.Provenance {
	return material.Provenance{ID: id, Basis: domain.Recalled, Source: strings.Clone("book"), Place: fmt.Sprintf("p. %d", len(id)), Note: "of no metal: " + id}
}
