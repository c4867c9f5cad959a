package wire

import "encoding/json"

// MachineRef is a machine in a request: an id, or the object itself.
type MachineRef struct {
	ID     string
	Inline *Machine
}

// Machine is a machine record (API.md section 2), sent and returned alike. A PUT
// of what GET gave is allowed: members of ours in it (data_revision, model_version,
// unit_of) are accepted and ignored.
type Machine struct {
	ID                 string          `json:"id,omitempty"`
	Name               string          `json:"name,omitempty"`
	Units              string          `json:"units,omitempty" enum:"metric,inch"`
	UnitOf             UnitOf          `json:"unit_of,omitzero" swaggertype:"object,string" ignored:"true"`
	Process            string          `json:"process,omitempty" enum:"milling,turning"`
	Spindle            *Spindle        `json:"spindle,omitempty"`
	Axes               *Axes           `json:"axes,omitempty"`
	Coolant            *MachineCoolant `json:"coolant,omitempty"`
	SynchronousTapping *bool           `json:"synchronous_tapping,omitempty"`
	ToolChangeTime     *float64        `json:"tool_change_time,omitempty" q:"seconds"`
	Meter              *Meter          `json:"meter,omitempty"`
	WorkHolding        *WorkHolding    `json:"work_holding,omitempty"`
	Basis              string          `json:"basis,omitempty" enum:"published,recalled,common-practice,shop,derived,demo"`
	Note               string          `json:"note,omitempty"`
	DataRevision       int64           `json:"data_revision,omitempty" ignored:"true"`
	ModelVersion       string          `json:"model_version,omitempty" ignored:"true"`
}

// Spindle is the main drive.
type Spindle struct {
	MaxSpeed   *float64 `json:"max_speed,omitempty" q:"rotation"`
	Efficiency *float64 `json:"efficiency,omitempty"`
	IdlePower  *float64 `json:"idle_power,omitempty" q:"power"`
	Gears      []Gear   `json:"gears"`
}

// Gear is a range of speeds with its ratings.
type Gear struct {
	Gear     string   `json:"gear,omitempty"`
	MinSpeed *float64 `json:"min_speed,omitempty" q:"rotation"`
	MaxSpeed *float64 `json:"max_speed,omitempty" q:"rotation"`
	Ratings  []Rating `json:"ratings"`
}

// Rating is a motor rating: a pair or a list of points.
type Rating struct {
	Rating string   `json:"rating,omitempty"`
	Power  *float64 `json:"power,omitempty" q:"power"`
	Torque *float64 `json:"torque,omitempty" q:"torque"`
	Points []Point  `json:"points,omitempty"`
	Duty   *float64 `json:"duty,omitempty" q:"time"`
}

// Point is one point of a power curve.
type Point struct {
	Speed *float64 `json:"speed,omitempty" q:"rotation"`
	Power *float64 `json:"power,omitempty" q:"power"`
	// Torque, where it is sent, must be that of the power; it is not kept.
	Torque *float64 `json:"torque,omitempty" q:"torque"`
}

// Axes are the feed drives.
type Axes struct {
	MaxFeedRate    *float64 `json:"max_feed_rate,omitempty" q:"feed-rate"`
	MaxArcFeedRate *float64 `json:"max_arc_feed_rate,omitempty" q:"feed-rate"` // on circles
	MaxFeedForce   *float64 `json:"max_feed_force,omitempty" q:"force"`
	Acceleration   *float64 `json:"acceleration,omitempty" q:"acceleration"`
	RapidRate      *float64 `json:"rapid_rate,omitempty" q:"feed-rate"`
}

// MachineCoolant is what the machine can deliver.
type MachineCoolant struct {
	Deliveries          []string `json:"deliveries,omitempty"`
	ThroughToolPressure *float64 `json:"through_tool_pressure,omitempty" q:"pressure"`
}

// Meter says what the load meter shows.
type Meter struct {
	PercentOf string `json:"percent_of,omitempty"`
	Quantity  string `json:"quantity,omitempty"`
	Point     string `json:"point,omitempty"`
}

// MarshalJSON writes the id, or the object.
func (m MachineRef) MarshalJSON() ([]byte, error) {
	if m.Inline != nil {
		return json.Marshal(m.Inline)
	}
	return json.Marshal(m.ID)
}

// UnmarshalJSON reads an id or an object.
func (m *MachineRef) UnmarshalJSON(data []byte) error {
	*m = MachineRef{}
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &m.ID)
	}
	return json.Unmarshal(data, &m.Inline)
}
