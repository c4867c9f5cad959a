package api

import (
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"mime"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/evidence"
	"swarf/domain/unit"
)

// evidenceRoutes are the rows of what the shop measured.
func evidenceRoutes() []route {
	return []route{
		{http.MethodPost, "/v1/observations", postObservation, writing, nil, tableFormats},
		{http.MethodGet, "/v1/observations", listObservations, reading, []string{"kind", "state", "material", "machine", "limit", "cursor"}, tableFormats},
		{http.MethodPost, "/v1/observations/batch", postObservations, writing, []string{"units"}, tableFormats},
		{http.MethodPost, "/v1/calibrations", postCalibration, writing, nil, tableFormats},
		{http.MethodPost, "/v1/calibrations/{id}/approval", approveRecord, approving, nil, tableFormats},
	}
}

// postObservation answers POST /v1/observations: 201 with what it says, or why it was set
// aside.
func postObservation(x *exchange) error {
	if x.s.Store == nil {
		return noStore("observations cannot be kept")
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.Observation
		d := decodeBody(data, &body, wire.DecodeOptions{RequireUnits: true})
		x.system = d.system
		if !d.readable {
			return d.faults
		}
		kept, shown, err := x.observe(snap, &body, d)
		if err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
		defer cancel()
		if shown.ID, err = x.s.Store.AddObservations(ctx, []evidence.Kept{*kept}); err != nil {
			return err
		}
		if shown.Units = x.system.String(); x.only {
			shown.ID = 0 // it has none
		}
		return x.render(http.StatusCreated, shown)
	})
}

// postObservations answers POST /v1/observations/batch, in JSON or in CSV with flat names
// for headings. What can be kept is kept in one transaction; a bad item never fails the
// others.
func postObservations(x *exchange) error {
	if x.s.Store == nil {
		return noStore("observations cannot be kept")
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	take := x.withBody
	sheet, _, _ := mime.ParseMediaType(x.Request().Header.Get("Content-Type"))
	if sheet == "text/csv" {
		take = x.readBody
	}
	return take(x.s.Limits.BatchBytes, func(data []byte) error {
		items, err := x.observed(data, sheet == "text/csv")
		if err != nil {
			return err
		}
		if n := len(items); n > x.s.Limits.BatchItems {
			most := strconv.Itoa(x.s.Limits.BatchItems)
			return fault(domain.Invalid, "batch-too-large", "items", "the batch has "+strconv.Itoa(n)+" items, more than "+most, "split it into batches of at most "+most)
		}
		if err := x.charge(len(items)); err != nil {
			return err
		}
		out := &wire.ObservedBatch{Units: x.system.String(), Items: make([]any, len(items))}
		kept := make([]evidence.Kept, 0, len(items))
		shown := make([]*wire.Observed, 0, len(items))
		out.Counts.Items = len(items)
		for i := range items {
			giveWay(i) // whoever asks meanwhile must not notice that others write
			k, s, err := x.observe(snap, &items[i].body, items[i].decoded)
			if err != nil {
				p := newProblem(x.faults(err), x.system)
				p.RequestID, p.Ref = x.id, items[i].body.Ref
				out.Items[i] = &p
				out.Counts.Problems++
				continue
			}
			out.Items[i] = s
			if k.SetAside {
				out.Counts.SetAside++
			} else {
				out.Counts.Accepted++
			}
			kept, shown = append(kept, *k), append(shown, s)
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), batchTimeout)
		defer cancel()
		first, err := x.s.Store.AddObservations(ctx, kept)
		if err != nil {
			return err
		}
		for i, s := range shown {
			if s.ID = first + int64(i); x.only {
				s.ID = 0
			}
		}
		return x.render(http.StatusOK, out)
	})
}

// batchTimeout is one batch's time at the store.
const batchTimeout = 30 * time.Second

// item is one observation of a batch as it was read.
type item struct {
	body    wire.Observation
	decoded decoded
}

// observed reads the items of a batch.
func (x *exchange) observed(data []byte, sheet bool) ([]item, error) {
	if sheet {
		return x.observedSheet(data)
	}
	var req batchRequest
	d := decodeBody(data, &req, wire.DecodeOptions{RequireUnits: true})
	if x.system = d.system; !d.readable || len(d.faults) > 0 {
		return nil, d.faults
	}
	if req.Items == nil {
		return nil, fault(domain.Unreadable, "field-missing", "items", "a batch has a list of items", "add it")
	}
	items := make([]item, len(req.Items))
	for i, raw := range req.Items {
		items[i].decoded = decodeItem(raw, &items[i].body, x.system)
	}
	return items, nil
}

// observedSheet reads a table whose headings are flat names, such as grade and percent;
// empty cells are left out.
func (x *exchange) observedSheet(data []byte) ([]item, error) {
	table := csv.NewReader(strings.NewReader(string(data)))
	names, err := table.Read()
	if err != nil {
		return nil, fault(domain.Unreadable, "json-invalid", "", "the table has no headings", "name the members on the first line, such as units,kind,grade,percent")
	}
	var items []item
	for {
		cells, err := table.Read()
		if errors.Is(err, io.EOF) {
			return items, nil
		}
		if err != nil {
			return nil, fault(domain.Unreadable, "json-invalid", "", "line "+strconv.Itoa(len(items)+2)+" of the table cannot be read", "send RFC 4180, every line as long as the first")
		}
		values := url.Values{}
		if units := x.query.text("units"); units != "" {
			values.Set("units", units)
		}
		for i, cell := range cells {
			if cell != "" {
				values.Set(names[i], cell)
			}
		}
		var one item
		one.decoded = decodeQuery(values, &one.body)
		x.system = one.decoded.system
		items = append(items, one)
	}
}

// observe works out what an observation says. It is kept in the units in which it came.
func (x *exchange) observe(snap *catalog.Snapshot, w *wire.Observation, d decoded) (*evidence.Kept, *wire.Observed, error) {
	if !d.readable {
		return nil, nil, d.faults
	}
	faults := &cut.Faults{List: d.faults}
	text := checker{faults: faults}
	k := &evidence.Kept{Kind: w.Kind, Who: x.signature(text).Who,
		Lot: text.text("lot", w.Lot, longestName), Edge: text.text("edge_id", w.EdgeID, longestName), At: observedAt(w.At, faults)}
	for kind, sent := range map[string]bool{"load": w.Load != nil, "edge": w.Edge != nil, "surface": w.Surface != nil} {
		switch {
		case sent && kind != w.Kind && w.Kind != "":
			faults.Conflict(kind, "kind is "+w.Kind+"; only its own member belongs here")
		case !sent && kind == w.Kind:
			faults.Missing(kind, "an observation of this kind has its numbers there")
		}
	}
	if w.Kind == "" {
		faults.Missing("kind", "say load, edge or surface")
	}
	if w.Cut == nil {
		faults.Missing("cut", "the cut that was made")
		return nil, nil, faults.List
	}
	own := &cut.Faults{}
	c := cutFromWire(snap, w.Cut, cut.ToEstimate, own)
	if len(own.List) == 0 && c.Material.Grade == nil {
		own.Missing("material.grade", "evidence is of a grade")
	}
	for _, e := range own.List {
		e.Field = "cut." + e.Field
		faults.Any(e)
	}
	load := loadFromWire(w.Load, text)
	edge := edgeFromWire(w.Edge, text)
	surfaceFromWire(w.Surface, text)
	if err := faults.List.OrNil(); err != nil {
		return nil, nil, err
	}
	if w.Load != nil {
		asOverridden(c, w.Load)
	}
	e := estimate.Of(c)
	k.Material, k.Process, k.ToolMaterial = c.Material.Grade.ID, processOf(c.Operation), c.Tool.Material
	if c.Machine != nil {
		k.Machine = c.Machine.ID
	}
	if e.Served != nil {
		k.Record = e.Served.ID
	}
	shown := &wire.Observed{Ref: w.Ref, At: k.At, Who: k.Who, Kind: k.Kind, Material: k.Material, Machine: k.Machine, Lot: k.Lot, EdgeID: k.Edge, Record: k.Record, Reasons: []wire.Reason{}}
	switch k.Kind {
	case "load":
		seen, doubts, ok := load.Read(e)
		k.Doubts, k.SetAside = doubts, !ok || len(doubts) > 0
		if ok {
			k.Seen = &seen
			showSeen(shown, &seen, e)
		}
	case "edge":
		ended, doubts := edge.Read(e)
		k.Ended, k.Doubts, k.SetAside = &ended, doubts, len(doubts) > 0
		shown.AtItsEnd = &ended.Failed
	}
	for _, reason := range k.Doubts {
		shown.Reasons = append(shown.Reasons, wire.Reason{Code: reason.Code, Text: reason.Text})
	}
	shown.State = k.State()
	w.Units = d.system.String()
	var err error
	k.Document, err = wire.AppendJSON(nil, w, d.system)
	return k, shown, err
}

func showSeen(out *wire.Observed, s *evidence.Seen, e *estimate.Estimate) {
	out.NetTorque, out.OfExpected, out.OfRating = unit.Some(s.TorqueNm), above(s.OfExpectedRatio), above(s.OfRatingRatio)
	h := math.Exp(s.ThicknessExp)
	out.ChipThickness = unit.Some(h)
	out.SpecificCuttingForce = unit.Some(math.Exp(s.ForceExp) * math.Pow(h, -evidence.CommonExp))
}

// listObservations answers GET /v1/observations, oldest first.
func listObservations(x *exchange) error {
	if x.s.Store == nil {
		return noStore("there are no observations")
	}
	if _, err := x.now(); err != nil {
		return err
	}
	var faults cut.Faults
	check := checker{faults: &faults}
	q := ObservationsQuery{Kind: check.word("kind", x.query.text("kind"), "load", "edge", "surface"), State: check.word("state", x.query.text("state"), "accepted", "set-aside"),
		Material: x.query.text("material"), Machine: x.query.text("machine")}
	limit, bad := x.query.whole("limit", 1, highestLimit, defaultLimit)
	if bad != nil {
		faults.Any(bad)
	}
	if text := x.query.text("cursor"); text != "" {
		after, err := strconv.ParseInt(text, 36, 64)
		if err != nil || after < 1 {
			faults.Any(invalidCursor("is not one that was given out here"))
		}
		q.After = after
	}
	if err := faults.List.OrNil(); err != nil {
		return err
	}
	q.Limit = int(limit) + 1
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	list, err := x.s.Store.Observations(ctx, q)
	if err != nil {
		return err
	}
	out := &wire.ObservationList{}
	if len(list) > int(limit) {
		list = list[:limit]
		next := strconv.FormatInt(list[limit-1].ID, 36)
		out.NextCursor = &next
		x.link(nextTarget(x.Request().URL, next), "next")
	}
	out.Items = make([]wire.Observed, len(list))
	for i := range list {
		k := &list[i]
		out.Items[i] = wire.Observed{ID: k.ID, At: k.At, Who: k.Who, Kind: k.Kind, State: k.State(), Material: k.Material, Machine: k.Machine, Lot: k.Lot, EdgeID: k.Edge, Record: k.Record, Reasons: make([]wire.Reason, len(k.Doubts))}
		for j, r := range k.Doubts {
			out.Items[i].Reasons[j].Code = r.Code
		}
	}
	return x.conditional(out)
}

func nextTarget(u *url.URL, cursor string) string {
	query := u.Query()
	query.Set("cursor", cursor)
	return u.Path + "?" + query.Encode()
}
