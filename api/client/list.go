package client

import (
	"context"
	"iter"
	"strconv"

	"swarf/api/wire"
)

// List is how a list is read.
type List struct {
	Units   string // metric (the default) or inch, where the list has numbers
	AsOf    string // a revision or an RFC 3339 time
	ValidAt string // an RFC 3339 time by the floor's clock
	Page    int    // items asked for at a time, 1 to 500; 0 is 50
}

func (o List) request(path string) *Request {
	r := Read{Units: o.Units, AsOf: o.AsOf, ValidAt: o.ValidAt}.request(path)
	if o.Page != 0 {
		r.set("limit", strconv.Itoa(o.Page))
	}
	return r
}

// page is what all lists have.
type page[T any] struct {
	Items      []T     `json:"items"`
	NextCursor *string `json:"next_cursor"`
}

// all goes through the pages of a list, asking for the next when the last is used up. The
// pages are of one revision. An error ends it.
func all[T any](ctx context.Context, c *Client, r *Request) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		next := *r
		next.Query = cloned(r.Query)
		for {
			p, _, err := ask[page[T]](ctx, c, &next)
			if err != nil {
				var none T
				yield(none, err)
				return
			}
			for _, item := range p.Items {
				if !yield(item, nil) {
					return
				}
			}
			if p.NextCursor == nil {
				return
			}
			next.Query.Set("cursor", *p.NextCursor)
		}
	}
}

// Materials searches the grades: by designation or text, and by ISO 513 group; empty
// finds all.
//
// Errors, as the second value of the last round: *Problem, *Unreachable; so for every list.
func (c *Client) Materials(ctx context.Context, text, group string, o List) iter.Seq2[wire.MaterialItem, error] {
	r := o.request("/v1/materials")
	r.set("q", text)
	r.set("group", group)
	return all[wire.MaterialItem](ctx, c, r)
}

// ToolClasses lists the geometry classes.
func (c *Client) ToolClasses(ctx context.Context, o List) iter.Seq2[wire.ToolClass, error] {
	return all[wire.ToolClass](ctx, c, o.request("/v1/tool-classes"))
}

// Machines lists the machines.
func (c *Client) Machines(ctx context.Context, o List) iter.Seq2[wire.Machine, error] {
	return all[wire.Machine](ctx, c, o.request("/v1/machines"))
}

// Sources lists where numbers come from.
func (c *Client) Sources(ctx context.Context, o List) iter.Seq2[wire.Source, error] {
	return all[wire.Source](ctx, c, o.request("/v1/sources"))
}

// Units lists the unit of every quantity in both systems, in the code lists of others.
func (c *Client) Units(ctx context.Context, o List) iter.Seq2[wire.Unit, error] {
	return all[wire.Unit](ctx, c, o.request("/v1/units"))
}

// Changes lists what changed after a revision, oldest first, for callers that keep a copy.
func (c *Client) Changes(ctx context.Context, after int64) iter.Seq2[wire.Change, error] {
	r := Read{}.request("/v1/changes")
	r.set("after", strconv.FormatInt(after, 10))
	return all[wire.Change](ctx, c, r)
}

// Records narrows a list of records; empty words find all.
type Records struct{ Kind, State, Material string }

// Records lists records of forces, starting values and life.
func (c *Client) Records(ctx context.Context, which Records, o List) iter.Seq2[wire.RecordItem, error] {
	r := o.request("/v1/records")
	r.set("kind", which.Kind)
	r.set("state", which.State)
	r.set("material", which.Material)
	return all[wire.RecordItem](ctx, c, r)
}

// KeptCuts lists the cuts that are kept.
func (c *Client) KeptCuts(ctx context.Context, o List) iter.Seq2[wire.KeptCutItem, error] {
	return all[wire.KeptCutItem](ctx, c, o.request("/v1/cuts"))
}

// Observations narrows a list of observations; empty words find all.
type Observations struct{ Kind, State, Material, Machine string }

// Observations lists what was measured, oldest first.
func (c *Client) Observations(ctx context.Context, which Observations) iter.Seq2[wire.Observed, error] {
	r := Read{}.request("/v1/observations")
	r.set("kind", which.Kind)
	r.set("state", which.State)
	r.set("material", which.Material)
	r.set("machine", which.Machine)
	return all[wire.Observed](ctx, c, r)
}
