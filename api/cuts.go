package api

import (
	"context"
	"net/http"
	"net/url"
	"regexp"
	"strconv"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

var plainCutID = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._~-]{0,127}$`)

// listCuts answers GET /v1/cuts: the cuts that are kept.
func listCuts(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	items, next := slice(x.snap.Cuts(), p)
	out := wire.KeptCutList{Items: make([]wire.KeptCutItem, len(items)), NextCursor: x.next(p, next), DataRevision: x.snap.Revision, ModelVersion: x.s.ModelVersion}
	for i, c := range items {
		out.Items[i] = wire.KeptCutItem{ID: c.ID, Note: c.Note}
	}
	return x.conditional(out)
}

// getCut answers GET /v1/cuts/{id}, in the units in which the cut was sent.
func getCut(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	c, ok := snap.Cut(id)
	if !ok {
		return notFound("cut", id, "/v1/cuts")
	}
	out, system, err := x.s.keptToWire(c)
	if err != nil {
		return err
	}
	x.system = system
	return x.conditional(out)
}

// asked reads a kept cut as it was sent.
func asked(c *catalog.StoredCut) (*wire.Cut, unit.System, error) {
	w := new(wire.Cut)
	d := decodeBody(c.Request, w, wire.DecodeOptions{RequireUnits: true})
	if !d.readable || len(d.faults) > 0 {
		return nil, 0, &domain.Error{Kind: domain.Internal, Code: "internal", Msg: "kept cut " + c.ID + " cannot be read", Err: d.faults.OrNil()}
	}
	return w, d.system, nil
}

func (s *Server) keptToWire(c *catalog.StoredCut) (*wire.KeptCut, unit.System, error) {
	w, system, err := asked(c)
	if err != nil {
		return nil, 0, err
	}
	w.Units = ""
	return &wire.KeptCut{ID: c.ID, Units: system.String(), Cut: w, Note: c.Note, DataRevision: c.Revision, ModelVersion: s.ModelVersion}, system, nil
}

// keptTags are the tags of a kept cut; it has one unit system only.
func (s *Server) keptTags(c *catalog.StoredCut) ([]string, error) {
	out, system, err := s.keptToWire(c)
	if err != nil {
		return nil, err
	}
	body, err := encodeJSON(out, system)
	return []string{etag(formatJSON.contentType(), body)}, err
}

// putCut answers PUT /v1/cuts/{id}. The cut must be one that can be computed now: an
// estimate where it has speed and feed, a recommendation elsewhere.
func putCut(x *exchange) error {
	id, by, condition, err := x.author(true, "cuts cannot be kept")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.KeptCut
		d := decodeBody(data, &body, wire.DecodeOptions{RequireUnits: true})
		x.system = d.system
		if !d.readable {
			return d.faults
		}
		kept, err := keptFromWire(snap, id, &body, d)
		if err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
		defer cancel()
		done, err := x.s.Store.PutCut(ctx, *kept, by, func(present *catalog.StoredCut) error { return x.keptHolds(present, condition) })
		if err != nil {
			return err
		}
		x.settled(ctx, done.Revision)
		out, _, err := x.s.keptToWire(done.Cut)
		if err != nil {
			return err
		}
		answer, err := x.encode(out)
		if err != nil {
			return err
		}
		h := x.Response().Header()
		h.Set("ETag", etag(x.format.contentType(), answer))
		status := http.StatusOK
		if done.Created {
			status = http.StatusCreated
			h.Set("Location", "/v1/cuts/"+url.PathEscape(id))
		}
		return x.send(status, x.format.contentType(), answer)
	})
}

// keptFromWire checks a cut to keep and writes it as it will be kept, in its own units.
func keptFromWire(snap *catalog.Snapshot, id string, body *wire.KeptCut, d decoded) (*catalog.StoredCut, error) {
	faults := &cut.Faults{List: d.faults}
	if !plainCutID.MatchString(id) {
		faults.Any(fault(domain.Invalid, "value-out-of-range", "id", strconv.Quote(clip(id))+" is no id of a cut", "take letters, digits, points, hyphens, underscores and tildes, at most 128"))
	}
	if body.ID != "" && body.ID != id {
		faults.Conflict("id", "the body says "+strconv.Quote(clip(body.ID))+", the path "+strconv.Quote(clip(id)))
	}
	note := checker{faults: faults}.text("note", body.Note, longestNote)
	if body.Cut == nil {
		faults.Missing("cut", "the cut to keep")
		return nil, faults.List
	}
	own := &cut.Faults{}
	cutFromWire(snap, body.Cut, purposeOfKept(body.Cut), own)
	for _, e := range own.List {
		e.Field = "cut." + e.Field
		faults.Any(e)
	}
	if err := faults.List.OrNil(); err != nil {
		return nil, err
	}
	body.Cut.Units = d.system.String()
	request, err := wire.AppendJSON(nil, body.Cut, d.system)
	return &catalog.StoredCut{ID: id, Request: request, Note: note}, err
}

// purposeOfKept is what a kept cut is computed for.
func purposeOfKept(w *wire.Cut) cut.Purpose {
	p := w.Parameters
	if p == nil || p.CuttingSpeed == nil && p.SpindleSpeed == nil || p.FeedPerRevolution == nil && p.FeedPerTooth == nil && p.FeedRate == nil {
		return cut.ToRecommend
	}
	return cut.ToEstimate
}

func (x *exchange) keptHolds(present *catalog.StoredCut, condition precondition) error {
	if present == nil {
		return condition.holds(false, nil)
	}
	tags, err := x.s.keptTags(present)
	if err != nil {
		return err
	}
	return condition.holds(true, tags)
}

// deleteCut answers DELETE /v1/cuts/{id}.
func deleteCut(x *exchange) error {
	id, by, condition, err := x.author(false, "cuts cannot be kept")
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	done, err := x.s.Store.DeleteCut(ctx, id, by, func(present *catalog.StoredCut) error {
		if present == nil {
			return notFound("cut", id, "/v1/cuts")
		}
		return x.keptHolds(present, condition)
	})
	if err != nil {
		return err
	}
	return x.gone(ctx, done.Revision)
}
