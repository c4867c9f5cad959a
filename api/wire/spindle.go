package wire

import "swarf/domain/unit"

// SpindleCheck asks which machines can run which cuts (API.md 3.3). One cut or a
// list, one machine or a list.
type SpindleCheck struct {
	Units     string       `json:"units,omitempty" enum:"metric,inch"`
	Purpose   string       `json:"purpose,omitempty" enum:"what-if,release"`
	Cut       *Cut         `json:"cut,omitempty"`
	Cuts      []Cut        `json:"cuts,omitempty"`
	Machine   *MachineRef  `json:"machine,omitempty" swaggertype:"object"`
	Machines  []MachineRef `json:"machines,omitempty" swaggertype:"array,object"`
	Overrides []Override   `json:"overrides,omitempty"`
}

// Override is a named person's answer to a hold. It never answers a refusal.
type Override struct {
	Code   string `json:"code"`
	By     string `json:"by"`
	Reason string `json:"reason"`
	Until  string `json:"until,omitempty"`
}

// SpindleResults is the answer: all machines of the first cut, then of the next.
type SpindleResults struct {
	Units        string          `json:"units,omitempty"`
	UnitOf       UnitOf          `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64           `json:"data_revision,omitempty"`
	ModelVersion string          `json:"model_version,omitempty"`
	Purpose      string          `json:"purpose"`
	Results      []SpindleResult `json:"results"`
	// Programs are the cuts of the request in their order, run on each machine.
	Programs  []SpindleProgram `json:"programs,omitempty"`
	Overrides []Override       `json:"overrides,omitempty"`
}

// SpindleProgram is what a sequence of cuts asks of a machine's short-term ratings, worn:
// minutes over the continuous rating in all and at a stretch, and by which rating on file
// that is allowed. Unknown counts cuts without a length.
type SpindleProgram struct {
	Machine        any      `json:"machine" swaggertype:"string"`
	Cutting        unit.Opt `json:"cutting,omitzero" q:"time"`
	OverContinuous unit.Opt `json:"over_continuous,omitzero" q:"time"`
	Longest        unit.Opt `json:"longest,omitzero" q:"time"`
	Unknown        int      `json:"unknown"`
	Allowed        bool     `json:"allowed"`
	AllowedBy      []string `json:"allowed_by"`
}

// SpindleResult is one cut on one machine. Cut and machine are the ref and id, or the
// index from 0.
type SpindleResult struct {
	Cut       any         `json:"cut" swaggertype:"string"`
	Machine   any         `json:"machine" swaggertype:"string"`
	Verdict   string      `json:"verdict" enum:"yes,conditional,no"`
	Binding   string      `json:"binding,omitempty"`
	Limits    []Limit     `json:"limits"`
	Gear      string      `json:"gear,omitempty"`
	Rating    string      `json:"rating"`
	Findings  []Finding   `json:"findings"`
	Unchecked []Unchecked `json:"unchecked"`
	Ways      []Way       `json:"ways,omitempty"`
	NoWays    []NoWay     `json:"no_ways,omitempty"`
}

// Way is the smallest change of one member of a cut that turns a no or a conditional into a
// yes, or, where nothing else can, a no into a conditional. The time is that of the whole
// depth and width, in as many passes as they then need, the pilot hole among them, over that
// as asked. No way leaves a chip that is under the least one and thinner than as asked. The
// gear stands where it is another than before.
type Way struct {
	Lever      string   `json:"lever" enum:"speed,feed,depth,width,gear,passes,tool"`
	Field      string   `json:"field"`
	From       Amount   `json:"from" swaggertype:"number"`
	To         Amount   `json:"to" swaggertype:"number"`
	Unit       string   `json:"unit"`
	TimeFactor unit.Opt `json:"time_factor,omitzero"`
	Verdict    string   `json:"verdict" enum:"yes,conditional"`
	Gear       string   `json:"gear,omitempty"`
	Pilot      *Pilot   `json:"pilot,omitempty"`
}

// Pilot is the hole that is drilled before, to the same depth and by the same kind of drill.
// It was judged as a cut of its own.
type Pilot struct {
	CuttingDiameter   unit.Opt `json:"cutting_diameter,omitzero" q:"length"`
	CuttingSpeed      unit.Opt `json:"cutting_speed,omitzero" q:"speed"`
	SpindleSpeed      unit.Opt `json:"spindle_speed,omitzero" q:"rotation"`
	FeedPerRevolution unit.Opt `json:"feed_per_revolution,omitzero" q:"length"`
	FeedRate          unit.Opt `json:"feed_rate,omitzero" q:"feed-rate"`
	Cutting           unit.Opt `json:"cutting,omitzero" q:"time"`
}

// NoWay is what stands in the way of levers that lead to no yes, or from a no to no
// conditional: codes of findings.
type NoWay struct {
	Levers []string `json:"levers"`
	Codes  []string `json:"codes"`
	Why    string   `json:"why"`
}
