package wire

// Rows of the sheets in which the catalogue is exported and imported. Their columns are
// the members, by the names that they have in JSON; ColumnsOf lists them.

// SourceRow is a source.
type SourceRow struct {
	ID       string `json:"id"`
	Author   string `json:"author,omitempty"`
	Title    string `json:"title"`
	Year     string `json:"year,omitempty"`
	Place    string `json:"place,omitempty"`
	Address  string `json:"address,omitempty"`
	Kind     string `json:"kind"`
	Access   string `json:"access,omitempty"`
	Reviewed string `json:"reviewed,omitempty"`
	Note     string `json:"note,omitempty"`
}

// MaterialRow is a grade without what belongs to it.
type MaterialRow struct {
	ID          string       `json:"id"`
	Name        string       `json:"name"`
	Group       string       `json:"group" enum:"P,M,K,N,S,H,O"`
	Subgroup    string       `json:"subgroup"`
	MinimumChip *MinimumChip `json:"minimum_chip,omitempty"`
	Cautions    []string     `json:"cautions,omitempty"`
	Note        string       `json:"note,omitempty"`
}

// DesignationRow is a name of a grade in a standard.
type DesignationRow struct {
	Material string `json:"material"`
	Designation
}

// ConditionRow is a state in which a grade is machined.
type ConditionRow struct {
	Material string `json:"material"`
	Condition
}

// PropertyRow is a physical property of a grade.
type PropertyRow struct {
	Material string `json:"material"`
	PhysicalRecord
}

// Drafted is what a row of a record says of its life. State is told and not looked at.
type Drafted struct {
	Supersedes string   `json:"supersedes,omitempty"`
	Lots       *float64 `json:"lots,omitempty"`
	ReviewBy   string   `json:"review_by,omitempty"`
	State      string   `json:"state,omitempty"`
}

// ForceRow is a force record.
type ForceRow struct {
	ForceRecord
	Rank *float64 `json:"rank,omitempty"`
	Drafted
}

// StartingRow is a starting-value record.
type StartingRow struct {
	StartingRecord
	Rank *float64 `json:"rank,omitempty"`
	Drafted
}

// LifeRow is a tool-life record.
type LifeRow struct {
	LifeRecord
	Drafted
}

// ToolRow is a tool class without its properties.
type ToolRow struct {
	ID           string   `json:"id"`
	Name         string   `json:"name"`
	Operations   []string `json:"operations"`
	Edge         string   `json:"edge,omitempty" enum:"ground,honed"`
	ToolMaterial string   `json:"tool_material"`
	Note         string   `json:"note,omitempty"`
}

// ToolPropertyRow is a property of a tool class; its numbers are in unit.
type ToolPropertyRow struct {
	Class    string `json:"class"`
	Quantity string `json:"quantity"`
	ToolProperty
}

// RatingRow is a rating of a gear of a machine. Points is a curve such as
// 700:22; 6000:22, speed in 1/min and power in kW.
type RatingRow struct {
	Machine  string   `json:"machine"`
	Gear     string   `json:"gear"`
	MinSpeed *float64 `json:"min_speed,omitempty" q:"rotation"`
	MaxSpeed *float64 `json:"max_speed,omitempty" q:"rotation"`
	Rating   string   `json:"rating"`
	Power    *float64 `json:"power,omitempty" q:"power"`
	Torque   *float64 `json:"torque,omitempty" q:"torque"`
	Points   string   `json:"points,omitempty"`
	Duty     *float64 `json:"duty,omitempty" q:"time"`
}

// HardnessTableRow is a row of the table by which hardness scales are converted.
type HardnessTableRow struct {
	HV              *float64 `json:"hv,omitempty"`
	HBW             *float64 `json:"hbw,omitempty"`
	HRC             *float64 `json:"hrc,omitempty"`
	HRB             *float64 `json:"hrb,omitempty"`
	TensileStrength *float64 `json:"tensile_strength,omitempty" q:"specific-force"`
	Source          string   `json:"source"`
}

// ImportReport says what an import does, or would do, row by row where something is
// wrong.
type ImportReport struct {
	Import       string        `json:"import,omitempty"` // the revision that it made
	ValidateOnly bool          `json:"validate_only"`
	Committed    bool          `json:"committed"`
	Drafts       int           `json:"drafts"` // records that serve once another person approves them
	Sheets       []ImportCount `json:"sheets"`
	FaultCount   int           `json:"fault_count"`
	Items        []RowFault    `json:"items"` // the first faults, by row
	DataRevision int64         `json:"data_revision"`
	ModelVersion string        `json:"model_version"`
}

// ImportCount counts the rows of one sheet.
type ImportCount struct {
	Sheet     string `json:"sheet"`
	Rows      int    `json:"rows"`
	Added     int    `json:"added"`
	Changed   int    `json:"changed"`
	Unchanged int    `json:"unchanged"`
	Faulty    int    `json:"faulty"`
	Passed    int    `json:"passed_over"` // of a sheet that is only exported
}

// RowFault is a fault of one cell, or of a whole row.
type RowFault struct {
	Sheet   string `json:"sheet"`
	Row     int    `json:"row"` // in the file, its heading included
	Column  string `json:"column,omitempty"`
	Code    string `json:"code"`
	Message string `json:"message"`
	Fix     string `json:"fix,omitempty"`
}

// ImportProgress is a line that tells how far an import has come.
type ImportProgress struct {
	Step string `json:"step" enum:"reading,checking,writing"`
	Rows int    `json:"rows"`
}

// SheetList describes the sheets of the catalogue.
type SheetList struct {
	Items        []SheetInfo `json:"items"`
	ModelVersion string      `json:"model_version"`
}

// SheetInfo describes one sheet.
type SheetInfo struct {
	Sheet   string       `json:"sheet"`
	About   string       `json:"about"`
	Import  bool         `json:"import"` // false: exported only
	Columns []ColumnInfo `json:"columns"`
}

// ColumnInfo describes one column.
type ColumnInfo struct {
	Column   string   `json:"column"`
	Required bool     `json:"required"`
	Kind     string   `json:"kind" enum:"text,number"`
	Units    []string `json:"units,omitempty"` // UCUM codes that the heading may have in brackets; the first is metric
	Words    []string `json:"words,omitempty"`
}

// ImportApproval is what became of the drafts of an import.
type ImportApproval struct {
	Import       string `json:"import"`
	Approved     int    `json:"approved"`
	DataRevision int64  `json:"data_revision"`
	ModelVersion string `json:"model_version"`
}
