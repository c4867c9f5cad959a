package client

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"net/http"
	"net/url"
	"strconv"

	"swarf/api/wire"
)

// Later asks for a batch that is computed later and kept until it is fetched: items of the
// question that a route such as /v1/estimates answers.
//
// Errors: *Problem, *Unreachable, ErrNotKept.
func Later[I any](ctx context.Context, c *Client, route, units string, items []I, o Compute, w Write) (*wire.Job, error) {
	r := w.request(http.MethodPost, route+"/batch")
	r.Query = o.query()
	r.Header.Set("Prefer", "respond-async")
	if err := r.withJSON(many[I]{units, items}); err != nil {
		return nil, err
	}
	got, err := c.send(ctx, r)
	switch {
	case err != nil:
		return nil, err
	case got.status != http.StatusAccepted:
		return nil, ErrNotKept
	}
	job := new(wire.Job)
	if err := json.Unmarshal(got.body, job); err != nil {
		return nil, &Problem{Problem: unreadable(got, err), Body: got.body, Tries: got.tries}
	}
	return job, nil
}

// ErrNotKept is a batch that the server answered at once instead of keeping it.
var ErrNotKept = errors.New("the server keeps no batches for later: it has no database, or does not for this route")

func jobPath(id int64) string { return "/v1/jobs/" + strconv.FormatInt(id, 10) }

// Jobs lists the batches that are computed later, the newest first.
func (c *Client) Jobs(ctx context.Context, o List) iter.Seq2[wire.Job, error] {
	return all[wire.Job](ctx, c, o.request("/v1/jobs"))
}

// Job reads how far a batch has come.
func (c *Client) Job(ctx context.Context, id int64) (*wire.Job, error) {
	job, _, err := ask[wire.Job](ctx, c, Read{}.request(jobPath(id)))
	return job, err
}

// CancelJob ends a batch.
func (c *Client) CancelJob(ctx context.Context, id int64, w Write) (*wire.Job, error) {
	job, _, err := ask[wire.Job](ctx, c, w.request(http.MethodDelete, jobPath(id)))
	return job, err
}

// JobResult reads the answers of a finished batch as they come, in the order of its items.
// It is never repeated, since what was read cannot be taken back.
//
// Errors, as the second value of the last round: *Problem, *Unreachable.
func JobResult[A any](ctx context.Context, c *Client, id int64) iter.Seq2[Item[A], error] {
	return func(yield func(Item[A], error) bool) {
		body, err := c.stream(ctx, &Request{Method: http.MethodGet, Path: jobPath(id) + "/result", Query: url.Values{}, Header: http.Header{"Accept": {Lines}}})
		if err != nil {
			yield(Item[A]{}, err)
			return
		}
		defer body.Close()
		lines := bufio.NewReader(body)
		for {
			line, err := lines.ReadBytes('\n')
			switch {
			case err == io.EOF && len(line) == 0:
				return
			case err != nil:
				yield(Item[A]{}, &Unreachable{fmt.Errorf("the answer broke off: %w", err), 1})
				return
			}
			var item Item[A]
			if err := json.Unmarshal(line, &item); err != nil {
				yield(Item[A]{}, &Problem{Problem: unreadable(&reply{status: http.StatusOK, body: line}, err), Body: line, Tries: 1})
				return
			}
			if !yield(item, nil) {
				return
			}
		}
	}
}
