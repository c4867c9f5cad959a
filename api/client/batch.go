package client

import (
	"context"
	"encoding/json"

	"swarf/api/wire"
)

// Batch is the answer to many computations, in the order of the items, all from one
// revision.
type Batch[A any] struct {
	Units        string      `json:"units"`
	UnitOf       wire.UnitOf `json:"unit_of"`
	DataRevision int64       `json:"data_revision"`
	ModelVersion string      `json:"model_version"`
	Counts       wire.Counts `json:"counts"`
	Items        []Item[A]   `json:"items"`
}

// Item is what became of one item: an answer, or why there is none.
type Item[A any] struct {
	Answer  *A
	Problem *Problem
}

// UnmarshalJSON reads an answer, or a problem, which alone has a type and a status.
func (i *Item[A]) UnmarshalJSON(text []byte) error {
	var kind struct {
		Type   string `json:"type"`
		Status int    `json:"status"`
	}
	if err := json.Unmarshal(text, &kind); err != nil {
		return err
	}
	if kind.Type != "" && kind.Status != 0 {
		i.Problem = new(Problem)
		return json.Unmarshal(text, &i.Problem.Problem)
	}
	i.Answer = new(A)
	return json.Unmarshal(text, i.Answer)
}

// many is the body of a batch.
type many[Item any] struct {
	Units string `json:"units"`
	Items []Item `json:"items"`
}

// EstimateAll estimates up to 10,000 cuts in units metric or inch. A bad cut is a problem
// in its place.
//
// Errors: *Problem of the whole, *Unreachable.
func (c *Client) EstimateAll(ctx context.Context, units string, cuts []wire.Cut, o Compute) (*Batch[wire.Answer], error) {
	return compute[Batch[wire.Answer]](ctx, c, "/v1/estimates/batch", many[wire.Cut]{units, cuts}, o)
}

// RecommendAll recommends for up to 10,000 cuts, as EstimateAll estimates them.
//
// Errors: as EstimateAll.
func (c *Client) RecommendAll(ctx context.Context, units string, cuts []wire.Cut, o Compute) (*Batch[wire.Answer], error) {
	return compute[Batch[wire.Answer]](ctx, c, "/v1/recommendations/batch", many[wire.Cut]{units, cuts}, o)
}

// CheckAll checks up to 10,000 pairs of one cut and one machine.
//
// Errors: as EstimateAll.
func (c *Client) CheckAll(ctx context.Context, units string, pairs []wire.SpindleCheck, o Compute) (*Batch[wire.SpindleResult], error) {
	return compute[Batch[wire.SpindleResult]](ctx, c, "/v1/spindle-checks/batch", many[wire.SpindleCheck]{units, pairs}, o)
}

// CorrectAll corrects up to 10,000 registers.
//
// Errors: as EstimateAll.
func (c *Client) CorrectAll(ctx context.Context, units string, list []wire.CorrectionRequest, o Compute) (*Batch[wire.CorrectionAnswer], error) {
	return compute[Batch[wire.CorrectionAnswer]](ctx, c, "/v1/corrections/batch", many[wire.CorrectionRequest]{units, list}, o)
}

// DiagnoseAll diagnoses up to 10,000 readings.
//
// Errors: as EstimateAll.
func (c *Client) DiagnoseAll(ctx context.Context, units string, list []wire.DiagnosisRequest, o Compute) (*Batch[wire.Diagnosis], error) {
	return compute[Batch[wire.Diagnosis]](ctx, c, "/v1/diagnoses/batch", many[wire.DiagnosisRequest]{units, list}, o)
}
