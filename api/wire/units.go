package wire

// UnitList is a page of units.
type UnitList struct {
	Items        []Unit  `json:"items"`
	NextCursor   *string `json:"next_cursor"`
	DataRevision int64   `json:"data_revision"`
	ModelVersion string  `json:"model_version"`
}

// Unit is the unit of a quantity in a unit system, in the code lists of others. A list that
// has no such unit has no member here.
type Unit struct {
	Quantity  string   `json:"quantity"`
	System    string   `json:"system" enum:"metric,inch"`
	Label     string   `json:"label"` // as people write it
	UCUM      string   `json:"ucum"`
	UNECE     string   `json:"unece,omitempty"` // UN/ECE Recommendation 20, common code
	OPCUA     *OPCUnit `json:"opc_ua,omitempty"`
	QUDT      string   `json:"qudt,omitempty"` // an IRI
	MTConnect string   `json:"mtconnect,omitempty"`
}

// OPCUnit is a unit as EUInformation of OPC UA names it.
type OPCUnit struct {
	NamespaceURI string `json:"namespace_uri"`
	UnitID       int64  `json:"unit_id"`
	DisplayName  string `json:"display_name"`
}
