package wire

// ToolUsed is the tool that was computed with, what its class filled in included.
type ToolUsed struct {
	Class      string         `json:"class"`
	Properties []PropertyUsed `json:"properties"`
}

// PropertyUsed is a property of it: by its readable name, and by its symbol where ISO 13399
// has one. The value is in unit.
type PropertyUsed struct {
	Name  string `json:"name"`
	Code  string `json:"code,omitempty"`
	Value Amount `json:"value" swaggertype:"number"`
	Unit  string `json:"unit,omitempty"`
}
