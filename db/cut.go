package db

import (
	"context"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
)

// PutCut keeps a cut under its id, as PutMachine does a machine.
//
// Errors: those of check; Invalid; Unavailable.
func (db *DB) PutCut(ctx context.Context, c catalog.StoredCut, w Write, check func(*catalog.StoredCut) error) (Written, catalog.StoredCut, error) {
	var out Written
	var kept catalog.StoredCut
	err := db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentCut(ctx, tx, c.ID, check)
		if err != nil {
			return err
		}
		t, _ := tableNamed("stored_cut")
		if err := write(ctx, tx, t, cutRow{ID: c.ID, Request: c.Request, Note: c.Note}, current == nil); err != nil {
			return err
		}
		after, err := currentCut(ctx, tx, c.ID, nil)
		if err != nil {
			return err
		}
		kept = *after
		out = Written{Created: current == nil, Changed: current == nil || current.Revision != after.Revision}
		out.Revision, err = newestRevision(ctx, tx)
		return err
	})
	return out, kept, err
}

// DeleteCut keeps a cut no longer; the history does.
//
// Errors: those of check; NotFound; Unavailable.
func (db *DB) DeleteCut(ctx context.Context, id string, w Write, check func(*catalog.StoredCut) error) (Written, error) {
	var out Written
	err := db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentCut(ctx, tx, id, check)
		if err != nil {
			return err
		}
		if current == nil {
			return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound, Msg: "there is no cut " + id, Fix: "/v1/cuts lists all"}
		}
		if _, err := tx.Exec(ctx, `DELETE FROM stored_cut WHERE id = $1`, id); err != nil {
			return err
		}
		out.Changed = true
		out.Revision, err = newestRevision(ctx, tx)
		return err
	})
	return out, err
}

func currentCut(ctx context.Context, tx pgx.Tx, id string, check func(*catalog.StoredCut) error) (*catalog.StoredCut, error) {
	found, err := decode(tx.Query(ctx, `SELECT 'stored_cut', to_jsonb(t)::text FROM stored_cut AS t WHERE id = $1`, id))
	if err != nil {
		return nil, err
	}
	var current *catalog.StoredCut
	if len(found.cuts) > 0 {
		c := found.cuts[0].cut()
		current = &c
	}
	if check != nil {
		return current, check(current)
	}
	return current, nil
}
