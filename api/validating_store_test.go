package api_test

import (
	"context"
	"maps"
	"slices"

	"swarf/api"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/machine"
	"swarf/domain/material"
)

// undoing is a shop that undoes what was only to be checked, as the database does.
type undoing struct{ *shop }

// under runs a write, and undoes it where the context says so.
func (u undoing) under(ctx context.Context, write func()) {
	u.mu.Lock()
	data, snaps, log, seen, drafts := u.data, slices.Clone(u.snaps), slices.Clone(u.log), slices.Clone(u.seen), maps.Clone(u.drafts)
	data.Machines, data.Cuts = slices.Clone(data.Machines), slices.Clone(data.Cuts)
	data.Force, data.Starting, data.Life = slices.Clone(data.Force), slices.Clone(data.Starting), slices.Clone(data.Life)
	u.mu.Unlock()
	write()
	if api.ValidatesOnly(ctx) {
		u.mu.Lock()
		u.data, u.snaps, u.log, u.seen, u.drafts = data, snaps, log, seen, drafts
		u.mu.Unlock()
	}
}

func (u undoing) PutMachine(ctx context.Context, m machine.Machine, w api.Write) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.PutMachine(ctx, m, w) })
	return out, err
}

func (u undoing) DeleteMachine(ctx context.Context, id string, w api.Write) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.DeleteMachine(ctx, id, w) })
	return out, err
}

func (u undoing) PutRecord(ctx context.Context, r catalog.Record, by api.Author, check func(*catalog.Record) error) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.PutRecord(ctx, r, by, check) })
	return out, err
}

func (u undoing) CurateRecord(ctx context.Context, id string, by api.Author, step func(*material.Curation) (material.Curation, error)) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.CurateRecord(ctx, id, by, step) })
	return out, err
}

func (u undoing) PutCut(ctx context.Context, c catalog.StoredCut, by api.Author, check func(*catalog.StoredCut) error) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.PutCut(ctx, c, by, check) })
	return out, err
}

func (u undoing) DeleteCut(ctx context.Context, id string, by api.Author, check func(*catalog.StoredCut) error) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.DeleteCut(ctx, id, by, check) })
	return out, err
}

func (u undoing) AddObservations(ctx context.Context, list []evidence.Kept) (first int64, err error) {
	u.under(ctx, func() { first, err = u.shop.AddObservations(ctx, list) })
	return first, err
}

func (u undoing) Import(ctx context.Context, what api.Import, by api.Author) (out api.Written, err error) {
	u.under(ctx, func() { out, err = u.shop.Import(ctx, what, by) })
	return out, err
}

func (u undoing) CurateImport(ctx context.Context, revision int64, by api.Author, step func(*material.Curation) (material.Curation, error)) (n int, out api.Written, err error) {
	u.under(ctx, func() { n, out, err = u.shop.CurateImport(ctx, revision, by, step) })
	return n, out, err
}

func (u undoing) CancelJob(ctx context.Context, id int64) (api.Job, error) {
	if !api.ValidatesOnly(ctx) {
		return u.shop.CancelJob(ctx, id)
	}
	j, err := u.Job(ctx, id)
	if err == nil && j.EndedAt == nil {
		j.State = "cancelled"
	}
	return j, err
}
