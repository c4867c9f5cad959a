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
	Operation    string       `json:"operation"`
	Engagement   *Engagement  `json:"engagement,omitempty"`
	Parameters   *Motion      `json:"parameters,omitempty"`
	Chip         *Chip        `json:"chip,omitempty"`
	EdgeState    string       `json:"edge_state" enum:"sharp,worn"`
	Loads        *Loads       `json:"loads,omitempty"`
	LoadsWorn    *Loads       `json:"loads_worn,omitempty"`
	LoadsSharp   *Loads       `json:"loads_sharp,omitempty"`
	Adjustments  []Adjustment `json:"adjustments,omitempty"`
	BoundBy      string       `json:"bound_by,omitempty"`
	Machine      *MachineLoad `json:"machine,omitempty"`
	Motion       *Moves       `json:"motion,omitempty"`
	Time         *Timing      `json:"time,omitempty"`
	Finish       *Finish      `json:"finish,omitempty"`
	Tilt         []Tilt       `json:"tilt,omitempty"`
	Thread       *Thread      `json:"thread,omitempty"`
	ToolLife     *ToolLife    `json:"tool_life,omitempty" q:"time"`
	Deflection   *Deflection  `json:"deflection,omitempty"`
	Findings     []Finding    `json:"findings"`
	Assumed      []Assumed    `json:"assumed"`
	Unchecked    []Unchecked  `json:"unchecked"`
	Sources      []Used       `json:"sources"`
	Explain      []Step       `json:"explain,omitempty"`
}

// UnitOf marks the place of the map from member name to UCUM code; the encoder
// fills it with the names that the answer has.
type UnitOf struct{}

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

// Moves is advice on motion.
type Moves struct {
	Entry  *Segment `json:"entry,omitempty"`
	Holes  *Holes   `json:"holes,omitempty"`
	Exit   *Segment `json:"exit,omitempty"`
	Pecks  []Peck   `json:"pecks,omitempty"`
	Passes []Pass   `json:"passes,omitempty"`
	Bend   *Bend    `json:"bend,omitempty"`
}

// Pass is one pass of a thread cut with a single point.
type Pass struct {
	ToDepth unit.Opt `json:"to_depth" q:"length"`
	Infeed  unit.Opt `json:"infeed" q:"length"`
}

// Thread is how much of a thread a hole leaves; every percent names what it calls full.
type Thread struct {
	Percent       unit.Opt  `json:"percent"`
	Base          string    `json:"base"`
	Others        []Percent `json:"others"`
	MinorDiameter unit.Opt  `json:"minor_diameter" q:"length"`
	MinorLow      unit.Opt  `json:"minor_low,omitzero" q:"length"`
	MinorHigh     unit.Opt  `json:"minor_high,omitzero" q:"length"`
	Tolerance     string    `json:"tolerance,omitempty"`
}

// Percent is a percent of thread on another base.
type Percent struct {
	Percent unit.Opt `json:"percent"`
	Base    string   `json:"base"`
}

// Bend is a curved stretch of a milling path: the feed of the cutter's centre there, the
// feed of the wall where it is kept, what the centre's is of the feed on a straight, and
// how far round a tooth cuts.
type Bend struct {
	FeedRate        unit.Opt `json:"feed_rate" q:"feed-rate"`
	WallFeedRate    unit.Opt `json:"wall_feed_rate,omitzero" q:"feed-rate"`
	Factor          unit.Opt `json:"factor"`
	EngagementAngle unit.Opt `json:"engagement_angle" q:"angle"`
	StraightAngle   unit.Opt `json:"straight_angle,omitzero" q:"angle"`
}

// Tilt is what a ball may run at one tilt of its axis, and what binds there.
type Tilt struct {
	TiltAngle         unit.Opt `json:"tilt_angle" q:"angle"`
	EffectiveDiameter unit.Opt `json:"effective_diameter" q:"length"`
	SpindleSpeed      unit.Opt `json:"spindle_speed" q:"rotation"`
	FeedRate          unit.Opt `json:"feed_rate" q:"feed-rate"`
	Binding           string   `json:"binding"`
}

// Segment is a feed and how far it holds.
type Segment struct {
	FeedRate unit.Opt `json:"feed_rate" q:"feed-rate"`
	Distance unit.Opt `json:"distance" q:"length"`
}

// Holes is a chain of holes along a slot.
type Holes struct {
	Count        unit.Opt `json:"count"`
	Pitch        unit.Opt `json:"pitch" q:"length"`
	Web          unit.Opt `json:"web" q:"length"`
	RemovedShare unit.Opt `json:"removed_share"`
	RestWidth    unit.Opt `json:"rest_width" q:"length"` // what a rest pass meets across the slot at a web
	Order        string   `json:"order"`
}

// Peck is one step of a hole.
type Peck struct {
	ToDepth      unit.Opt `json:"to_depth" q:"length"`
	Retract      string   `json:"retract"`
	ReapproachAt unit.Opt `json:"reapproach_at,omitzero" q:"length"`
}

// Timing is the time of the cut, in minutes.
type Timing struct {
	Cutting    unit.Opt    `json:"cutting,omitzero" q:"time"`
	Total      unit.Opt    `json:"total,omitzero" q:"time"`
	Allowances []Allowance `json:"allowances"`
}

// Allowance is a part of the time beyond the cut itself.
type Allowance struct {
	Name string   `json:"name"`
	Time unit.Opt `json:"time" q:"time"`
	Why  string   `json:"why"`
}

// Finish is the theoretical surface.
type Finish struct {
	ProfileHeight unit.Opt `json:"profile_height,omitzero" q:"roughness"`
	ScallopHeight unit.Opt `json:"scallop_height,omitzero" q:"roughness"`
	RaExpected    unit.Opt `json:"ra_expected,omitzero" q:"roughness"`
}

// ToolLife is the expected life of the edge, in minutes. Low takes its quantity
// from the member that holds it, as in Band: unit_of has one entry for a name.
type ToolLife struct {
	Median unit.Opt `json:"median,omitzero" q:"time"`
	Low    unit.Opt `json:"low,omitzero" q:"inherit"`
}

// Deflection is how far tool and wall spring.
type Deflection struct {
	Tool unit.Opt `json:"tool,omitzero" q:"length"`
	Wall unit.Opt `json:"wall,omitzero" q:"length"`
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
