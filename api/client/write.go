package client

import (
	"context"
	"maps"
	"net/http"
	"net/url"
	"slices"

	"swarf/api/wire"
)

// Write is under which condition something is written, and why.
type Write struct {
	// Tag is that of the version to replace or remove: it fails as precondition-failed when
	// somebody was faster. Empty creates, and fails where there is one already.
	Tag string
	// Key makes a write that is sent twice happen once (Idempotency-Key): a text of the
	// caller's own, new for each write, best kept on disk before it is first used. Without it
	// a write without a tag is never repeated.
	Key string
	// Reason is for the history.
	Reason string
}

// replaces is the request of a write that states its condition, so that it may be repeated.
func (w Write) replaces(method, path string) *Request {
	r := w.request(method, path)
	r.set("reason", w.Reason)
	r.Repeatable = true
	if w.Tag == "" {
		r.Header.Set("If-None-Match", "*")
	} else {
		r.Header.Set("If-Match", w.Tag)
	}
	return r
}

// request is the request of a write that may be repeated only with a key.
func (w Write) request(method, path string) *Request {
	r := &Request{Method: method, Path: path, Query: url.Values{}, Header: http.Header{}, Repeatable: w.Key != ""}
	if w.Key != "" {
		r.Header.Set("Idempotency-Key", w.Key)
	}
	return r
}

func cloned(q url.Values) url.Values {
	out := maps.Clone(q)
	for name, values := range out {
		out[name] = slices.Clone(values)
	}
	return out
}

func write[T any](ctx context.Context, c *Client, r *Request, body any) (*Tagged[T], error) {
	if err := r.withJSON(body); err != nil {
		return nil, err
	}
	return read[T](ctx, c, r)
}

// PutMachine creates a machine, or replaces the version with the tag of the write.
//
// Errors: *Problem, *Unreachable; so for every write.
func (c *Client) PutMachine(ctx context.Context, m wire.Machine, w Write) (*Tagged[wire.Machine], error) {
	return write[wire.Machine](ctx, c, w.replaces(http.MethodPut, under("/v1/machines", m.ID)), m)
}

// DeleteMachine removes the version of a machine with the tag of the write.
func (c *Client) DeleteMachine(ctx context.Context, id string, w Write) error {
	_, err := c.send(ctx, w.replaces(http.MethodDelete, under("/v1/machines", id)))
	return err
}

// PutRecord writes a draft of a record, or writes it anew.
func (c *Client) PutRecord(ctx context.Context, r wire.Record, w Write) (*Tagged[wire.Record], error) {
	return write[wire.Record](ctx, c, w.replaces(http.MethodPut, under("/v1/records", r.ID)), r)
}

// Approve lets a draft serve, from a time or at once. Another person than its author does.
func (c *Client) Approve(ctx context.Context, record string, a wire.Approval, w Write) (*Tagged[wire.Record], error) {
	return write[wire.Record](ctx, c, w.request(http.MethodPost, under("/v1/records", record)+"/approval"), a)
}

// Withdraw ends a record.
func (c *Client) Withdraw(ctx context.Context, record string, what wire.Withdrawal, w Write) (*Tagged[wire.Record], error) {
	return write[wire.Record](ctx, c, w.request(http.MethodPost, under("/v1/records", record)+"/withdrawal"), what)
}

// PutKeptCut keeps a cut, to show what a change of data would do to it.
func (c *Client) PutKeptCut(ctx context.Context, cut wire.KeptCut, w Write) (*Tagged[wire.KeptCut], error) {
	return write[wire.KeptCut](ctx, c, w.replaces(http.MethodPut, under("/v1/cuts", cut.ID)), cut)
}

// DeleteKeptCut keeps a cut no longer.
func (c *Client) DeleteKeptCut(ctx context.Context, id string, w Write) error {
	_, err := c.send(ctx, w.replaces(http.MethodDelete, under("/v1/cuts", id)))
	return err
}

// Observe keeps what was measured.
func (c *Client) Observe(ctx context.Context, o wire.Observation, w Write) (*Tagged[wire.Observed], error) {
	return write[wire.Observed](ctx, c, w.request(http.MethodPost, "/v1/observations"), o)
}

// ObservedBatch is what became of many observations, in their order.
type ObservedBatch struct {
	Units  string                `json:"units"`
	UnitOf wire.UnitOf           `json:"unit_of"`
	Items  []Item[wire.Observed] `json:"items"`
	Counts wire.ObservedCounts   `json:"counts"`
}

// ObserveAll keeps many observations. A bad one is a problem in its place.
func (c *Client) ObserveAll(ctx context.Context, units string, list []wire.Observation, w Write) (*ObservedBatch, error) {
	kept, err := write[ObservedBatch](ctx, c, w.request(http.MethodPost, "/v1/observations/batch"), many[wire.Observation]{units, list})
	if err != nil {
		return nil, err
	}
	return &kept.Value, nil
}

// Calibrate writes a draft of what the observations say of a metal.
func (c *Client) Calibrate(ctx context.Context, r wire.CalibrationRequest, w Write) (*wire.Calibration, error) {
	made, err := write[wire.Calibration](ctx, c, w.request(http.MethodPost, "/v1/calibrations"), r)
	if err != nil {
		return nil, err
	}
	return &made.Value, nil
}

// ApproveCalibration lets the draft of a calibration serve.
func (c *Client) ApproveCalibration(ctx context.Context, record string, a wire.Approval, w Write) (*Tagged[wire.Record], error) {
	return write[wire.Record](ctx, c, w.request(http.MethodPost, under("/v1/calibrations", record)+"/approval"), a)
}
