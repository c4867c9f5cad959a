package wire

import "swarf/domain/unit"

// Observation is what was measured on a cut: one of load, edge log and surface, as kind
// says.
type Observation struct {
	Units   string       `json:"units,omitempty" enum:"metric,inch"`
	Ref     string       `json:"ref,omitempty"`
	At      string       `json:"at,omitempty"` // RFC 3339; when it was received, if left out
	Kind    string       `json:"kind,omitempty" enum:"load,edge,surface"`
	Cut     *Cut         `json:"cut,omitempty"`
	Lot     string       `json:"lot,omitempty"`
	EdgeID  string       `json:"edge_id,omitempty"`
	Load    *LoadReading `json:"load,omitempty"`
	Edge    *EdgeLog     `json:"edge,omitempty"`
	Surface *Surface     `json:"surface,omitempty"`
}

// LoadReading is a load on a meter: one of power, torque and percent. Percent is of what
// the machine's meter says; overrides are factors on what was programmed.
type LoadReading struct {
	Power         *float64 `json:"power,omitempty" q:"power"`
	Torque        *float64 `json:"torque,omitempty" q:"torque"`
	Percent       *float64 `json:"percent,omitempty"`
	Point         string   `json:"point,omitempty" enum:"motor,spindle"`
	IdlePower     *float64 `json:"idle_power,omitempty" q:"power"`
	MinutesInCut  *float64 `json:"minutes_in_cut,omitempty" q:"time"`
	Transient     *bool    `json:"transient,omitempty"`
	FeedOverride  *float64 `json:"feed_override,omitempty"`
	SpeedOverride *float64 `json:"speed_override,omitempty"`
}

// EdgeLog is how long an edge cut and why it was changed.
type EdgeLog struct {
	Minutes *float64 `json:"minutes,omitempty" q:"time"`
	Parts   *float64 `json:"parts,omitempty"`
	Reason  string   `json:"reason,omitempty" enum:"worn,size,chipped,by-plan,batch-end"`
	Wear    *float64 `json:"wear,omitempty" q:"length"` // mean flank wear
}

// Surface is a measured roughness.
type Surface struct {
	Ra *float64 `json:"ra,omitempty" q:"roughness"`
	Rz *float64 `json:"rz,omitempty" q:"roughness"`
}

// Observed is an observation as it was kept: what it says, or why it was set aside.
type Observed struct {
	Ref                  string   `json:"ref,omitempty"`
	ID                   int64    `json:"id"`
	Units                string   `json:"units,omitempty" enum:"metric,inch"`
	UnitOf               UnitOf   `json:"unit_of,omitempty" swaggertype:"object,string"`
	At                   string   `json:"at"`
	Who                  string   `json:"who"`
	Kind                 string   `json:"kind" enum:"load,edge,surface"`
	State                string   `json:"state" enum:"accepted,set-aside"`
	Reasons              []Reason `json:"reasons"`
	Material             string   `json:"material"`
	Machine              string   `json:"machine,omitempty"`
	Lot                  string   `json:"lot,omitempty"`
	EdgeID               string   `json:"edge_id,omitempty"`
	Record               string   `json:"record,omitempty"` // that served when it came
	NetTorque            unit.Opt `json:"net_torque,omitzero" q:"torque"`
	SpecificCuttingForce unit.Opt `json:"specific_cutting_force,omitzero" q:"specific-force"`
	ChipThickness        unit.Opt `json:"chip_thickness,omitzero" q:"length"`
	OfExpected           unit.Opt `json:"of_expected,omitzero"`
	OfRating             unit.Opt `json:"of_rating,omitzero"`
	AtItsEnd             *bool    `json:"at_its_end,omitempty"` // of an edge: whether its life ended
}

// Reason is why an observation counts for nothing.
type Reason struct {
	Code string `json:"code"`
	Text string `json:"text,omitempty"`
}

// ObservationList is a page of observations, oldest first. It is not of one revision:
// observations change no answer by themselves.
type ObservationList struct {
	Items      []Observed `json:"items"`
	NextCursor *string    `json:"next_cursor"`
}

// CalibrationRequest asks what the observations say of a metal. record is the id of the
// draft in which the proposal is written.
type CalibrationRequest struct {
	Kind         string    `json:"kind,omitempty" enum:"force,life"`
	Record       string    `json:"record,omitempty"`
	Material     *Material `json:"material,omitempty"`
	Process      string    `json:"process,omitempty" enum:"turning,milling,drilling"`
	ToolMaterial string    `json:"tool_material,omitempty"`
	Confidence   *float64  `json:"confidence,omitempty"`
}

// Calibration is a proposal: what was fitted, to what, from which belief, and what it would
// change. It serves nobody until another person approves the draft.
type Calibration struct {
	Record       string   `json:"record"`
	Kind         string   `json:"kind" enum:"force,life"`
	Units        string   `json:"units"`
	UnitOf       UnitOf   `json:"unit_of,omitempty" swaggertype:"object,string"`
	Confidence   float64  `json:"confidence"`
	Force11      *Fitted  `json:"specific_cutting_force_1_1,omitempty" q:"specific-force"`
	ThicknessExp *Fitted  `json:"chip_thickness_exponent,omitempty"`
	LifeExp      *Fitted  `json:"taylor_exponent,omitempty"`
	LifeSpeed    *Fitted  `json:"taylor_speed,omitempty" q:"speed"`
	Spread       unit.Opt `json:"spread,omitzero"`      // of the law at the cuts that were made
	Noise        unit.Opt `json:"noise,omitzero"`       // of one reading, of one edge
	WearFactor   unit.Opt `json:"wear_factor,omitzero"` // of a worn edge
	Meters       []Meters `json:"meters"`
	Sample       Sample   `json:"sample"`
	Prior        string   `json:"prior"` // record that was believed before
	Notes        []string `json:"notes"`
	Impact       *Impact  `json:"impact"`
}

// Fitted is a number with its interval; fixed is the record's, which the readings could not
// tell.
type Fitted struct {
	Value unit.Opt `json:"value" q:"inherit"`
	Low   unit.Opt `json:"low" q:"inherit"`
	High  unit.Opt `json:"high" q:"inherit"`
	Fixed bool     `json:"fixed"`
}

// Meters is what the meter of a machine reads, over what it should.
type Meters struct {
	Machine string   `json:"machine"`
	Reads   unit.Opt `json:"reads"`
}

// Sample is what a fit rests on.
type Sample struct {
	Readings int `json:"readings"`
	Others   int `json:"others"` // of other metals on the same machines
	Lots     int `json:"lots"`
	Edges    int `json:"edges"`
	Ended    int `json:"ended"` // edges at the end of their life
	Machines int `json:"machines"`
}

// ObservedBatch is what became of a batch, item by item: an observation or a problem.
type ObservedBatch struct {
	Units  string         `json:"units" enum:"metric,inch"`
	UnitOf UnitOf         `json:"unit_of,omitempty" swaggertype:"object,string"`
	Items  []any          `json:"items" swaggertype:"array,object"`
	Counts ObservedCounts `json:"counts"`
}

// ObservedCounts counts the items of a batch.
type ObservedCounts struct {
	Items    int `json:"items"`
	Accepted int `json:"accepted"`
	SetAside int `json:"set_aside"`
	Problems int `json:"problems"`
}
