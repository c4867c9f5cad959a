// Package material describes work materials: what they are called, what condition
// they come in, and the records from which loads and starting values are taken.
package material

import (
	"swarf/domain"
	"swarf/domain/unit"
)

// Group is an ISO 513 letter, or O for materials that ISO 513 does not cover.
type Group string

// The groups.
const (
	P Group = "P" // steel, ferritic and martensitic stainless included
	M Group = "M" // austenitic and austenitic-ferritic stainless
	K Group = "K" // cast iron
	N Group = "N" // non-ferrous
	S Group = "S" // titanium, heat-resistant alloys
	H Group = "H" // hardened steel and iron
	O Group = "O" // others (plastics); no letter in ISO 513
)

// Groups lists the letters in the order of ISO 513.
var Groups = []Group{P, M, K, N, S, H, O}

// Subgroups with practice of their own. A material's Subgroup is free text; only
// these change what the service does.
const (
	Austenitic = "austenitic"
	Duplex     = "duplex"
	Titanium   = "titanium"
	Nickel     = "nickel"
	Cobalt     = "cobalt"
	IronBase   = "iron-base"
	Magnesium  = "magnesium"
	Aluminium  = "aluminium"
	GreyIron   = "grey-iron"
	Plastic    = "plastic"
)

// Material is one grade.
type Material struct {
	ID           string
	Name         string
	Group        Group
	Subgroup     string
	Designations []Designation
	Conditions   []Condition // the first is the default
	Physical     []Property
	Force        []Force
	Starting     []Starting
	Life         []Life
	MinimumChip  MinimumChip // zero where the record has none of its own
	Cautions     []string    // finding codes that always apply
	Note         string
	Revision     int64 // in which the grade or one of its records last changed
}

// Designation is a name of the grade in a standard.
type Designation struct {
	Standard string // UNS, EN number, EN name, AISI/SAE, JIS, DIN, common
	Value    string
}

// Condition is a delivery or heat-treatment state with its hardness range.
type Condition struct {
	Name     string // annealed, normalised, quenched-and-tempered, aged, cold-worked, as-cast …
	Hardness HardnessRange
	Provenance
}

// HardnessRange is a range on one scale.
type HardnessRange struct {
	Low, High float64
	Scale     Scale
}

// Property is one physical property with its source.
type Property struct {
	Name     string // density, thermal_conductivity, specific_heat, elastic_modulus, thermal_expansion
	Quantity unit.Quantity
	Value    unit.Measure
	Provenance
}

// Standards are the kinds of designation, in the order in which answers list them.
var Standards = []string{"UNS", "EN number", "EN name", "AISI/SAE", "JIS", "DIN", "common"}

// Cautions are the finding codes that a grade may carry.
var Cautions = []string{"combustible-fines", "hazardous-dust"}

// properties are the physical properties that a grade can have.
var properties = []struct {
	name     string
	quantity unit.Quantity
}{
	{"density", unit.Density}, {"thermal_conductivity", unit.Conductivity}, {"specific_heat", unit.SpecificHeat},
	{"elastic_modulus", unit.Modulus}, {"thermal_expansion", unit.Expansion},
}

// PropertyNames lists the physical properties that a grade can have.
func PropertyNames() []string {
	names := make([]string, len(properties))
	for i, p := range properties {
		names[i] = p.name
	}
	return names
}

// PropertyQuantity is what a physical property measures.
func PropertyQuantity(name string) (q unit.Quantity, known bool) {
	for _, p := range properties {
		if p.name == name {
			return p.quantity, true
		}
	}
	return unit.None, false
}

// MinimumChip is the least chip thickness by kind of edge; absent values follow practice.
type MinimumChip struct {
	GroundEdgeMM, HonedInsertMM unit.Opt
}

// Provenance is what every number carries.
type Provenance struct {
	ID     string // record id, stable
	Basis  domain.Basis
	Source string // source id
	Place  string // where in the source
	Note   string
	// Curation is how a person's record came to serve; nil for reference data.
	Curation *Curation
}

// Scope says what a record is about: a grade, a subgroup or a whole group.
type Scope struct {
	Level string // "material", "subgroup", "group"
	Key   string // material id, "M/austenitic", "M"
}

// WorkHardens reports the groups that PRACTICE calls M/S: austenitic and duplex
// stainless, titanium and heat-resistant alloys.
func (m *Material) WorkHardens() bool { return m.Group == M || m.Group == S }

// IsMagnesium reports magnesium and its alloys.
func (m *Material) IsMagnesium() bool { return m.Subgroup == Magnesium }

// Condition finds a condition by name.
func (m *Material) Condition(name string) (*Condition, bool) {
	for i := range m.Conditions {
		if m.Conditions[i].Name == name {
			return &m.Conditions[i], true
		}
	}
	return nil, false
}
