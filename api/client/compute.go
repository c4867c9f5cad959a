package client

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"swarf/api/wire"
)

// Compute is what stands beside the members of a computation.
type Compute struct {
	Explain bool     // add the derivation
	Window  bool     // add how far the overrides may go
	AsOf    string   // a revision or an RFC 3339 time: from the data as it stood then
	ValidAt string   // an RFC 3339 time by the floor's clock: records in force then
	Fields  []string // only these members, dotted paths; the others are then empty
}

func (o Compute) query() url.Values {
	q := url.Values{}
	set := func(name, value string) {
		if value != "" {
			q.Set(name, value)
		}
	}
	if o.Explain {
		q.Set("explain", "true")
	}
	if o.Window {
		q.Set("window", "true")
	}
	set("as_of", o.AsOf)
	set("valid_at", o.ValidAt)
	set("fields", strings.Join(o.Fields, ","))
	return q
}

// compute posts a computation, which stores nothing and may be repeated.
func compute[T any](ctx context.Context, c *Client, path string, body any, o Compute) (*T, error) {
	r := &Request{Method: http.MethodPost, Path: path, Query: o.query(), Repeatable: true}
	if err := r.withJSON(body); err != nil {
		return nil, err
	}
	answer, _, err := ask[T](ctx, c, r)
	return answer, err
}

// Estimate answers "I will run these parameters: what do they load?". The units of the
// request are those of the answer. What is impossible is not an error but findings, with
// the verdict no.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Estimate(ctx context.Context, cut wire.Cut, o Compute) (*wire.Answer, error) {
	return compute[wire.Answer](ctx, c, "/v1/estimates", cut, o)
}

// Recommend answers "what should I run?". Parameters that are given are kept. With the
// verdict no the answer has neither parameters nor loads.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Recommend(ctx context.Context, cut wire.Cut, o Compute) (*wire.Answer, error) {
	return compute[wire.Answer](ctx, c, "/v1/recommendations", cut, o)
}

// CheckSpindles answers "which of these machines can run it?", all machines of the first
// cut, then of the next.
//
// Errors: *Problem, *Unreachable.
func (c *Client) CheckSpindles(ctx context.Context, check wire.SpindleCheck, o Compute) (*wire.SpindleResults, error) {
	return compute[wire.SpindleResults](ctx, c, "/v1/spindle-checks", check, o)
}

// Plan chooses machines for a routing and adds up its time and edges.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Plan(ctx context.Context, plan wire.PlanRequest, o Compute) (*wire.Plan, error) {
	return compute[wire.Plan](ctx, c, "/v1/plans", plan, o)
}

// Correct answers what to add to a register after a measured size.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Correct(ctx context.Context, correction wire.CorrectionRequest, o Compute) (*wire.CorrectionAnswer, error) {
	return compute[wire.CorrectionAnswer](ctx, c, "/v1/corrections", correction, o)
}

// Diagnose ranks the causes of a reading that is off.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Diagnose(ctx context.Context, diagnosis wire.DiagnosisRequest, o Compute) (*wire.Diagnosis, error) {
	return compute[wire.Diagnosis](ctx, c, "/v1/diagnoses", diagnosis, o)
}

// ToolAsset reads a cutting tool asset of MTConnect, an XML document, as a tool of a class
// for a cut in units metric or inch. Nothing is stored.
//
// Errors: *Problem, *Unreachable.
func (c *Client) ToolAsset(ctx context.Context, class, units string, document []byte) (*wire.ToolAsset, error) {
	r := Read{Units: units}.request("/v1/tool-assets")
	r.Method, r.Body = http.MethodPost, document
	r.set("class", class)
	r.Header.Set("Content-Type", "application/xml")
	tool, _, err := ask[wire.ToolAsset](ctx, c, r)
	return tool, err
}
