package wire

import "swarf/domain/unit"

// CorrectionRequest is a measured size and the register to correct (API.md 3.3).
type CorrectionRequest struct {
	Units       string   `json:"units,omitempty" enum:"metric,inch"`
	Ref         string   `json:"ref,omitempty"`
	Feature     string   `json:"feature,omitempty" enum:"external,internal"`
	SidesCut    *float64 `json:"sides_cut,omitempty"`
	Programmed  *float64 `json:"programmed,omitempty" q:"length"`
	Measured    *float64 `json:"measured,omitempty" q:"length"`
	Error       *float64 `json:"error,omitempty" q:"length"`
	Register    string   `json:"register,omitempty" enum:"radius,diameter"`
	Temperature *float64 `json:"temperature,omitempty" q:"temperature"`
	Expansion   *float64 `json:"expansion,omitempty" q:"expansion"`
}

// CorrectionAnswer is the change of the register.
type CorrectionAnswer struct {
	Ref          string      `json:"ref,omitempty"`
	Units        string      `json:"units,omitempty"`
	UnitOf       UnitOf      `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64       `json:"data_revision,omitempty"`
	ModelVersion string      `json:"model_version,omitempty"`
	Correction   Correction  `json:"correction"`
	Findings     []Finding   `json:"findings"`
	Unchecked    []Unchecked `json:"unchecked"`
}

// Correction is added to the register; negative takes more off.
type Correction struct {
	Register string   `json:"register" enum:"radius,diameter"`
	Value    unit.Opt `json:"value" q:"length"`
}
