package wire

// The shapes of reference data (API.md section 2). Stored numbers are metric
// here; the encoder converts them and writes them as they are stored. Numbers
// with a unit beside them are in the caller's units already.

// MaterialItem is one grade in a list.
type MaterialItem struct {
	ID           string        `json:"id"`
	Name         string        `json:"name"`
	Group        string        `json:"group" enum:"P,M,K,N,S,H,O"`
	Subgroup     string        `json:"subgroup,omitempty"`
	Designations []Designation `json:"designations"`
	Conditions   []string      `json:"conditions"`
}

// MaterialList is a page of grades.
type MaterialList struct {
	Items        []MaterialItem `json:"items"`
	NextCursor   *string        `json:"next_cursor"`
	DataRevision int64          `json:"data_revision"`
	ModelVersion string         `json:"model_version"`
}

// MaterialRecord is one grade with everything on record for it.
type MaterialRecord struct {
	ID             string           `json:"id"`
	Name           string           `json:"name"`
	Group          string           `json:"group" enum:"P,M,K,N,S,H,O"`
	Subgroup       string           `json:"subgroup,omitempty"`
	Units          string           `json:"units" enum:"metric,inch"`
	UnitOf         UnitOf           `json:"unit_of,omitempty" swaggertype:"object,string"`
	Designations   []Designation    `json:"designations"`
	Conditions     []Condition      `json:"conditions"`
	Physical       []PhysicalRecord `json:"physical"`
	ForceData      []ForceRecord    `json:"force_data"`
	StartingValues []StartingRecord `json:"starting_values"`
	LifeData       []LifeRecord     `json:"life_data"`
	MinimumChip    *MinimumChip     `json:"minimum_chip,omitempty"`
	Cautions       []string         `json:"cautions"`
	Note           string           `json:"note,omitempty"`
	DataRevision   int64            `json:"data_revision"`
	ModelVersion   string           `json:"model_version"`
}

// Designation is a name of a grade in a standard.
type Designation struct {
	Standard string `json:"standard"`
	Value    string `json:"value"`
}

// Provenance is what every number on record carries.
type Provenance struct {
	Basis  string `json:"basis" enum:"published,recalled,common-practice,shop,derived,request,demo"`
	Source string `json:"source,omitempty"`
	Place  string `json:"place,omitempty"`
	Note   string `json:"note,omitempty"`
}

// Condition is a state in which a grade is machined.
type Condition struct {
	Name     string         `json:"name"`
	Hardness *HardnessRange `json:"hardness,omitempty"`
	ID       string         `json:"id,omitempty"`
	Provenance
}

// HardnessRange is a range on one scale.
type HardnessRange struct {
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Scale string  `json:"scale" enum:"HBW,HRC,HRB,HV"`
}

// PhysicalRecord is one physical property.
type PhysicalRecord struct {
	ID    string `json:"id,omitempty"`
	Name  string `json:"name"`
	Value Amount `json:"value" swaggertype:"number"`
	Unit  string `json:"unit"`
	Provenance
}

// Scope says what a record is about: the grade itself, its subgroup or its group.
type Scope struct {
	Level string `json:"level" enum:"material,subgroup,group"`
	Key   string `json:"key"`
}

// Span is a range of one quantity, in unit.
type Span struct {
	Low  *Amount `json:"low,omitempty" swaggertype:"number"`
	High *Amount `json:"high,omitempty" swaggertype:"number"`
	Unit string  `json:"unit"`
}

// Valid is the range of validity of a record, by quantity.
type Valid struct {
	ChipThickness *Span `json:"chip_thickness,omitempty"`
	Hardness      *Span `json:"hardness,omitempty"`
	CuttingSpeed  *Span `json:"cutting_speed,omitempty"`
}

// ForceRecord holds the constants of one force law.
type ForceRecord struct {
	ID                      string   `json:"id"`
	Scope                   Scope    `json:"scope"`
	Condition               string   `json:"condition,omitempty"`
	Process                 string   `json:"process,omitempty"`
	Method                  string   `json:"method" enum:"kienzle,unit-power,drill-handbook"`
	Family                  string   `json:"family,omitempty"`
	SpecificCuttingForce11  *float64 `json:"specific_cutting_force_1_1,omitempty" q:"specific-force"`
	ChipThicknessExponent   *float64 `json:"chip_thickness_exponent,omitempty"`
	FeedForce11             *float64 `json:"specific_feed_force_1_1,omitempty" q:"specific-force"`
	FeedForceExponent       *float64 `json:"feed_force_exponent,omitempty"`
	PassiveForce11          *float64 `json:"specific_passive_force_1_1,omitempty" q:"specific-force"`
	PassiveForceExponent    *float64 `json:"passive_force_exponent,omitempty"`
	ReferenceRake           *float64 `json:"reference_rake,omitempty" q:"angle"`
	SpecificCuttingEnergy   *float64 `json:"specific_cutting_energy,omitempty" q:"specific-energy"`
	EnergyChipThickness     *float64 `json:"energy_chip_thickness,omitempty" q:"length"`
	EnergyThicknessExponent *float64 `json:"energy_thickness_exponent,omitempty"`
	DrillWorkFactor         *float64 `json:"drill_work_factor,omitempty"`
	Spread                  *float64 `json:"spread,omitempty"`
	Valid                   *Valid   `json:"valid,omitempty"`
	Provenance
}

// StartingRecord holds the speeds and feeds to begin with. A feed is per turn or
// per tooth, or a share of the diameter per turn or tooth (unit 1).
type StartingRecord struct {
	ID           string   `json:"id"`
	Scope        Scope    `json:"scope"`
	Condition    string   `json:"condition,omitempty"`
	Operations   []string `json:"operations"`
	Classes      []string `json:"classes"`
	ToolMaterial string   `json:"tool_material,omitempty"`
	Kind         string   `json:"kind,omitempty"`
	CuttingSpeed *Span    `json:"cutting_speed,omitempty"`
	Feed         *Span    `json:"feed,omitempty"`
	FeedKind     string   `json:"feed_kind,omitempty" enum:"per-revolution,per-tooth,diameter-fraction-per-revolution,diameter-fraction-per-tooth"`
	DepthOfCut   *float64 `json:"depth_of_cut,omitempty" q:"length"`
	Valid        *Valid   `json:"valid,omitempty"`
	Provenance
}

// LifeRecord holds the constants of vc·T^n·f^x·ap^y = C, T in minutes: C at the reference
// feed and depth, where the law has exponents for them.
type LifeRecord struct {
	ID             string   `json:"id"`
	Scope          Scope    `json:"scope"`
	Process        string   `json:"process,omitempty" enum:"turning,milling,drilling,general"`
	ToolMaterial   string   `json:"tool_material,omitempty"`
	TaylorExponent *float64 `json:"taylor_exponent,omitempty"`
	TaylorSpeed    *float64 `json:"taylor_speed,omitempty" q:"speed"`
	FeedExponent   *float64 `json:"feed_exponent,omitempty"`
	DepthExponent  *float64 `json:"depth_exponent,omitempty"`
	ReferenceFeed  *float64 `json:"reference_feed,omitempty" q:"length"`
	ReferenceDepth *float64 `json:"reference_depth,omitempty" q:"length"`
	Criterion      string   `json:"criterion,omitempty"`
	Provenance
}

// MinimumChip is the least chip thickness by kind of edge.
type MinimumChip struct {
	GroundEdge  *float64 `json:"ground_edge,omitempty" q:"length"`
	HonedInsert *float64 `json:"honed_insert,omitempty" q:"length"`
}

// ToolClass is a geometry class of tools.
type ToolClass struct {
	ID           string         `json:"id"`
	Name         string         `json:"name"`
	Operations   []string       `json:"operations"`
	Edge         string         `json:"edge,omitempty" enum:"ground,honed"`
	Properties   []ToolProperty `json:"properties"`
	Note         string         `json:"note,omitempty"`
	Units        string         `json:"units,omitempty" enum:"metric,inch"`
	DataRevision int64          `json:"data_revision,omitempty"`
	ModelVersion string         `json:"model_version,omitempty"`
}

// ToolProperty is one property of a class with its ISO 13399 code, the value
// taken when the caller gives none, and the allowed range, in unit.
type ToolProperty struct {
	Name    string  `json:"name"`
	Code    string  `json:"code,omitempty"`
	Unit    string  `json:"unit"`
	Default *Amount `json:"default,omitempty" swaggertype:"number"`
	Low     *Amount `json:"low,omitempty" swaggertype:"number"`
	High    *Amount `json:"high,omitempty" swaggertype:"number"`
}

// ToolClassList is a page of tool classes.
type ToolClassList struct {
	Units        string      `json:"units" enum:"metric,inch"`
	Items        []ToolClass `json:"items"`
	NextCursor   *string     `json:"next_cursor"`
	DataRevision int64       `json:"data_revision"`
	ModelVersion string      `json:"model_version"`
}

// MachineList is a page of machines.
type MachineList struct {
	Units        string    `json:"units" enum:"metric,inch"`
	UnitOf       UnitOf    `json:"unit_of,omitempty" swaggertype:"object,string"`
	Items        []Machine `json:"items"`
	NextCursor   *string   `json:"next_cursor"`
	DataRevision int64     `json:"data_revision"`
	ModelVersion string    `json:"model_version"`
}

// Source is where numbers come from.
type Source struct {
	ID           string       `json:"id"`
	Author       string       `json:"author,omitempty"`
	Title        string       `json:"title"`
	Year         string       `json:"year,omitempty"`
	Place        string       `json:"place,omitempty"`
	Address      string       `json:"address,omitempty"`
	Kind         string       `json:"kind"`
	Access       string       `json:"access,omitempty"`
	Reviewed     string       `json:"reviewed,omitempty"`
	Note         string       `json:"note,omitempty"`
	Records      []SourceUse  `json:"records,omitempty"`
	Counts       SourceCounts `json:"counts"`
	DataRevision int64        `json:"data_revision,omitempty"`
	ModelVersion string       `json:"model_version,omitempty"`
}

// SourceCounts says how many records rest on a source.
type SourceCounts struct {
	Conditions     int `json:"conditions"`
	Physical       int `json:"physical"`
	ForceData      int `json:"force_data"`
	StartingValues int `json:"starting_values"`
	LifeData       int `json:"life_data"`
}

// SourceUse is one record that rests on a source.
type SourceUse struct {
	Kind  string `json:"kind" enum:"condition,physical,force_data,starting_values,life_data"`
	ID    string `json:"id"`
	Scope Scope  `json:"scope"`
	Basis string `json:"basis"`
	Place string `json:"place,omitempty"`
}

// SourceList is a page of sources.
type SourceList struct {
	Items        []Source `json:"items"`
	NextCursor   *string  `json:"next_cursor"`
	DataRevision int64    `json:"data_revision"`
	ModelVersion string   `json:"model_version"`
}

// Change is one change of the data.
type Change struct {
	Revision int64  `json:"revision"`
	At       string `json:"at"`
	Who      string `json:"who"`
	Person   string `json:"person,omitempty"` // whom the caller named beside its key
	Kind     string `json:"kind"`
	ID       string `json:"id"`
	Action   string `json:"action" enum:"added,changed,removed"`
	Reason   string `json:"reason,omitempty"`
}

// ChangeList is a page of changes, oldest first.
type ChangeList struct {
	Items        []Change `json:"items"`
	NextCursor   *string  `json:"next_cursor"`
	DataRevision int64    `json:"data_revision"`
	ModelVersion string   `json:"model_version"`
}

// Batch is the answer to a batch: answers and problems in the order of the items.
type Batch struct {
	Units        string `json:"units" enum:"metric,inch"`
	UnitOf       UnitOf `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64  `json:"data_revision"`
	ModelVersion string `json:"model_version"`
	Counts       Counts `json:"counts"`
	Items        []any  `json:"items"`
}

// Counts says how the items of a batch came out.
type Counts struct {
	Items       int `json:"items"`
	Yes         int `json:"yes"`
	Conditional int `json:"conditional"`
	No          int `json:"no"`
	Problems    int `json:"problems"`
}
