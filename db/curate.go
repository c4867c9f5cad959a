package db

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// reference stands for the author of a record that came with the reference data.
const reference = "reference data"

// RecordStep is what becomes of a record's curation; current is nil for reference data
// and for a record that is not there yet.
type RecordStep func(current *material.Curation) (material.Curation, error)

// Stamp is a time as curations hold it: RFC 3339 in UTC, to the second.
func Stamp(at time.Time) string { return at.UTC().Format("2006-01-02T15:04:05Z") }

// PutRecord writes a draft, or writes it anew. Check, if any, sees the record as it
// stands, nil when there is none, inside the transaction.
//
// Errors: those of check and of Curation.Revise; Invalid when the database's rules refuse a
// value; Unavailable.
func (db *DB) PutRecord(ctx context.Context, r catalog.Record, w Write, check func(*catalog.Record) error) (Written, error) {
	var put rows
	if err := put.add(&r); err != nil {
		return Written{}, &domain.Error{Kind: domain.Invalid, Code: badValue, Msg: "the record is not sound", Err: err}
	}
	var out Written
	err := db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentRecord(ctx, tx, r.ID)
		if err != nil {
			return err
		}
		if check != nil {
			if err := check(current); err != nil {
				return err
			}
		}
		life := *r.Provenance().Curation
		if current != nil {
			now := current.Provenance().Curation
			if now == nil {
				now = &material.Curation{State: material.Approved}
			}
			if _, err := now.Revise(material.Step{Who: w.Who, Reason: w.Reason}); err != nil {
				return err
			}
			if current.Kind() != r.Kind() {
				return &domain.Error{Kind: domain.Invalid, Code: "fields-conflict", Field: "kind", Msg: "the record is of kind " + current.Kind(), Fix: "take another id"}
			}
		}
		if life.Supersedes != "" {
			old, err := currentRecord(ctx, tx, life.Supersedes)
			if err != nil {
				return err
			}
			if old == nil || old.Kind() != r.Kind() {
				return &domain.Error{Kind: domain.Invalid, Code: badValue, Field: "supersedes", Msg: "there is no " + r.Kind() + " record " + life.Supersedes, Fix: "/v1/records lists all"}
			}
		}
		for i := range tables {
			for _, row := range tables[i].list(&put) {
				if err := write(ctx, tx, &tables[i], row, current == nil); err != nil {
					return err
				}
			}
		}
		if err := writeCuration(ctx, tx, r.ID, r.Scope(), &life); err != nil {
			return err
		}
		out.Created, out.Changed = current == nil, true
		return out.now(ctx, tx, r.ID)
	})
	return out, err
}

// CurateRecord takes a record one step on: approves it, withdraws it. What an approved one
// supersedes is ended in the same transaction.
//
// Errors: NotFound; those of the step; Unavailable.
func (db *DB) CurateRecord(ctx context.Context, id string, w Write, step RecordStep) (Written, error) {
	var out Written
	err := db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentRecord(ctx, tx, id)
		if err != nil {
			return err
		}
		if current == nil {
			return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound, Msg: "there is no record " + id, Fix: "/v1/records lists all"}
		}
		life := curationOf(current)
		after, err := step(&life)
		if err != nil {
			return err
		}
		if err := writeCuration(ctx, tx, id, current.Scope(), &after); err != nil {
			return err
		}
		if err := supersede(ctx, tx, id, &after); err != nil {
			return err
		}
		out.Changed = true
		return out.now(ctx, tx, id)
	})
	return out, err
}

// now reads the record and the revision as they stand after the write.
func (w *Written) now(ctx context.Context, tx pgx.Tx, id string) (err error) {
	if w.Record, err = currentRecord(ctx, tx, id); err != nil {
		return err
	}
	w.Revision, err = newestRevision(ctx, tx)
	return err
}

// KeepCalendar applies the day to the records: those whose time has come come into force
// and end what they supersede, those past their review are marked. It writes, as swarf,
// only when something is due, and reports what.
//
// Errors: Unavailable.
func (db *DB) KeepCalendar(ctx context.Context, now time.Time) (due int, err error) {
	at := Stamp(now)
	const waiting = `SELECT 'curation', to_jsonb(t)::text FROM curation AS t WHERE state = 'approved'
		AND (NOT in_force AND valid_from <= $1 OR NOT past_review AND review_by <> '' AND review_by < left($1, 10))`
	look := func(tx pgx.Tx) (*rows, error) { return decode(tx.Query(ctx, waiting, at)) }
	err = db.inTx(ctx, reading, func(tx pgx.Tx) error {
		found, err := look(tx)
		if err == nil {
			due = len(found.lives)
		}
		return err
	})
	if err != nil || due == 0 {
		return due, err
	}
	err = db.inWrite(ctx, db.config.TransactionTimeout, Write{Who: "swarf", Reason: "the calendar"}, func(tx pgx.Tx) error {
		found, err := look(tx) // another replica may have been here
		if err != nil {
			return err
		}
		due = 0
		for i := range found.lives {
			row := &found.lives[i]
			after, changed := row.curation().Today(at)
			if !changed {
				continue
			}
			due++
			if err := writeCuration(ctx, tx, row.RecordID, material.Scope(row.scopeRow), &after); err != nil {
				return err
			}
			if err := supersede(ctx, tx, row.RecordID, &after); err != nil {
				return err
			}
		}
		return nil
	})
	return due, err
}

// supersede ends what a record that came into force takes the place of.
func supersede(ctx context.Context, tx pgx.Tx, id string, by *material.Curation) error {
	if by.Supersedes == "" || !by.InForce {
		return nil
	}
	old, err := currentRecord(ctx, tx, by.Supersedes)
	if err != nil || old == nil {
		return err
	}
	was := curationOf(old)
	if was.SupersededBy == id {
		return nil
	}
	life := was.Supersede(id, by.ValidFrom)
	return writeCuration(ctx, tx, old.ID, old.Scope(), &life)
}

// curationOf is a record's curation; reference data has been in force from the beginning.
func curationOf(r *catalog.Record) material.Curation {
	if c := r.Provenance().Curation; c != nil {
		return *c
	}
	return material.Curation{Kind: r.Kind(), State: material.Approved, InForce: true, Author: reference, Approver: "the project", ValidFrom: "0001-01-01T00:00:00Z"}
}

// currentRecord reads a record, nil when there is none.
func currentRecord(ctx context.Context, tx pgx.Tx, id string) (*catalog.Record, error) {
	found, err := decode(tx.Query(ctx, `
		SELECT 'force_record', to_jsonb(t)::text FROM force_record AS t WHERE id = $1
		UNION ALL SELECT 'starting_record', to_jsonb(t)::text FROM starting_record AS t WHERE id = $1
		UNION ALL SELECT 'life_record', to_jsonb(t)::text FROM life_record AS t WHERE id = $1
		UNION ALL SELECT 'curation', to_jsonb(t)::text FROM curation AS t WHERE record_id = $1`, id))
	if err != nil {
		return nil, err
	}
	r := &catalog.Record{ID: id}
	switch {
	case len(found.force) > 0:
		f := found.force[0].record()
		r.Force = &f
	case len(found.starting) > 0:
		s := found.starting[0].record()
		r.Starting = &s
	case len(found.life) > 0:
		l := found.life[0].record()
		r.Life = &l
	default:
		return nil, nil
	}
	r.Provenance().Curation = found.curations()[id]
	return r, nil
}

// add turns a record into its row.
func (r *rows) add(record *catalog.Record) error {
	switch {
	case record.Force != nil:
		return r.addForce(*record.Force)
	case record.Starting != nil:
		return r.addStarting(*record.Starting)
	case record.Life != nil:
		r.addLife(*record.Life)
		return nil
	}
	return fmt.Errorf("record %s is of no kind", record.ID)
}

func write(ctx context.Context, tx pgx.Tx, t *table, row any, fresh bool) error {
	text, err := encode(row)
	if err != nil {
		return err
	}
	statement := t.update()
	if fresh {
		statement = t.insert()
	}
	_, err = tx.Exec(ctx, statement, text)
	return err
}

func writeCuration(ctx context.Context, tx pgx.Tx, id string, scope material.Scope, c *material.Curation) error {
	t, _ := tableNamed("curation")
	row := curationRowOf(id, scope, c)
	var there bool
	if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM curation WHERE record_id = $1)`, id).Scan(&there); err != nil {
		return err
	}
	return write(ctx, tx, t, row, !there)
}
