package api

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// mostSweepItems is how many items a batch that is computed later may have.
const mostSweepItems = 500_000

// sweepFunc computes items and writes a line for each.
type sweepFunc func(ctx context.Context, snap *catalog.Snapshot, items []wire.Raw, units string, opt ComputeOptions, fields []string) ([]byte, error)

// sweeps are the batches that can be computed later.
var sweeps = map[string]sweepFunc{
	"/v1/estimates/batch":       sweepOf(estimateOne),
	"/v1/recommendations/batch": sweepOf(recommendOne),
	"/v1/spindle-checks/batch":  sweepOf(checkPair),
}

func sweepOf[Item any](compute computeFunc[Item]) sweepFunc {
	return func(ctx context.Context, snap *catalog.Snapshot, items []wire.Raw, units string, opt ComputeOptions, fields []string) ([]byte, error) {
		texts := make([][]byte, len(items))
		failed := make([]error, len(items))
		shareInTurns(len(items), func(i int) {
			if ctx.Err() != nil {
				return
			}
			t := rawTask[Item](items[i], units)
			done := runItem(ctx, snap, compute, t, opt)
			if done.err == nil {
				var chosen *wire.Selection
				if len(fields) > 0 {
					var bad []wire.InputFault
					chosen, bad = wire.Select(fields, done.answer)
					done.err = faultsFromWire(bad).OrNil()
				}
				if done.err == nil {
					texts[i], failed[i] = chosen.AppendJSON(nil, done.answer, done.system)
					return
				}
			}
			p := problemOf(done.err, done.system)
			p.Ref = t.ref()
			texts[i], failed[i] = wire.AppendJSON(nil, &p, unit.Metric)
		})
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, err := range failed {
			if err != nil {
				return nil, err
			}
		}
		return append(bytes.Join(texts, []byte{'\n'}), '\n'), nil
	}
}

// Sweep computes items of a job, from one to before another: one line of JSON each, an
// answer or a problem.
func (s *Server) Sweep(ctx context.Context, j *Job, from, to int) ([]byte, error) {
	snap := s.Snapshots()
	if snap == nil {
		return nil, fault(domain.Unavailable, "data-not-ready", "", "no data has been loaded yet", "try again in a moment")
	}
	if snap.Revision != j.Revision {
		var err error
		if snap, err = s.asOf(ctx, strconv.FormatInt(j.Revision, 10), snap); err != nil {
			return nil, err
		}
	}
	query, err := url.ParseQuery(j.Query)
	if err != nil {
		return nil, err
	}
	opt := ComputeOptions{Explain: query.Get("explain") == "true", Window: query.Get("window") == "true", Codes: query.Get("codes") == propertyCodes, Strict: query.Get("handling") == "strict", Mend: mendingOf(from, j.Items), Faults: new(cut.Faults)}
	var fields []string
	if text := query.Get("fields"); text != "" {
		fields = strings.Split(text, ",")
	}
	items := make([]wire.Raw, 0, to-from)
	at := 0
	for line := range bytes.Lines(j.Body) {
		if at >= to {
			break
		}
		if at >= from {
			items = append(items, wire.Raw(bytes.TrimSpace(line)))
		}
		at++
	}
	return sweeps[j.Route](ctx, snap, items, j.Units, opt, fields)
}

// prefersLater reports a caller who would rather not wait (RFC 7240) for a batch in JSON,
// which can be computed later where there is a database to keep it in.
func (x *exchange) prefersLater() bool {
	if x.route.kind != batching || x.s.Store == nil || sweeps[x.route.path] == nil || checkMediaType(x.Request()) != nil {
		return false
	}
	_, stated := x.prefers("respond-async")
	return stated
}

// later keeps a batch to be computed, and answers 202 with where to look.
func (x *exchange) later(items []wire.Raw, faults domain.Errors) error {
	if n := len(items); n > mostSweepItems {
		most := strconv.Itoa(mostSweepItems)
		return fault(domain.Invalid, "batch-too-large", "items", "the batch has "+strconv.Itoa(n)+" items, more than "+most, "split it")
	} else if n == 0 && items != nil {
		faults = append(faults, fault(domain.Unreadable, "field-missing", "items", "a batch that is computed later has an item", "add one"))
	}
	if x.query.text("valid_at") != "" {
		faults = append(faults, fault(domain.Invalid, "fields-conflict", "valid_at", "a batch that is computed later is of one revision", "leave valid_at out"))
	}
	snap, err := x.now()
	if err := combine(faults, err); err != nil {
		return err
	}
	x.leave() // nothing is computed now, and the database is waited for
	if err := x.charge(len(items)); err != nil {
		return err
	}
	var body bytes.Buffer
	for _, item := range items {
		body.WriteString(strings.NewReplacer("\r", " ", "\n", " ").Replace(string(item))) // blanks between tokens: a text has none of them
		body.WriteByte('\n')
	}
	by, err := x.importer()
	if err != nil {
		return err
	}
	kept := url.Values{}
	for _, name := range []string{"explain", "window", "codes", "fields", "handling"} {
		if text := x.query.text(name); text != "" {
			kept.Set(name, text)
		}
	}
	if value, _ := x.prefers("handling"); value == "strict" && !kept.Has("handling") {
		kept.Set("handling", value)
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), batchTimeout)
	defer cancel()
	j, err := x.s.Store.CreateJob(ctx, Job{Route: x.route.path, Units: x.system.String(), Query: kept.Encode(), Body: body.Bytes(), Items: len(items), Who: by.Who, Revision: snap.Revision})
	if err != nil {
		return err
	}
	x.Response().Header().Set("Location", "/v1/jobs/"+strconv.FormatInt(j.ID, 10))
	x.applied("respond-async")
	x.format, x.fields = formatJSON, nil
	return x.render(http.StatusAccepted, jobToWire(&j))
}
