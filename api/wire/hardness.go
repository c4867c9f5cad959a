package wire

import "swarf/domain/unit"

// HardnessConversion is a hardness of a grade on the scales that a table on file reads
// for it, and as tensile strength where the table is made for the metal.
type HardnessConversion struct {
	Units           string            `json:"units"`
	UnitOf          UnitOf            `json:"unit_of,omitempty" swaggertype:"object,string"`
	Material        WorkMaterial      `json:"material"`
	Table           string            `json:"table" enum:"steel,near-steel,austenitic,none"`
	Conversions     []HardnessReading `json:"conversions"`
	TensileStrength unit.Opt          `json:"tensile_strength,omitzero" q:"specific-force"`
	Unchecked       []Unchecked       `json:"unchecked"`
	DataRevision    int64             `json:"data_revision,omitempty"`
	ModelVersion    string            `json:"model_version,omitempty"`
}

// HardnessReading is the hardness on one scale. It is approximate where the table is made
// for another metal.
type HardnessReading struct {
	Scale       string   `json:"scale" enum:"HBW,HRC,HRB,HV"`
	Value       unit.Opt `json:"value,omitzero"`
	Approximate bool     `json:"approximate"`
	Basis       string   `json:"basis"`
	Sources     []string `json:"sources"`
}
