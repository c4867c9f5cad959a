package api

import (
	"bytes"
	"context"
	"encoding/json"
	"mime"
	"net/http"
	"net/url"
	"strconv"

	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// batchRequest is the body of a batch. Items are read one by one, so that a bad
// one fails alone.
type batchRequest struct {
	Units string     `json:"units,omitempty" enum:"metric,inch"`
	Items []wire.Raw `json:"items"`
}

// task is one item of a batch: how it is read, and the caller's own key of it.
type task[Item any] struct {
	read func(into *Item) decoded
	ref  func() string
}

// batch makes the handler of many computations in one request, in the same order and all
// from one snapshot: {"units", "items"} in, {"items", "counts"} out; a table whose headings
// are flat names; or lines of JSON, as many as may come. An item that cannot be answered is
// a problem in its place. The verdict of an answer is what the counts count.
func batch[Item any](compute computeFunc[Item], verdict func(answer any) domain.Verdict) func(*exchange) error {
	return func(x *exchange) error {
		opt := x.computeOptions()
		answer := func(tasks []task[Item], faults domain.Errors) error {
			if n := len(tasks); n > x.s.Limits.BatchItems {
				most := strconv.Itoa(x.s.Limits.BatchItems)
				return fault(domain.Invalid, "batch-too-large", "items", "the batch has "+strconv.Itoa(n)+" items, more than "+most, "split it into batches of at most "+most)
			}
			if _, err := x.now(); err != nil || len(faults) > 0 {
				return combine(faults, err)
			}
			if err := x.charge(len(tasks)); err != nil {
				return err
			}
			if x.format == formatLines {
				return stream(x, compute, each1(tasks), opt)
			}
			out := runBatch(x, compute, verdict, tasks, opt)
			if err := x.choose(out); err != nil {
				return err
			}
			return x.render(http.StatusOK, out)
		}
		media, params, _ := mime.ParseMediaType(x.Request().Header.Get("Content-Type"))
		if err := checkPlain(x.Request(), params); err != nil {
			return err
		}
		switch media {
		case formatTable[formatLines].media:
			return streamLines(x, compute, opt)
		case formatTable[formatCSV].media:
			return x.readBody(x.s.Limits.BatchBytes, func(data []byte) error {
				tasks, err := tableTasks[Item](x, data)
				if err != nil {
					return combine(opt.Faults.List, err)
				}
				return answer(tasks, opt.Faults.List)
			})
		}
		limit, later := x.s.Limits.BatchBytes, x.prefersLater()
		if later {
			limit = x.s.Limits.ImportBytes
		}
		return x.withBody(limit, func(data []byte) error {
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
			if later {
				return x.later(req.Items, faults)
			}
			tasks := make([]task[Item], len(req.Items))
			for i, raw := range req.Items {
				tasks[i] = rawTask[Item](raw, x.system.String())
			}
			return answer(tasks, faults)
		})
	}
}

// rawTask is an item that came as JSON, in these units where it states none.
func rawTask[Item any](raw wire.Raw, units string) task[Item] {
	return task[Item]{
		read: func(into *Item) decoded {
			return fromWire(wire.DecodeRaw(raw, into, wire.DecodeOptions{Inherit: units, RequireUnits: units == ""}))
		},
		ref: func() string { return refOf(raw) },
	}
}

// tableTasks are the rows of a table, an item each, in the units of the query.
func tableTasks[Item any](x *exchange, data []byte) ([]task[Item], error) {
	if x.query.text("units") == "" {
		return nil, fault(domain.Unreadable, "units-missing", "units", "a table does not state its units", "add units=metric or units=inch to the query")
	}
	var tasks []task[Item]
	for row, err := range tabular.ReadCSV("table", bytes.NewReader(data)) {
		if err != nil {
			return nil, unreadableRows(err)
		}
		values := url.Values{"units": {x.system.String()}}
		for name, text := range row.Cells {
			values.Set(name, text)
		}
		tasks = append(tasks, task[Item]{
			read: func(into *Item) decoded { return decodeQuery(values, into) },
			ref:  func() string { return values.Get("ref") },
		})
	}
	return tasks, nil
}

// runBatch computes every item from the snapshot of the exchange.
func runBatch[Item any](x *exchange, compute computeFunc[Item], verdict func(any) domain.Verdict, tasks []task[Item], opt *ComputeOptions) *wire.Batch {
	out := &wire.Batch{
		Units:        x.system.String(),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
		Items:        make([]any, len(tasks)),
	}
	out.Counts.Items = len(tasks)
	done := make([]itemOutcome, len(tasks))
	x.share(len(tasks), func(i int) {
		own := *opt
		own.Batch, own.Mend = true, mendingOf(i, len(tasks))
		done[i] = runItem(x.Request().Context(), x.snap, compute, tasks[i], own)
	})
	for i := range done {
		x.findings += done[i].findings
		if done[i].stack != "" {
			x.stack = done[i].stack
		}
		if done[i].err != nil {
			out.Items[i] = x.itemProblem(done[i].err, tasks[i].ref(), x.system)
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
	system   unit.System
}

// runItem computes one item. Others are computed at the same time.
func runItem[Item any](ctx context.Context, snap *catalog.Snapshot, compute computeFunc[Item], t task[Item], opt ComputeOptions) (out itemOutcome) {
	item := new(Item)
	d := t.read(item)
	if out.system = d.system; !d.readable {
		out.err = d.faults
		return out
	}
	opt.System = d.system
	opt.Faults = &cut.Faults{List: d.faults}
	out.stack, out.err = protect(func() error {
		var err error
		out.answer, out.findings, err = compute(ctx, snap, item, &opt)
		return err
	})
	if out.err = combine(opt.Faults.List, out.err); out.err != nil {
		out.answer, out.findings = nil, 0
	} else if opt.Strict {
		out.err = holds(out.answer)
	}
	return out
}

// itemProblem is the problem object of one item, with the item's ref when it can
// be read.
func (x *exchange) itemProblem(err error, ref string, system unit.System) *wire.Problem {
	p, faults := x.problemOf(err, system)
	for _, e := range faults {
		if e.Kind == domain.Internal {
			x.cause = e
		}
	}
	p.RequestID = x.id
	p.Ref = ref
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
