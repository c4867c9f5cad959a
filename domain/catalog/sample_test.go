package catalog

import (
	"testing"

	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// The data of these tests is invented: round numbers that tell records apart.

func about(id string, basis domain.Basis) material.Provenance {
	return material.Provenance{ID: id, Basis: basis, Source: "book", Place: "p. 1"}
}

func of(key string) material.Scope         { return material.Scope{Level: "material", Key: key} }
func ofSubgroup(key string) material.Scope { return material.Scope{Level: "subgroup", Key: key} }
func ofGroup(key string) material.Scope    { return material.Scope{Level: "group", Key: key} }

func band(low, high float64) domain.Range {
	return domain.Range{Low: unit.Some(low), High: unit.Some(high)}
}

// pair is a Kienzle record measured in turning.
func pair(p material.Provenance, scope material.Scope, kc float64) material.Force {
	return material.Force{Provenance: p, Scope: scope, Process: "turning", Method: material.Kienzle, Family: "six",
		SpecificCuttingForce11NPerMM2: unit.Some(kc), ChipThicknessExp: unit.Some(0.25)}
}

// energy is a unit-power record for a band of hardness.
func energy(p material.Provenance, scope material.Scope, hbw domain.Range) material.Force {
	return material.Force{Provenance: p, Scope: scope, Process: "turning", Method: material.UnitPower, EnergyJPerMM3: unit.Some(2.5), Hardness: hbw}
}

// start is a whole starting-value record for drilling.
func start(p material.Provenance, scope material.Scope, toolMaterial string, classes ...string) material.Starting {
	return material.Starting{Provenance: p, Scope: scope, Operations: []string{"drilling"}, Classes: classes, ToolMaterial: toolMaterial,
		Kind: "general", Speed: band(20, 30), FeedKind: material.PerRevolution, Feed: band(0.1, 0.2)}
}

func steel(id, name string, group material.Group, subgroup string, designations ...material.Designation) material.Material {
	return material.Material{ID: id, Name: name, Group: group, Subgroup: subgroup, Designations: designations, Revision: 1,
		Conditions: []material.Condition{
			{Name: "annealed", Hardness: material.HardnessRange{Low: 150, High: 210, Scale: material.HBW}, Provenance: about("cond-"+id+"-annealed", domain.Recalled)},
			{Name: "cold-worked", Hardness: material.HardnessRange{Low: 20, High: 30, Scale: material.HRC}, Provenance: about("cond-"+id+"-cold", domain.Recalled)},
		}}
}

func en(value string) material.Designation {
	return material.Designation{Standard: "EN name", Value: value}
}
func number(value string) material.Designation {
	return material.Designation{Standard: "EN number", Value: value}
}
func aisi(value string) material.Designation {
	return material.Designation{Standard: "AISI/SAE", Value: value}
}
func uns(value string) material.Designation {
	return material.Designation{Standard: "UNS", Value: value}
}
func jis(value string) material.Designation {
	return material.Designation{Standard: "JIS", Value: value}
}
func common(value string) material.Designation {
	return material.Designation{Standard: "common", Value: value}
}

func sample() Data {
	return Data{
		Revision: 3,
		Sources:  []domain.Source{{ID: "book", Title: "A book"}, {ID: "another", Title: "Another"}},
		Materials: []material.Material{
			steel("x5crni18-10", "X5CrNi18-10 (304) austenitic stainless steel", material.M, "austenitic",
				uns("S30400"), number("1.4301"), en("X5CrNi18-10"), aisi("304"), jis("SUS304"), common("V2A")),
			steel("x2crni18-9", "X2CrNi18-9 (304L) austenitic stainless steel", material.M, "austenitic",
				uns("S30403"), number("1.4307"), en("X2CrNi18-9"), aisi("304L"), common("V2A")),
			steel("x5crnimo17-12-2", "X5CrNiMo17-12-2 (316) austenitic stainless steel", material.M, "austenitic",
				uns("S31600"), number("1.4401"), en("X5CrNiMo17-12-2"), aisi("316"), jis("SUS316")),
			steel("x2crnimo17-12-2", "X2CrNiMo17-12-2 (316L) austenitic stainless steel", material.M, "austenitic",
				uns("S31603"), number("1.4404"), en("X2CrNiMo17-12-2"), aisi("316L")),
			steel("x6crnimoti17-12-2", "X6CrNiMoTi17-12-2 (316Ti) austenitic stainless steel", material.M, "austenitic",
				uns("S31635"), number("1.4571"), en("X6CrNiMoTi17-12-2"), aisi("316Ti")),
			steel("x6cr17", "X6Cr17 (430) ferritic stainless steel", material.P, "stainless-ferritic", aisi("430"), number("1.4016")),
			steel("c45e", "C45E carbon steel", material.P, "carbon", number("1.1191"), en("C45E"), aisi("1045"), common("C45")),
			steel("en-gjl-250", "EN-GJL-250 grey cast iron", material.K, "grey-iron", en("EN-GJL-250"), common("GG25")),
			steel("en-aw-6061", "EN AW-6061 aluminium-magnesium-silicon alloy", material.N, "aluminium", number("EN AW-6061"), uns("A96061"), common("AA6061")),
			steel("nicr19fe19nb5mo3", "NiCr19Fe19Nb5Mo3 (alloy 718) nickel alloy", material.S, "nickel", uns("N07718"), number("2.4668"), common("Inconel 718")),
			steel("titanium-grade-2", "Titanium grade 2", material.S, "titanium", uns("R50400")),
		},
		Classes: []tool.Class{
			{ID: "drill-solid-carbide", Operations: []string{"drilling"}, ToolMaterial: "HC"},
			{ID: "drill-twist-hss", Operations: []string{"drilling"}, ToolMaterial: "HSS"},
		},
		Machines: []machine.Machine{{ID: "vmc-50"}, {ID: "lathe-a"}},
		// Rows of DIN 50150 / ISO 18265 table A.1 and, above 650 HV, of ASTM E140.
		Hardness: []material.HardnessRow{
			{HV: 200, HBW: 190, HRB: 91.5, Source: "book"}, {HV: 255, HBW: 242, HRC: 23.1, Source: "book"},
			{HV: 300, HBW: 285, HRC: 29.8, Source: "book"}, {HV: 400, HBW: 380, HRC: 40.8, Source: "book"},
			{HV: 650, HBW: 618, HRC: 57.8, Source: "book"}, {HV: 697, HRC: 60, Source: "book"}, {HV: 940, HRC: 68, Source: "book"},
		},
	}
}

func snapshot(t testing.TB, d Data) *Snapshot {
	t.Helper()
	s, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
