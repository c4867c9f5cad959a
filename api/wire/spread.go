package wire

import "swarf/domain/unit"

// MaterialSpread is every record that could serve a grade, process by process, and what the
// choice moves.
type MaterialSpread struct {
	ID           string        `json:"id"`
	Units        string        `json:"units"`
	UnitOf       UnitOf        `json:"unit_of,omitempty" swaggertype:"object,string"`
	Condition    string        `json:"condition,omitempty"`
	PlainChip    unit.Opt      `json:"plain_chip" q:"length"` // at which the records are compared
	Force        []ForceSpread `json:"force"`
	Life         []LifeSpread  `json:"life"`
	Pools        []SpreadPool  `json:"pools"`
	DataRevision int64         `json:"data_revision"`
	ModelVersion string        `json:"model_version"`
}

// ForceSpread is the records of one process, the one that serves first.
type ForceSpread struct {
	Process string     `json:"process"`
	Spread  unit.Opt   `json:"spread,omitzero"` // standard deviation of the logarithm
	Sources int        `json:"sources"`         // independent ones of what serves
	Records []Competes `json:"records"`
}

// Competes is one record: what it gives at the plain chip, and so of force, torque and
// power of a plain cut, over what serves; and what puts it behind.
type Competes struct {
	Record               string   `json:"record"`
	Serves               bool     `json:"serves"`
	LosesBy              string   `json:"loses_by,omitempty"`
	Scope                Scope    `json:"scope"`
	Method               string   `json:"method"`
	Process              string   `json:"process"`
	Condition            string   `json:"condition,omitempty"`
	Source               string   `json:"source"`
	Basis                string   `json:"basis"`
	Place                string   `json:"place,omitempty"`
	SpecificCuttingForce unit.Opt `json:"specific_cutting_force,omitzero" q:"specific-force"`
	Ratio                unit.Opt `json:"ratio,omitzero"`
}

// LifeSpread is the tool-life records of one tool material, the one that serves first.
type LifeSpread struct {
	Process      string        `json:"process"`
	ToolMaterial string        `json:"tool_material"`
	Records      []LifeCompete `json:"records"`
}

// LifeCompete is one record with the speed it gives for a quarter of an hour, over what
// serves.
type LifeCompete struct {
	Record         string   `json:"record"`
	Serves         bool     `json:"serves"`
	Source         string   `json:"source"`
	Basis          string   `json:"basis"`
	QuarterHour    unit.Opt `json:"speed_for_a_quarter_hour" q:"speed"`
	Ratio          unit.Opt `json:"ratio"`
	TaylorExponent unit.Opt `json:"taylor_exponent"`
}

// SpreadPool is how far sources of one kind of number differ over the whole catalogue, and
// how well the interval held those that were left out.
type SpreadPool struct {
	Kind       string   `json:"kind"`
	Spread     unit.Opt `json:"spread,omitzero"`
	Quantities int      `json:"quantities"`
	LeftOut    int      `json:"left_out"`
	Held       int      `json:"held"` // of them in the 90 % interval that the others give
}
