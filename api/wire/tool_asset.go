package wire

import "swarf/domain/unit"

// ToolAsset is what was read of a cutting tool asset. Tool goes into a cut as it is, once it
// has a class; parameters are those of the asset's nominal values.
type ToolAsset struct {
	Units        string         `json:"units,omitempty" enum:"metric,inch"`
	UnitOf       UnitOf         `json:"unit_of,omitempty" swaggertype:"object,string"`
	DataRevision int64          `json:"data_revision"`
	ModelVersion string         `json:"model_version"`
	AssetID      string         `json:"asset_id,omitempty"`
	ToolID       string         `json:"tool_id,omitempty"`
	SerialNumber string         `json:"serial_number,omitempty"`
	Tool         Tool           `json:"tool"`
	Properties   []PropertyRead `json:"properties"`
	Parameters   *Motion        `json:"parameters,omitempty"`
	Process      *ToolProcess   `json:"process,omitempty"`
	ToolLife     []AssetLife    `json:"tool_life"`
	Assumed      []Assumed      `json:"assumed"`
	Unread       []Unread       `json:"unread"`
}

// PropertyRead is a property of the tool and the element it came from. The value is in unit.
type PropertyRead struct {
	Name    string `json:"name"`
	Code    string `json:"code,omitempty"`
	Element string `json:"element"`
	Value   Amount `json:"value" swaggertype:"number"`
	Unit    string `json:"unit,omitempty"`
}

// ToolProcess is the spindle speed and feed rate that the asset lets the process have.
type ToolProcess struct {
	SpindleSpeed *ProcessRange `json:"spindle_speed,omitempty" q:"rotation"`
	FeedRate     *ProcessRange `json:"feed_rate,omitempty" q:"feed-rate"`
}

// ProcessRange is the least, the usual and the most; target is what the process runs at now.
type ProcessRange struct {
	Minimum unit.Opt `json:"minimum,omitzero" q:"inherit"`
	Nominal unit.Opt `json:"nominal,omitzero" q:"inherit"`
	Maximum unit.Opt `json:"maximum,omitzero" q:"inherit"`
	Target  unit.Opt `json:"target,omitzero" q:"inherit"`
}

// AssetLife is a tool life of the asset, in its own unit: minutes, parts or wear.
type AssetLife struct {
	Of        string   `json:"of" enum:"minutes,parts,wear"`
	Direction string   `json:"direction" enum:"up,down"`
	Value     unit.Opt `json:"value,omitzero"`
	Initial   unit.Opt `json:"initial,omitzero"`
	Warning   unit.Opt `json:"warning,omitzero"`
	Limit     unit.Opt `json:"limit,omitzero"`
}

// Unread is what the asset says and the tool does not have, with the reason.
type Unread struct {
	Element string `json:"element"`
	Value   string `json:"value,omitempty"`
	Why     string `json:"why"`
}
