package wire

import "swarf/domain/unit"

// PlanRequest asks for a routing: cuts in their order, and the machines to choose from.
type PlanRequest struct {
	Units      string       `json:"units,omitempty" enum:"metric,inch"`
	Purpose    string       `json:"purpose,omitempty" enum:"what-if,release"`
	Cuts       []PlanCut    `json:"cuts"`
	Machines   []MachineRef `json:"machines,omitempty" swaggertype:"array,object"`
	Allowances *Allowances  `json:"allowances,omitempty"`
}

// PlanCut is a cut of a routing, how often it is made, and in which set-up: cuts of one
// set-up run on one machine.
type PlanCut struct {
	Cut
	Count *float64 `json:"count,omitempty"`
	Setup string   `json:"setup,omitempty"`
}

// Allowances are the times beside the cuts, each for once: to change the tool, to come up
// to the work and leave it, and to go from one place to the next.
type Allowances struct {
	ToolChange  *float64 `json:"tool_change,omitempty" q:"seconds"`
	Approach    *float64 `json:"approach,omitempty" q:"seconds"`
	Positioning *float64 `json:"positioning,omitempty" q:"seconds"`
}

// Plan is the answer: the cuts in order, what each machine has to do, the edges that are
// worn out, and how near the cuts come to their limits, the weakest first.
type Plan struct {
	Units        string        `json:"units,omitempty"`
	UnitOf       UnitOf        `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64         `json:"data_revision,omitempty"`
	ModelVersion string        `json:"model_version,omitempty"`
	Purpose      string        `json:"purpose"`
	Verdict      string        `json:"verdict" enum:"yes,conditional,no"`
	Cuts         []PlanResult  `json:"cuts"`
	Machines     []PlanMachine `json:"machines"`
	Edges        []PlanEdges   `json:"edges"`
	Margins      []PlanMargin  `json:"margins"`
	Findings     []PlanFinding `json:"findings"`
	Assumed      []Assumed     `json:"assumed"`
	Unchecked    []Unchecked   `json:"unchecked"`
}

// PlanResult is a cut on the machine that was chosen for it. Ref is its own, or its index
// from 0; so is machine.
type PlanResult struct {
	Ref     any       `json:"ref" swaggertype:"string"`
	Machine any       `json:"machine,omitempty" swaggertype:"string"`
	Setup   string    `json:"setup,omitempty"`
	Count   float64   `json:"count"`
	Answer  *Answer   `json:"answer"`
	Time    *PlanTime `json:"time,omitempty"`
}

// PlanTime is what a cut takes, as often as it is made, or what all of a machine do.
type PlanTime struct {
	Cutting    unit.Opt `json:"cutting,omitzero" q:"time"`
	Beside     unit.Opt `json:"beside,omitzero" q:"time"` // entry, retract, pecks
	Approach   unit.Opt `json:"approach,omitzero" q:"time"`
	ToolChange unit.Opt `json:"tool_change,omitzero" q:"time"`
	Total      unit.Opt `json:"total,omitzero" q:"time"`
}

// PlanMachine is what a machine has to do. Whole says that the time of each cut is known.
type PlanMachine struct {
	Machine     any      `json:"machine,omitempty" swaggertype:"string"`
	Cuts        int      `json:"cuts"`
	ToolChanges int      `json:"tool_changes"`
	Cutting     unit.Opt `json:"cutting,omitzero" q:"time"`
	Beside      unit.Opt `json:"beside,omitzero" q:"time"`
	Approach    unit.Opt `json:"approach,omitzero" q:"time"`
	ToolChange  unit.Opt `json:"tool_change,omitzero" q:"time"`
	Total       unit.Opt `json:"total,omitzero" q:"time"`
	Energy      unit.Opt `json:"energy,omitzero" q:"energy"`
	Whole       bool     `json:"whole"`
}

// PlanEdges is how many edges of a tool the routing wears out; share is in median lives.
type PlanEdges struct {
	Tool     string   `json:"tool"`
	Diameter unit.Opt `json:"cutting_diameter,omitzero" q:"length"`
	Material string   `json:"tool_material,omitempty"`
	Cuts     []string `json:"cuts"`
	Share    unit.Opt `json:"share,omitzero"`
	Count    float64  `json:"count"`
}

// PlanMargin is what binds a cut with a worn edge.
type PlanMargin struct {
	Ref             any      `json:"ref" swaggertype:"string"`
	Machine         any      `json:"machine,omitempty" swaggertype:"string"`
	Limit           string   `json:"limit"`
	UtilisationWorn unit.Opt `json:"utilisation_worn,omitzero"`
}

// PlanFinding is what one cut leaves for another.
type PlanFinding struct {
	Ref  any `json:"ref" swaggertype:"string"`
	From any `json:"from" swaggertype:"string"`
	Finding
}
