package client

import (
	"context"
	"net/http"
	"net/url"
	"strconv"

	"swarf/api/wire"
)

// Read is how a record is read.
type Read struct {
	Units   string // metric (the default) or inch
	AsOf    string // a revision or an RFC 3339 time: as it stood then
	ValidAt string // an RFC 3339 time by the floor's clock
	// Tag is that of the caller's copy: a read then returns ErrUnchanged while it is good.
	Tag string
}

// Tagged is a record with the tag of its version.
type Tagged[T any] struct {
	Value    T
	Tag      string // for Read, and for Write
	Revision int64  // of the data that answered; 0 where the answer does not say
}

func recordOf[T any](value *T, r *reply) *Tagged[T] {
	revision, _ := strconv.ParseInt(r.header.Get("Data-Revision"), 10, 64)
	return &Tagged[T]{*value, r.header.Get("ETag"), revision}
}

func (o Read) request(path string) *Request {
	r := &Request{Method: http.MethodGet, Path: path, Query: url.Values{}, Header: http.Header{}, Repeatable: true}
	r.set("units", o.Units)
	r.set("as_of", o.AsOf)
	r.set("valid_at", o.ValidAt)
	if o.Tag != "" {
		r.Header.Set("If-None-Match", o.Tag)
	}
	return r
}

// set sets a parameter that has a value.
func (r *Request) set(name, value string) {
	if value != "" {
		r.Query.Set(name, value)
	}
}

// under is the path of one record of a list.
func under(list, id string) string { return list + "/" + url.PathEscape(id) }

func read[T any](ctx context.Context, c *Client, r *Request) (*Tagged[T], error) {
	value, got, err := ask[T](ctx, c, r)
	if err != nil {
		return nil, err
	}
	return recordOf(value, got), nil
}

// Material reads a grade with everything on record for it.
//
// Errors: *Problem, *Unreachable, ErrUnchanged; so for every read.
func (c *Client) Material(ctx context.Context, id string, o Read) (*Tagged[wire.MaterialRecord], error) {
	return read[wire.MaterialRecord](ctx, c, o.request(under("/v1/materials", id)))
}

// Spread reads every record that could serve a grade, and what the choice moves.
func (c *Client) Spread(ctx context.Context, id string, o Read) (*Tagged[wire.MaterialSpread], error) {
	return read[wire.MaterialSpread](ctx, c, o.request(under("/v1/materials", id)+"/spread"))
}

// ToolClass reads a geometry class.
func (c *Client) ToolClass(ctx context.Context, id string, o Read) (*Tagged[wire.ToolClass], error) {
	return read[wire.ToolClass](ctx, c, o.request(under("/v1/tool-classes", id)))
}

// Machine reads a machine.
func (c *Client) Machine(ctx context.Context, id string, o Read) (*Tagged[wire.Machine], error) {
	return read[wire.Machine](ctx, c, o.request(under("/v1/machines", id)))
}

// Source reads where numbers come from.
func (c *Client) Source(ctx context.Context, id string, o Read) (*Tagged[wire.Source], error) {
	return read[wire.Source](ctx, c, o.request(under("/v1/sources", id)))
}

// Record reads a record of forces, starting values or life with who wrote and approved it.
func (c *Client) Record(ctx context.Context, id string, o Read) (*Tagged[wire.Record], error) {
	return read[wire.Record](ctx, c, o.request(under("/v1/records", id)))
}

// Impact reads what the next step on a record would do to the kept cuts. Only AsOf and Tag
// of the options apply.
func (c *Client) Impact(ctx context.Context, record string, o Read) (*Tagged[wire.Impact], error) {
	return read[wire.Impact](ctx, c, o.request(under("/v1/records", record)+"/impact"))
}

// KeptCut reads a cut that is kept. Only AsOf and Tag of the options apply.
func (c *Client) KeptCut(ctx context.Context, id string, o Read) (*Tagged[wire.KeptCut], error) {
	return read[wire.KeptCut](ctx, c, o.request(under("/v1/cuts", id)))
}

// Hardness asks for a hardness or a tensile strength of a grade on the other scales.
type Hardness struct {
	Grade           string
	Value           float64
	Scale           string
	TensileStrength float64 // instead of value and scale
}

// ConvertHardness reads a hardness on the other scales, by the table for the metal.
func (c *Client) ConvertHardness(ctx context.Context, h Hardness, o Read) (*Tagged[wire.HardnessConversion], error) {
	r := o.request("/v1/hardness-conversions")
	r.set("grade", h.Grade)
	r.set("scale", h.Scale)
	for name, v := range map[string]float64{"value": h.Value, "tensile_strength": h.TensileStrength} {
		if v != 0 {
			r.set(name, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	return read[wire.HardnessConversion](ctx, c, r)
}

// Sheets reads which tables are exported and imported, with their columns.
func (c *Client) Sheets(ctx context.Context) (*wire.SheetList, error) {
	list, _, err := ask[wire.SheetList](ctx, c, Read{}.request("/v1/sheets"))
	return list, err
}

// Ready reads whether the server answers from data, and how old that is.
func (c *Client) Ready(ctx context.Context) (*wire.Readiness, error) {
	ready, _, err := ask[wire.Readiness](ctx, c, Read{}.request("/readyz"))
	return ready, err
}

// Version reads what runs.
func (c *Client) Version(ctx context.Context) (*wire.Version, error) {
	version, _, err := ask[wire.Version](ctx, c, Read{}.request("/version"))
	return version, err
}
