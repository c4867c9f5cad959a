package main

import (
	"context"
	"strconv"
	"strings"
	"time"

	"swarf/api"
	"swarf/db"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/machine"
	"swarf/domain/material"
)

// store gives the HTTP edge the database in the shape it asks for.
type store struct{ db *db.DB }

// PutMachine creates or replaces a machine.
func (s store) PutMachine(ctx context.Context, m machine.Machine, w api.Write) (api.Written, error) {
	out, err := s.db.PutMachine(ctx, m, db.Write{Who: w.Who, Person: w.Person, Reason: w.Reason, Check: w.Check})
	return written(out), err
}

// DeleteMachine removes a machine.
func (s store) DeleteMachine(ctx context.Context, id string, w api.Write) (api.Written, error) {
	out, err := s.db.DeleteMachine(ctx, id, db.Write{Who: w.Who, Person: w.Person, Reason: w.Reason, Check: w.Check})
	return written(out), err
}

func written(w db.Written) api.Written {
	out := api.Written{Revision: w.Revision, Created: w.Created, Record: w.Record}
	if w.Machine != nil {
		out.RecordRevision = w.Machine.Revision
	}
	return out
}

// PutRecord writes a draft.
func (s store) PutRecord(ctx context.Context, r catalog.Record, by api.Author, check func(*catalog.Record) error) (api.Written, error) {
	out, err := s.db.PutRecord(ctx, r, dbWrite(by), check)
	return written(out), err
}

// CurateRecord takes a record one step on.
func (s store) CurateRecord(ctx context.Context, id string, by api.Author, step func(*material.Curation) (material.Curation, error)) (api.Written, error) {
	out, err := s.db.CurateRecord(ctx, id, dbWrite(by), step)
	return written(out), err
}

// PutCut keeps a cut.
func (s store) PutCut(ctx context.Context, c catalog.StoredCut, by api.Author, check func(*catalog.StoredCut) error) (api.Written, error) {
	out, kept, err := s.db.PutCut(ctx, c, dbWrite(by), check)
	done := written(out)
	done.Cut = &kept
	return done, err
}

// DeleteCut keeps a cut no longer.
func (s store) DeleteCut(ctx context.Context, id string, by api.Author, check func(*catalog.StoredCut) error) (api.Written, error) {
	out, err := s.db.DeleteCut(ctx, id, dbWrite(by), check)
	return written(out), err
}

// AddObservations keeps observations.
func (s store) AddObservations(ctx context.Context, list []evidence.Kept) (int64, error) {
	return s.db.AddObservations(ctx, list)
}

// Observations reads observations.
func (s store) Observations(ctx context.Context, q api.ObservationsQuery) ([]evidence.Kept, error) {
	return s.db.Observations(ctx, db.ObservationsQuery(q))
}

// ForcePoints reads accepted loads.
func (s store) ForcePoints(ctx context.Context, material, process string, most int) ([]evidence.ForcePoint, error) {
	return s.db.ForcePoints(ctx, material, process, most)
}

// LifePoints reads accepted edges.
func (s store) LifePoints(ctx context.Context, material, process, toolMaterial string, most int) ([]evidence.LifePoint, error) {
	return s.db.LifePoints(ctx, material, process, toolMaterial, most)
}

// Import writes what an import came to.
func (s store) Import(ctx context.Context, what api.Import, by api.Author) (api.Written, error) {
	out, err := s.db.Import(ctx, db.Import(what), dbWrite(by))
	return written(out), err
}

// CurateImport takes the drafts of an import one step on.
func (s store) CurateImport(ctx context.Context, revision int64, by api.Author, step func(*material.Curation) (material.Curation, error)) (int, api.Written, error) {
	n, out, err := s.db.CurateImport(ctx, revision, dbWrite(by), step)
	return n, written(out), err
}

// CreateJob keeps a batch to be computed later.
func (s store) CreateJob(ctx context.Context, j api.Job) (api.Job, error) {
	kept, err := s.db.CreateJob(ctx, db.Job(j))
	return api.Job(kept), err
}

// Job reads a job.
func (s store) Job(ctx context.Context, id int64) (api.Job, error) {
	j, err := s.db.Job(ctx, id)
	return api.Job(j), err
}

// Jobs lists jobs, the newest first.
func (s store) Jobs(ctx context.Context, before int64, limit int) ([]api.Job, error) {
	found, err := s.db.Jobs(ctx, before, limit)
	list := make([]api.Job, len(found))
	for i, j := range found {
		list[i] = api.Job(j)
	}
	return list, err
}

// CancelJob ends a job.
func (s store) CancelJob(ctx context.Context, id int64) (api.Job, error) {
	j, err := s.db.CancelJob(ctx, id)
	return api.Job(j), err
}

// JobParts hands out the answers of a job.
func (s store) JobParts(ctx context.Context, id int64, use func([]byte) error) error {
	return s.db.JobParts(ctx, id, use)
}

// Changes lists changes, oldest first.
func (s store) Changes(ctx context.Context, q api.ChangesQuery) ([]api.Change, error) {
	found, err := s.db.Changes(ctx, db.ChangesQuery{After: q.After, Limit: q.Skip + q.Limit})
	if err != nil {
		return nil, err
	}
	found = found[min(q.Skip, len(found)):]
	list := make([]api.Change, len(found))
	for i, c := range found {
		list[i] = api.Change(c)
	}
	return list, nil
}

// parseAsOf reads what as_of may be: a revision or a time.
func parseAsOf(text string) (db.AsOf, error) {
	if revision, err := strconv.ParseInt(text, 10, 64); err == nil && !strings.HasPrefix(text, "+") {
		return db.AsOf{Revision: &revision}, nil
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		return db.AsOf{}, &domain.Error{Kind: domain.Unreadable, Field: "as_of", Code: "wrong-type",
			Msg: "as_of is neither a revision nor an RFC 3339 time", Fix: "send a whole number or a time such as 2026-03-03T12:00:00Z"}
	}
	return db.AsOf{Time: &at}, nil
}
