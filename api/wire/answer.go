package wire

import "swarf/domain/unit"

// Answer is what a computation returns (API.md 3.2). Members of type unit.Opt are
// computed numbers: metric here, converted and rounded to 6 significant digits by
// the encoder, left out when absent.
type Answer struct {
	Ref          string       `json:"ref,omitempty"`
	Units        string       `json:"units,omitempty"`
	UnitOf       UnitOf       `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64        `json:"data_revision,omitempty"`
	ModelVersion string       `json:"model_version,omitempty"`
	Verdict      string       `json:"verdict" enum:"yes,conditional,no"`
	Material     WorkMaterial `json:"material"`
	Stock        *Stock       `json:"stock,omitempty"`
	Operation    string       `json:"operation"`
	Tool         *ToolUsed    `json:"tool,omitempty"`
	Engagement   *Engagement  `json:"engagement,omitempty"`
	Parameters   *Motion      `json:"parameters,omitempty"`
	Chip         *Chip        `json:"chip,omitempty"`
	EdgeState    string       `json:"edge_state" enum:"sharp,worn"`
	Loads        *Loads       `json:"loads,omitempty"`
	LoadsWorn    *Loads       `json:"loads_worn,omitempty"`
	LoadsSharp   *Loads       `json:"loads_sharp,omitempty"`
	Adjustments  []Adjustment `json:"adjustments,omitempty"`
	BoundBy      string       `json:"bound_by,omitempty"`
	Start        *StartedFrom `json:"started_from,omitempty"`
	Machine      *MachineLoad `json:"machine,omitempty"`
	Motion       *Moves       `json:"motion,omitempty"`
	Time         *Timing      `json:"time,omitempty"`
	Finish       *Finish      `json:"finish,omitempty"`
	Tilt         []Tilt       `json:"tilt,omitempty"`
	Thread       *Thread      `json:"thread,omitempty"`
	ToolLife     *ToolLife    `json:"tool_life,omitempty" q:"time"`
	Cost         *Cost        `json:"cost,omitempty"`
	Deflection   *Deflection  `json:"deflection,omitempty"`
	WorkHolding  *Grip        `json:"work_holding,omitempty"`
	Window       *Window      `json:"override_window,omitempty"`
	Findings     []Finding    `json:"findings"`
	Assumed      []Assumed    `json:"assumed"`
	Unchecked    []Unchecked  `json:"unchecked"`
	Sources      []Used       `json:"sources"`
	Explain      []Step       `json:"explain,omitempty"`
}

// UnitOf maps the names of members to the UCUM codes of their units. A writer leaves it
// empty: the encoder fills in the names that the answer has. A reader finds them in it.
type UnitOf map[string]string

// WorkMaterial says which material and record answered.
type WorkMaterial struct {
	ID        string    `json:"id,omitempty"`
	Name      string    `json:"name,omitempty"`
	Group     string    `json:"group"`
	Condition string    `json:"condition,omitempty"`
	Hardness  *Hardness `json:"hardness,omitempty"`
	Record    string    `json:"record,omitempty"`
	Basis     string    `json:"basis,omitempty"`
	FallBack  string    `json:"fall_back,omitempty"`
}

// Window is how far feed and speed may be overridden, each alone, before a limit is passed
// with the worn edge.
type Window struct {
	Feed  Factors `json:"feed"`
	Speed Factors `json:"speed"`
}

// Factors is a range of factors on what was programmed, and what limits each side. Without
// a factor at which every limit holds there are no ends, and both limits name the one that
// is passed. Held is what a change leaves as it was programmed.
type Factors struct {
	Low       unit.Opt `json:"low,omitzero"`
	High      unit.Opt `json:"high,omitzero"`
	LowLimit  string   `json:"low_limit"`
	HighLimit string   `json:"high_limit"`
	Held      string   `json:"held" enum:"spindle_speed,feed_rate,feed_per_revolution"`
}

// Motion is the full set of speeds and feeds.
type Motion struct {
	CuttingSpeed      unit.Opt `json:"cutting_speed,omitzero" q:"speed"`
	SpindleSpeed      unit.Opt `json:"spindle_speed,omitzero" q:"rotation"`
	FeedPerRevolution unit.Opt `json:"feed_per_revolution,omitzero" q:"length"`
	FeedPerTooth      unit.Opt `json:"feed_per_tooth,omitzero" q:"length"`
	FeedRate          unit.Opt `json:"feed_rate,omitzero" q:"feed-rate"`
}

// Chip is the undeformed chip.
type Chip struct {
	ThicknessMean   unit.Opt `json:"thickness_mean,omitzero" q:"length"`
	ThicknessMax    unit.Opt `json:"thickness_max,omitzero" q:"length"`
	Width           unit.Opt `json:"width,omitzero" q:"length"`
	EngagementAngle unit.Opt `json:"engagement_angle,omitzero" q:"angle"`
	EdgesInCut      unit.Opt `json:"edges_in_cut,omitzero"`
}

// Loads are forces, torque and power for one state of the edge.
type Loads struct {
	SpecificCuttingForce unit.Opt  `json:"specific_cutting_force,omitzero" q:"specific-force"`
	CuttingForce         unit.Opt  `json:"cutting_force,omitzero" q:"force"`
	FeedForce            unit.Opt  `json:"feed_force,omitzero" q:"force"`
	PassiveForce         unit.Opt  `json:"passive_force,omitzero" q:"force"`
	Torque               unit.Opt  `json:"torque,omitzero" q:"torque"`
	TorquePeak           unit.Opt  `json:"torque_peak,omitzero" q:"torque"`
	CuttingPower         unit.Opt  `json:"cutting_power,omitzero" q:"power"`
	RemovalRate          unit.Opt  `json:"removal_rate,omitzero" q:"removal-rate"`
	Interval             *Interval `json:"interval,omitempty"`
	Methods              []Method  `json:"methods,omitempty"`
}

// Interval holds the central intervals of the loads.
type Interval struct {
	CuttingPower *Band `json:"cutting_power,omitempty" q:"power"`
	Torque       *Band `json:"torque,omitempty" q:"torque"`
	CuttingForce *Band `json:"cutting_force,omitempty" q:"force"`
}

// Band is an interval; its members take the quantity of the member that holds it.
type Band struct {
	Low        unit.Opt `json:"low" q:"inherit"`
	High       unit.Opt `json:"high" q:"inherit"`
	Confidence float64  `json:"confidence"`
}

// Method is the answer of one force method, so that the spread between them shows.
type Method struct {
	Method       string   `json:"method"`
	Torque       unit.Opt `json:"torque,omitzero" q:"torque"`
	CuttingPower unit.Opt `json:"cutting_power,omitzero" q:"power"`
	Record       string   `json:"record,omitempty"`
	Source       string   `json:"source"`
	Basis        string   `json:"basis"`
	Used         bool     `json:"used"`
}

// Adjustment is one change made to a starting value.
type Adjustment struct {
	Name   string   `json:"name"`
	ActsOn string   `json:"acts_on"`
	Factor unit.Opt `json:"factor"`
	Reason string   `json:"reason"`
	Basis  string   `json:"basis"`
}

// MachineLoad holds the cut against a machine.
type MachineLoad struct {
	ID              string   `json:"id"`
	Rating          string   `json:"rating"`
	Gear            string   `json:"gear,omitempty"`
	AvailablePower  unit.Opt `json:"available_power,omitzero" q:"power"`
	AvailableTorque unit.Opt `json:"available_torque,omitzero" q:"torque"`
	MotorPower      unit.Opt `json:"motor_power,omitzero" q:"power"`
	Limits          []Limit  `json:"limits"`
}

// Limit is one limit and how far the cut uses it; demand and allowed are written
// in `unit`.
type Limit struct {
	Limit           string   `json:"limit"`
	Demand          Amount   `json:"demand" swaggertype:"number"`
	Allowed         Amount   `json:"allowed" swaggertype:"number"`
	Unit            string   `json:"unit"`
	Utilisation     unit.Opt `json:"utilisation"`
	UtilisationWorn unit.Opt `json:"utilisation_worn"`
	Probability     unit.Opt `json:"probability,omitzero"`
	Binding         bool     `json:"binding"`
}

// Finding is something the answer says about the cut. Value and limit are in unit.
type Finding struct {
	Code     string   `json:"code"`
	Severity string   `json:"severity" enum:"refusal,hold,warning,note"`
	Field    string   `json:"field,omitempty"`
	Value    unit.Opt `json:"value,omitzero"` // in the caller's units already
	Limit    unit.Opt `json:"limit,omitzero"`
	Unit     string   `json:"unit,omitempty"`
	Message  string   `json:"message"`
	Fix      string   `json:"fix,omitempty"`
}

// Assumed is an input left out and what was taken.
type Assumed struct {
	Field string `json:"field"`
	Value any    `json:"value" swaggertype:"string"`
	Unit  string `json:"unit,omitempty"`
	Why   string `json:"why"`
}

// Unchecked is a check that could not be made.
type Unchecked struct {
	Check string `json:"check"`
	Needs string `json:"needs"`
}

// Used is a source behind the answer.
type Used struct {
	ID      string `json:"id"`
	Basis   string `json:"basis"`
	UsedFor string `json:"used_for"`
	Place   string `json:"place,omitempty"`
	Valid   string `json:"valid,omitempty"`
}

// Step is one step of the derivation.
type Step struct {
	Name    string `json:"name"`
	Formula string `json:"formula"`
	PutIn   string `json:"put_in"`
	Result  Amount `json:"result" swaggertype:"number"`
	Unit    string `json:"unit"`
	Source  string `json:"source"`
}
