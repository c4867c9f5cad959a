package db

import (
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// curationRow is the life of a record that a person wrote, or ended.
type curationRow struct {
	RecordID   string `json:"record_id"`
	RecordKind string `json:"record_kind"`
	scopeRow
	State        material.State `json:"state"`
	InForce      bool           `json:"in_force"`
	Author       string         `json:"author"`
	Approver     string         `json:"approver"`
	Reason       string         `json:"reason"`
	ValidFrom    string         `json:"valid_from"`
	ValidTo      string         `json:"valid_to"`
	Supersedes   string         `json:"supersedes"`
	SupersededBy string         `json:"superseded_by"`
	Safety       bool           `json:"safety"`
	Lots         int            `json:"lots"`
	ReviewBy     string         `json:"review_by"`
	PastReview   bool           `json:"past_review"`
	Drift        unit.Opt       `json:"drift_ratio"`
	Revision     int64          `json:"revision"`
}

func (x *curationRow) curation() *material.Curation {
	return &material.Curation{Kind: x.RecordKind, State: x.State, InForce: x.InForce, Author: x.Author, Approver: x.Approver, Reason: x.Reason,
		ValidFrom: x.ValidFrom, ValidTo: x.ValidTo, Supersedes: x.Supersedes, SupersededBy: x.SupersededBy, Safety: x.Safety,
		Lots: x.Lots, ReviewBy: x.ReviewBy, PastReview: x.PastReview, DriftRatio: x.Drift.Or(0), Revision: x.Revision}
}

func curationRowOf(id string, scope material.Scope, c *material.Curation) curationRow {
	return curationRow{RecordID: id, RecordKind: c.Kind, scopeRow: scopeRow(scope), State: c.State, InForce: c.InForce, Author: c.Author, Approver: c.Approver, Reason: c.Reason,
		ValidFrom: c.ValidFrom, ValidTo: c.ValidTo, Supersedes: c.Supersedes, SupersededBy: c.SupersededBy, Safety: c.Safety,
		Lots: c.Lots, ReviewBy: c.ReviewBy, PastReview: c.PastReview, Drift: present(c.DriftRatio)}
}

// cutRow is a cut that is kept.
type cutRow struct {
	ID       string `json:"id"`
	Request  raw    `json:"request"`
	Note     string `json:"note"`
	Revision int64  `json:"revision"`
}

// raw is a JSON document as it stands.
type raw []byte

// MarshalJSON gives the document.
func (r raw) MarshalJSON() ([]byte, error) { return r, nil }

// UnmarshalJSON keeps the document.
func (r *raw) UnmarshalJSON(text []byte) error {
	*r = append((*r)[:0], text...)
	return nil
}

// curations are the lives of records by their ids.
func (r *rows) curations() map[string]*material.Curation {
	lives := make(map[string]*material.Curation, len(r.lives))
	for i := range r.lives {
		lives[r.lives[i].RecordID] = r.lives[i].curation()
	}
	return lives
}

func (x cutRow) cut() catalog.StoredCut {
	return catalog.StoredCut{ID: x.ID, Request: x.Request, Note: x.Note, Revision: x.Revision}
}
