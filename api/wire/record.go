package wire

import "swarf/domain/unit"

// Record is a force, starting-value or life record with its life: who wrote it, who
// approved it, from when to when it serves. One of force, starting and life is set, as kind
// says. A PUT of what GET gave is allowed: what only approval and withdrawal set is accepted
// and ignored.
type Record struct {
	ID           string          `json:"id,omitempty"`
	Kind         string          `json:"kind,omitempty" enum:"force,starting,life"`
	Units        string          `json:"units,omitempty" enum:"metric,inch"`
	UnitOf       UnitOf          `json:"unit_of,omitzero" swaggertype:"object,string" ignored:"true"`
	State        string          `json:"state,omitempty" enum:"draft,approved,superseded,withdrawn" ignored:"true"`
	InForce      bool            `json:"in_force" ignored:"true"`
	Author       string          `json:"author,omitempty" ignored:"true"`
	Approver     string          `json:"approver,omitempty" ignored:"true"`
	Reason       string          `json:"reason,omitempty" ignored:"true"`
	ValidFrom    string          `json:"valid_from,omitempty" ignored:"true"`
	ValidTo      string          `json:"valid_to,omitempty" ignored:"true"`
	SupersededBy string          `json:"superseded_by,omitempty" ignored:"true"`
	Safety       bool            `json:"safety,omitempty" ignored:"true"`
	PastReview   bool            `json:"past_review,omitempty" ignored:"true"`
	Drift        unit.Opt        `json:"drift_ratio,omitzero" ignored:"true"`
	Supersedes   string          `json:"supersedes,omitempty"`
	Lots         *float64        `json:"lots,omitempty"`
	ReviewBy     string          `json:"review_by,omitempty"`
	Force        *ForceRecord    `json:"force,omitempty"`
	Starting     *StartingRecord `json:"starting,omitempty"`
	Life         *LifeRecord     `json:"life,omitempty"`
	DataRevision int64           `json:"data_revision,omitempty" ignored:"true"`
	ModelVersion string          `json:"model_version,omitempty" ignored:"true"`
}

// RecordItem is a record in a list.
type RecordItem struct {
	ID         string `json:"id"`
	Kind       string `json:"kind" enum:"force,starting,life"`
	State      string `json:"state" enum:"draft,approved,superseded,withdrawn"`
	InForce    bool   `json:"in_force"`
	Scope      Scope  `json:"scope"`
	Basis      string `json:"basis"`
	Source     string `json:"source"`
	Author     string `json:"author,omitempty"`
	Approver   string `json:"approver,omitempty"`
	Supersedes string `json:"supersedes,omitempty"`
}

// RecordList is a page of records.
type RecordList struct {
	Items        []RecordItem `json:"items"`
	NextCursor   *string      `json:"next_cursor"`
	DataRevision int64        `json:"data_revision"`
	ModelVersion string       `json:"model_version"`
}

// Approval is the body of an approval.
type Approval struct {
	Reason    string `json:"reason,omitempty"`
	ValidFrom string `json:"valid_from,omitempty"` // RFC 3339; at once when left out
}

// Withdrawal is the body of a withdrawal.
type Withdrawal struct {
	Reason string `json:"reason,omitempty"`
	Safety *bool  `json:"safety,omitempty"`
}

// KeptCut is a cut that is kept, to show what a change of data would do to it.
type KeptCut struct {
	ID           string `json:"id,omitempty"`
	Units        string `json:"units,omitempty" enum:"metric,inch"`
	UnitOf       UnitOf `json:"unit_of,omitzero" swaggertype:"object,string" ignored:"true"`
	Cut          *Cut   `json:"cut,omitempty"`
	Note         string `json:"note,omitempty"`
	DataRevision int64  `json:"data_revision,omitempty" ignored:"true"`
	ModelVersion string `json:"model_version,omitempty" ignored:"true"`
}

// KeptCutList is a page of kept cuts.
type KeptCutList struct {
	Items        []KeptCutItem `json:"items"`
	NextCursor   *string       `json:"next_cursor"`
	DataRevision int64         `json:"data_revision"`
	ModelVersion string        `json:"model_version"`
}

// KeptCutItem is a kept cut in a list.
type KeptCutItem struct {
	ID   string `json:"id"`
	Note string `json:"note"`
}

// Impact is what a step on a record does to the kept cuts.
type Impact struct {
	Record       string       `json:"record"`
	Step         string       `json:"step" enum:"approval,withdrawal,none"`
	Cuts         []ImpactOn   `json:"cuts"` // that change at all, the largest change of torque first
	Counts       ImpactCounts `json:"counts"`
	DataRevision int64        `json:"data_revision"`
	ModelVersion string       `json:"model_version"`
}

// ImpactCounts counts kept cuts.
type ImpactCounts struct {
	Cuts     int `json:"cuts"`
	Changed  int `json:"changed"`
	Crossing int `json:"crossing"` // a limit, or into another verdict
	Failed   int `json:"failed"`   // that could not be computed
}

// ImpactOn is what becomes of one kept cut: what is after over what was before.
type ImpactOn struct {
	Cut           string   `json:"cut"`
	RecordBefore  string   `json:"record_before,omitempty"`
	RecordAfter   string   `json:"record_after,omitempty"`
	VerdictBefore string   `json:"verdict_before" enum:"yes,conditional,no"`
	VerdictAfter  string   `json:"verdict_after" enum:"yes,conditional,no"`
	Speed         unit.Opt `json:"speed_ratio,omitzero"`
	FeedRate      unit.Opt `json:"feed_rate_ratio,omitzero"`
	CuttingForce  unit.Opt `json:"cutting_force_ratio,omitzero"`
	Torque        unit.Opt `json:"torque_ratio,omitzero"`
	Power         unit.Opt `json:"power_ratio,omitzero"`
	Crosses       []string `json:"crosses"` // limits passed after and not before, or the other way round
}
