package api

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// recordRoutes are the rows of records and of the cuts that are kept beside them.
func recordRoutes() []route {
	return []route{
		{http.MethodGet, "/v1/records", listRecords, reading, []string{"kind", "state", "material", "limit", "cursor", "as_of"}, tableFormats},
		{http.MethodGet, "/v1/records/{id}", getRecord, reading, recordParameters, recordFormats},
		{http.MethodPut, "/v1/records/{id}", putRecord, writing, []string{"reason"}, recordFormats},
		{http.MethodPost, "/v1/records/{id}/approval", approveRecord, approving, nil, tableFormats},
		{http.MethodPost, "/v1/records/{id}/withdrawal", withdrawRecord, approving, nil, tableFormats},
		{http.MethodGet, "/v1/records/{id}/impact", getImpact, reading, []string{"as_of"}, tableFormats},
		{http.MethodGet, "/v1/cuts", listCuts, reading, []string{"limit", "cursor", "as_of"}, tableFormats},
		{http.MethodGet, "/v1/cuts/{id}", getCut, reading, []string{"as_of"}, recordFormats},
		{http.MethodPut, "/v1/cuts/{id}", putCut, writing, []string{"reason"}, recordFormats},
		{http.MethodDelete, "/v1/cuts/{id}", deleteCut, writing, []string{"reason"}, nil},
	}
}

// listRecords answers GET /v1/records.
func listRecords(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	kind, state, about := x.query.text("kind"), x.query.text("state"), x.query.text("material")
	var faults cut.Faults
	check := checker{faults: &faults}
	check.word("kind", kind, "force", "starting", "life")
	check.word("state", state, string(material.Draft), string(material.Approved), string(material.Superseded), string(material.Withdrawn))
	if err := faults.List.OrNil(); err != nil {
		return err
	}
	var fits []*catalog.Record
	for _, r := range x.snap.Records() {
		if (kind == "" || r.Kind() == kind) && (state == "" || string(r.State()) == state) && (about == "" || r.Scope().Key == about) {
			fits = append(fits, r)
		}
	}
	items, next := slice(fits, p)
	out := wire.RecordList{Items: make([]wire.RecordItem, len(items)), NextCursor: x.next(p, next), DataRevision: x.snap.Revision, ModelVersion: x.s.ModelVersion}
	for i, r := range items {
		out.Items[i] = recordItem(r)
	}
	return x.conditional(out)
}

func recordItem(r *catalog.Record) wire.RecordItem {
	p := r.Provenance()
	out := wire.RecordItem{ID: r.ID, Kind: r.Kind(), State: string(r.State()), InForce: p.Serves(), Scope: scopeToWire(r.Scope()), Basis: string(p.Basis), Source: p.Source}
	if c := p.Curation; c != nil {
		out.Author, out.Approver, out.Supersedes = c.Author, c.Approver, c.Supersedes
	}
	return out
}

// getRecord answers GET /v1/records/{id}: a record in any state.
func getRecord(x *exchange) error {
	r, err := x.record()
	if err != nil {
		return err
	}
	return x.conditional(x.s.recordToWire(r, x.system))
}

// record finds the record of the path.
func (x *exchange) record() (*catalog.Record, error) {
	id, err := x.pathValue("id")
	if err != nil {
		return nil, err
	}
	snap, err := x.now()
	if err != nil {
		return nil, err
	}
	r, ok := snap.Record(id)
	if !ok {
		return nil, notFound("record", id, "/v1/records")
	}
	return r, nil
}

// recordToWire is a record with its life.
func (s *Server) recordToWire(r *catalog.Record, system unit.System) *wire.Record {
	out := &wire.Record{ID: r.ID, Kind: r.Kind(), Units: system.String(), State: string(r.State()), InForce: r.Provenance().Serves(), ModelVersion: s.ModelVersion}
	switch {
	case r.Force != nil:
		f := forceToWire(r.Force, system)
		out.Force = &f
	case r.Starting != nil:
		f := startingToWire(r.Starting, system)
		out.Starting = &f
	case r.Life != nil:
		l := lifeToWire(r.Life)
		out.Life = &l
	}
	if c := r.Provenance().Curation; c != nil {
		out.Author, out.Approver, out.Reason = c.Author, c.Approver, c.Reason
		out.ValidFrom, out.ValidTo, out.Supersedes, out.SupersededBy = c.ValidFrom, c.ValidTo, c.Supersedes, c.SupersededBy
		out.Safety, out.PastReview, out.ReviewBy, out.DataRevision = c.Safety, c.PastReview, c.ReviewBy, c.Revision
		out.Drift = above(c.DriftRatio)
		if c.Lots > 0 {
			out.Lots = pointer(float64(c.Lots))
		}
	}
	return out
}

// recordTags are the tags of a record in either unit system.
func (s *Server) recordTags(r *catalog.Record) ([]string, error) {
	return tagsOf(func(system unit.System) any { return s.recordToWire(r, system) })
}

// putRecord answers PUT /v1/records/{id}: 201 when it made a draft, 200 when it wrote one
// anew.
func putRecord(x *exchange) error {
	id, by, condition, err := x.author(true, "records cannot be stored")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.Record
		d := decodeBody(data, &body, wire.DecodeOptions{RequireUnits: true})
		x.system = d.system
		if !d.readable {
			return d.faults
		}
		faults := &cut.Faults{List: d.faults}
		if body.ID != "" && body.ID != id {
			faults.Conflict("id", "the body says "+strconv.Quote(clip(body.ID))+", the path "+strconv.Quote(clip(id)))
		}
		r := recordFromWire(snap, id, &body, d.system, faults)
		if err := faults.List.OrNil(); err != nil {
			return err
		}
		life := r.Provenance().Curation
		life.Author, life.Reason = by.Who, by.Reason
		ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
		defer cancel()
		done, err := x.s.Store.PutRecord(ctx, *r, by, func(present *catalog.Record) error {
			if present == nil {
				return condition.holds(false, nil)
			}
			tags, err := x.s.recordTags(present)
			if err != nil {
				return err
			}
			return condition.holds(true, tags)
		})
		if err != nil {
			return err
		}
		status := http.StatusOK
		if done.Created {
			status = http.StatusCreated
			x.Response().Header().Set("Location", "/v1/records/"+url.PathEscape(id))
		}
		return x.recordNow(ctx, status, done)
	})
}

// recordNow answers with a record as it stands after a write.
func (x *exchange) recordNow(ctx context.Context, status int, done Written) error {
	x.settled(ctx, done.Revision)
	body, err := x.encode(x.s.recordToWire(done.Record, x.system))
	if err != nil {
		return err
	}
	x.Response().Header().Set("ETag", etag(x.format.contentType(), body))
	return x.send(status, x.format.contentType(), body)
}

// approveRecord answers POST /v1/records/{id}/approval.
func approveRecord(x *exchange) error {
	return step(x, func(body *wire.Approval) string { return body.Reason }, func(body *wire.Approval, text checker, s material.Step) curing {
		from := validFrom(body, text, s)
		return func(c *material.Curation) (material.Curation, error) { return c.Approve(s, from) }
	})
}

// validFrom is from when an approval holds: at once when it does not say.
func validFrom(body *wire.Approval, text checker, s material.Step) string {
	if body.ValidFrom == "" {
		return s.At
	}
	at, err := time.Parse(time.RFC3339, body.ValidFrom)
	if err != nil {
		text.faults.Any(fault(domain.Unreadable, "wrong-type", "valid_from", strconv.Quote(clip(body.ValidFrom))+" is no RFC 3339 time", "send a time such as 2026-03-03T06:00:00Z"))
	}
	return stampOf(at)
}

// withdrawRecord answers POST /v1/records/{id}/withdrawal.
func withdrawRecord(x *exchange) error {
	return step(x, func(body *wire.Withdrawal) string { return body.Reason }, func(body *wire.Withdrawal, _ checker, s material.Step) curing {
		safety := body.Safety != nil && *body.Safety
		return func(c *material.Curation) (material.Curation, error) { return c.Withdraw(s, safety) }
	})
}

// stampOf is a time as records hold it.
func stampOf(at time.Time) string { return at.UTC().Format("2006-01-02T15:04:05Z") }

// stepOf reads who takes a step and why.
func (x *exchange) stepOf(text checker, reason string) material.Step {
	s := material.Step{Who: x.signature(text).Who, At: stampOf(time.Now())}
	if x.key == nil && x.Request().Header.Get("From") == "" {
		text.faults.Missing("From", "a named person takes this step: their key names them, or the From header")
	}
	if s.Reason = text.text("reason", reason, longestReason); s.Reason == "" {
		text.faults.Missing("reason", "say why")
	}
	return s
}

// stepAuthor is who takes a step, for the history.
func (x *exchange) stepAuthor(s material.Step) Author {
	by := x.signature(checker{faults: &cut.Faults{}})
	by.Reason = s.Reason
	return by
}

// curing is what a step does to the life of a record.
type curing func(*material.Curation) (material.Curation, error)

// step reads the body of a step on a record, takes the step and answers with the record.
// Whoever takes it is named, and says why.
func step[Body any](x *exchange, reason func(*Body) string, read func(*Body, checker, material.Step) curing) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	if x.s.Store == nil {
		return noStore("records cannot be stored")
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body Body
		d := decodeBody(data, &body, wire.DecodeOptions{})
		if !d.readable {
			return d.faults
		}
		faults := &cut.Faults{List: d.faults}
		text := checker{faults: faults}
		s := x.stepOf(text, reason(&body))
		do := read(&body, text, s)
		if err := faults.List.OrNil(); err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
		defer cancel()
		done, err := x.s.Store.CurateRecord(ctx, id, x.stepAuthor(s), do)
		if err != nil {
			return err
		}
		return x.recordNow(ctx, http.StatusOK, done)
	})
}
