package db

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"

	"swarf/domain"
)

// Job is a batch that is computed later, with how far it has come.
type Job struct {
	ID                int64
	Route             string // of the batch
	Units, Query, Who string
	Body              []byte // an item a line
	Items, Done       int
	State, Why        string // waiting, running, finished, failed, cancelled
	Revision          int64  // of the data that it is computed from
	CreatedAt         time.Time
	EndedAt           *time.Time
}

const jobColumns = `id, route, units, query, items, done, state, why, who, revision, created_at, ended_at`

func (j *Job) fields() []any {
	return []any{&j.ID, &j.Route, &j.Units, &j.Query, &j.Items, &j.Done, &j.State, &j.Why, &j.Who, &j.Revision, &j.CreatedAt, &j.EndedAt}
}

// CreateJob keeps a job and queues it, both or neither, and returns it as it stands then.
//
// Errors: Invalid when the database's rules refuse a value; Unavailable.
func (db *DB) CreateJob(ctx context.Context, j Job) (Job, error) {
	var kept Job
	err := db.inTx(ctx, pgx.TxOptions{}, func(tx pgx.Tx) error {
		if err := db.keeps(ctx, tx); err != nil {
			return err
		}
		err := tx.QueryRow(ctx, `INSERT INTO job (route, units, query, body, items, who, revision) VALUES ($1, $2, $3, $4, $5, $6, $7) RETURNING `+jobColumns,
			j.Route, j.Units, j.Query, j.Body, j.Items, j.Who, j.Revision).Scan(kept.fields()...)
		if err != nil {
			return err
		}
		queue, err := db.queue()
		if err != nil {
			return err
		}
		_, err = queue.InsertTx(ctx, tx, sweepArgs{JobID: kept.ID}, &river.InsertOpts{MaxAttempts: mostDeaths})
		note(tx, receipt{kind: "job", number: kept.ID, at: kept.CreatedAt})
		return err
	})
	return kept, err
}

// Job reads a job, without its body.
//
// Errors: NotFound; Unavailable.
func (db *DB) Job(ctx context.Context, id int64) (Job, error) {
	var j Job
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		return tx.QueryRow(ctx, `SELECT `+jobColumns+` FROM job WHERE id = $1`, id).Scan(j.fields()...)
	})
	return j, noJob(id, err)
}

func noJob(id int64, err error) error {
	if errors.Is(err, pgx.ErrNoRows) {
		return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound, Msg: fmt.Sprintf("there is no job %d", id), Fix: "/v1/jobs lists all"}
	}
	return err
}

// Jobs lists jobs, the newest first, those before a number; 0: from the newest on.
//
// Errors: Unavailable.
func (db *DB) Jobs(ctx context.Context, before int64, limit int) ([]Job, error) {
	var list []Job
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		found, err := tx.Query(ctx, `SELECT `+jobColumns+` FROM job WHERE $1 = 0 OR id < $1 ORDER BY id DESC LIMIT $2`, before, limit)
		if err != nil {
			return err
		}
		list, err = pgx.CollectRows(found, func(row pgx.CollectableRow) (Job, error) {
			var j Job
			return j, row.Scan(j.fields()...)
		})
		return err
	})
	return list, err
}

// CancelJob ends a job that has not ended; the parts it has stay.
//
// Errors: NotFound; Unavailable.
func (db *DB) CancelJob(ctx context.Context, id int64) (Job, error) {
	var j Job
	err := db.inTx(ctx, pgx.TxOptions{}, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `UPDATE job SET state = 'cancelled', ended_at = clock_timestamp() WHERE id = $1 AND ended_at IS NULL`, id); err != nil {
			return err
		}
		return tx.QueryRow(ctx, `SELECT `+jobColumns+` FROM job WHERE id = $1`, id).Scan(j.fields()...)
	})
	return j, noJob(id, err)
}

// JobParts hands out the answers of a job, part by part in the order of its items.
//
// Errors: that of the function; Unavailable.
func (db *DB) JobParts(ctx context.Context, id int64, use func(lines []byte) error) error {
	return db.inTimedTx(ctx, db.config.LoadTimeout, reading, func(tx pgx.Tx) error {
		found, err := tx.Query(ctx, `SELECT lines FROM job_part WHERE job_id = $1 ORDER BY from_item`, id)
		if err != nil {
			return err
		}
		var lines []byte
		_, err = pgx.ForEachRow(found, []any{&lines}, func() error { return use(lines) })
		return err
	})
}

// keepPart writes the answers of some items and counts them as done, if nobody else did
// and nobody ended the job; kept says so.
func (db *DB) keepPart(ctx context.Context, id int64, from, to int, lines []byte) (kept bool, err error) {
	err = db.inTx(ctx, pgx.TxOptions{}, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE job SET done = $3, state = CASE WHEN $3 = items THEN 'finished' ELSE 'running' END,
			ended_at = CASE WHEN $3 = items THEN clock_timestamp() END WHERE id = $1 AND done = $2 AND ended_at IS NULL`, id, from, to)
		if kept = err == nil && tag.RowsAffected() == 1; !kept {
			return err
		}
		_, err = tx.Exec(ctx, `INSERT INTO job_part (job_id, from_item, lines) VALUES ($1, $2, $3)`, id, from, lines)
		return err
	})
	return kept && err == nil, err
}

// failJob ends a job that could not be computed.
func (db *DB) failJob(ctx context.Context, id int64, why string) error {
	return db.InTx(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `UPDATE job SET state = 'failed', why = $2, ended_at = clock_timestamp() WHERE id = $1 AND ended_at IS NULL`, id, why)
		return err
	})
}

// wholeJob reads a job with its body.
func (db *DB) wholeJob(ctx context.Context, id int64) (Job, error) {
	var j Job
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		return tx.QueryRow(ctx, `SELECT `+jobColumns+`, body FROM job WHERE id = $1`, id).Scan(append(j.fields(), &j.Body)...)
	})
	return j, noJob(id, err)
}
