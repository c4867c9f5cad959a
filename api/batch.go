package api

import (
	"encoding/json"
	"net/http"
	"strconv"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
)

// batchRequest is the body of a batch. Items are read one by one, so that a bad
// one fails alone.
type batchRequest struct {
	Units string     `json:"units,omitempty" enum:"metric,inch"`
	Items []wire.Raw `json:"items"`
}

// batch makes the handler of many computations in one request: {"units", "items"}
// in, {"items", "counts"} out, in the same order and all from one snapshot. An item
// that cannot be answered is a problem object in its place. The verdict of an
// answer is what the counts count.
func batch[Item any](compute computeFunc[Item], verdict func(answer any) domain.Verdict) func(*exchange) error {
	return func(x *exchange) error {
		opt := x.computeOptions()
		return x.withBody(x.s.Limits.BatchBytes, func(data []byte) error {
			var req batchRequest
			d := decodeBody(data, &req, wire.DecodeOptions{RequireUnits: true})
			x.system = d.system
			faults := append(opt.Faults.List, d.faults...)
			if !d.readable {
				return faults
			}
			if req.Items == nil {
				faults = append(faults, fault(domain.Unreadable, "field-missing", "items", "a batch has a list of items", "add it"))
			}
			if n := len(req.Items); n > x.s.Limits.BatchItems {
				most := strconv.Itoa(x.s.Limits.BatchItems)
				return fault(domain.Invalid, "batch-too-large", "items", "the batch has "+strconv.Itoa(n)+" items, more than "+most, "split it into batches of at most "+most)
			}
			if _, err := x.now(); err != nil || len(faults) > 0 {
				return combine(faults, err)
			}
			out := runBatch(x, compute, verdict, &req, opt)
			if err := x.choose(out); err != nil {
				return err
			}
			return x.render(http.StatusOK, out)
		})
	}
}

// runBatch computes every item from the snapshot of the exchange.
func runBatch[Item any](x *exchange, compute computeFunc[Item], verdict func(any) domain.Verdict, req *batchRequest, opt *ComputeOptions) *wire.Batch {
	out := &wire.Batch{
		Units:        x.system.String(),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
		Items:        make([]any, len(req.Items)),
	}
	out.Counts.Items = len(req.Items)
	done := make([]itemOutcome, len(req.Items))
	share(len(req.Items), func(i int) { done[i] = runItem(x, compute, req.Items[i], i, *opt) })
	for i := range done {
		x.findings += done[i].findings
		if done[i].stack != "" {
			x.stack = done[i].stack
		}
		if done[i].err != nil {
			out.Items[i] = x.itemProblem(done[i].err, req.Items[i])
			out.Counts.Problems++
			continue
		}
		out.Items[i] = done[i].answer
		switch verdict(done[i].answer) {
		case domain.Yes:
			out.Counts.Yes++
		case domain.Conditional:
			out.Counts.Conditional++
		case domain.No:
			out.Counts.No++
		}
	}
	return out
}

// itemOutcome is what became of one item.
type itemOutcome struct {
	answer   any
	findings int
	err      error
	stack    string // of a panic
}

// runItem computes one item. Others are computed at the same time.
func runItem[Item any](x *exchange, compute computeFunc[Item], raw wire.Raw, at int, opt ComputeOptions) (out itemOutcome) {
	item := new(Item)
	d := decodeItem(raw, item, x.system)
	if !d.readable {
		out.err = d.faults
		return out
	}
	opt.Batch, opt.System, opt.Mend = true, x.system, at < mostMended
	opt.Faults = &cut.Faults{List: d.faults}
	out.stack, out.err = protect(func() error {
		var err error
		out.answer, out.findings, err = compute(x.Request().Context(), x.snap, item, &opt)
		return err
	})
	if out.err = combine(opt.Faults.List, out.err); out.err != nil {
		out.answer, out.findings = nil, 0
	}
	return out
}

// itemProblem is the problem object of one item, with the item's ref when it can
// be read.
func (x *exchange) itemProblem(err error, raw wire.Raw) *wire.Problem {
	faults := x.faults(err)
	for _, e := range faults {
		if e.Kind == domain.Internal {
			x.cause = e
		}
	}
	p := newProblem(faults, x.system)
	p.RequestID = x.id
	p.Ref = refOf(raw)
	return &p
}

// refOf reads the caller's own key of an item that could not be answered.
func refOf(raw wire.Raw) string {
	var named struct {
		Ref json.RawMessage `json:"ref"`
		Cut struct {
			Ref json.RawMessage `json:"ref"`
		} `json:"cut"`
	}
	// A part that does not fit leaves the rest as far as it was read.
	_ = json.Unmarshal([]byte(raw), &named)
	for _, text := range []json.RawMessage{named.Ref, named.Cut.Ref} {
		var ref string
		if json.Unmarshal(text, &ref) == nil && ref != "" {
			return ref
		}
	}
	return ""
}
