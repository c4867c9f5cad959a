package wire

import "swarf/domain/unit"

// DiagnosisRequest is a cut, what a meter read, and what is known beside it.
type DiagnosisRequest struct {
	Units string       `json:"units,omitempty" enum:"metric,inch"`
	Ref   string       `json:"ref,omitempty"`
	Cut   *Cut         `json:"cut,omitempty"`
	Load  *LoadReading `json:"load,omitempty"`
	Known *Known       `json:"known,omitempty"`
}

// Known is what is known beside a reading. Ratios are read over expected.
type Known struct {
	OverrideLogged    *bool    `json:"override_logged,omitempty"`
	IdleTakenOff      *bool    `json:"idle_taken_off,omitempty"`
	MeterKnown        *bool    `json:"meter_known,omitempty"`
	EdgesCounted      *bool    `json:"edges_counted,omitempty"`
	HardnessMeasured  *bool    `json:"hardness_measured,omitempty"`
	RisesWithinCut    *bool    `json:"rises_within_cut,omitempty"`
	FreshEdgeRatio    *float64 `json:"fresh_edge_ratio,omitempty"`
	OtherMachineRatio *float64 `json:"other_machine_ratio,omitempty"`
	OtherLotRatio     *float64 `json:"other_lot_ratio,omitempty"`
}

// Diagnosis is the causes, the likeliest first, and the test that tells the first from the
// others most cheaply.
type Diagnosis struct {
	Ref          string   `json:"ref,omitempty"`
	Units        string   `json:"units,omitempty" enum:"metric,inch"`
	UnitOf       UnitOf   `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64    `json:"data_revision,omitempty"`
	ModelVersion string   `json:"model_version,omitempty"`
	NetTorque    unit.Opt `json:"net_torque,omitzero" q:"torque"`
	Expected     unit.Opt `json:"expected_torque,omitzero" q:"torque"`
	OfExpected   unit.Opt `json:"of_expected,omitzero"`
	WithinSpread bool     `json:"within_spread"` // the record alone may be that far off
	Causes       []Cause  `json:"causes"`
	Doubts       []Reason `json:"doubts"`
}

// Cause is one reason why a reading is off.
type Cause struct {
	Cause       string   `json:"cause"`
	Probability unit.Opt `json:"probability"`
	Explains    unit.Opt `json:"explains"` // the share of the difference that it could make at the most
	Test        string   `json:"test"`
}
