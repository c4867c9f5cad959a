package db

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
)

// AsOf names an earlier state: a revision, or the newest one made up to a time.
// Neither means the present.
type AsOf struct {
	Revision *int64
	Time     *time.Time
}

// Revision returns the number of the newest revision, 0 before any data.
//
// Errors: Unavailable.
func (db *DB) Revision(ctx context.Context) (int64, error) {
	var newest int64
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		found, err := newestRevision(ctx, tx)
		newest = found
		return err
	})
	return newest, err
}

func newestRevision(ctx context.Context, tx pgx.Tx) (int64, error) {
	var newest int64
	err := tx.QueryRow(ctx, `SELECT revision FROM data_revision`).Scan(&newest)
	return newest, err
}

// Snapshot reads everything as of one moment, sorted by id. Before anything was
// loaded it has revision 0 and no materials.
//
// Errors: Unavailable; Internal when the tables hold what the program cannot read.
func (db *DB) Snapshot(ctx context.Context) (catalog.Data, error) {
	var data catalog.Data
	err := db.inTimedTx(ctx, db.config.LoadTimeout, reading, func(tx pgx.Tx) error {
		revision, err := newestRevision(ctx, tx)
		if err != nil {
			return err
		}
		present, err := presentRows(ctx, tx)
		if err != nil {
			return err
		}
		data, err = build(ctx, tx, present, revision)
		return err
	})
	return data, err
}

// MachinesSince reads the machines where nothing else changed after a revision, with the
// revision they are of; only is false where something else did, or nothing at all.
//
// Errors: Unavailable; Internal when the tables hold what the program cannot read.
func (db *DB) MachinesSince(ctx context.Context, revision int64) (list []machine.Machine, newest int64, only bool, err error) {
	err = db.inTx(ctx, reading, func(tx pgx.Tx) error {
		var err error
		if newest, err = newestRevision(ctx, tx); err != nil || newest <= revision {
			return err
		}
		if err := tx.QueryRow(ctx, `SELECT coalesce(bool_and(table_name = 'machine'), false) FROM changes WHERE revision > $1`, revision).Scan(&only); err != nil || !only {
			return err
		}
		list, err = machinesFrom(tx.Query(ctx, `SELECT 'machine', to_jsonb(t)::text FROM machine AS t ORDER BY id COLLATE "C"`))
		return err
	})
	return list, newest, only, err
}

// RevisionAt finds the revision that AsOf means.
//
// Errors: as SnapshotAt.
func (db *DB) RevisionAt(ctx context.Context, when AsOf) (int64, error) {
	var found int64
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		revision, err := revisionAt(ctx, tx, when)
		found = revision
		return err
	})
	return found, err
}

// SnapshotAt reads everything as it stood at an earlier revision, rebuilt from the
// changes; it gives the digits that Snapshot gave then.
//
// Errors: Invalid, as-of-unknown, when there is no such revision (none was made up
// to that time, or the time is still to come); Unavailable.
func (db *DB) SnapshotAt(ctx context.Context, when AsOf) (catalog.Data, error) {
	var data catalog.Data
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		revision, err := revisionAt(ctx, tx, when)
		if err != nil {
			return err
		}
		earlier, err := rowsAt(ctx, tx, revision)
		if err != nil {
			return err
		}
		data, err = build(ctx, tx, earlier, revision)
		return err
	})
	return data, err
}

// revisionAt finds the revision that is meant.
func revisionAt(ctx context.Context, tx pgx.Tx, when AsOf) (int64, error) {
	var newest, found int64
	var now time.Time
	err := tx.QueryRow(ctx, `SELECT revision, clock_timestamp() FROM data_revision`).Scan(&newest, &now)
	if err != nil {
		return 0, err
	}
	unknown := func(text string) error {
		return &domain.Error{Kind: domain.Invalid, Field: "as_of", Code: asOf, Msg: text,
			Fix: fmt.Sprintf("take a revision from 1 to %d, the newest, or a time it was there", newest)}
	}
	switch {
	case when.Revision != nil && when.Time != nil:
		return 0, &domain.Error{Kind: domain.Invalid, Field: "as_of", Code: "fields-conflict",
			Msg: "a revision and a time were given", Fix: "give one of them"}
	case when.Revision != nil:
		if *when.Revision < 1 || *when.Revision > newest {
			return 0, unknown(fmt.Sprintf("there is no revision %d", *when.Revision))
		}
		return *when.Revision, nil
	case when.Time != nil:
		if when.Time.After(now) {
			return 0, unknown("the time " + when.Time.UTC().Format(time.RFC3339) + " is still to come")
		}
		err := tx.QueryRow(ctx, `SELECT coalesce((SELECT revision FROM changes WHERE at <= $1 ORDER BY at DESC, revision DESC LIMIT 1), 0)`,
			*when.Time).Scan(&found)
		if err != nil {
			return 0, err
		}
		if found == 0 {
			return 0, unknown("no data was held at " + when.Time.UTC().Format(time.RFC3339))
		}
		return found, nil
	}
	if newest == 0 {
		return 0, unknown("no data is held yet")
	}
	return newest, nil
}

// presentRows reads the tables. One that is not there yet, because its migration
// has not run, has no rows.
func presentRows(ctx context.Context, tx pgx.Tx) (*rows, error) {
	names := make([]string, len(tables))
	for i := range tables {
		names[i] = tables[i].name
	}
	found, err := tx.Query(ctx, `SELECT name FROM unnest($1::text[]) AS n (name) WHERE to_regclass(quote_ident(name)) IS NOT NULL`, names)
	if err != nil {
		return nil, err
	}
	there, err := pgx.CollectRows(found, pgx.RowTo[string])
	if err != nil {
		return nil, err
	}
	if len(there) == 0 {
		return &rows{}, nil
	}
	parts := make([]string, len(there))
	for i, name := range there {
		parts[i] = fmt.Sprintf(`SELECT '%s' AS name, to_jsonb(x)::text AS whole FROM %s AS x`, name, name)
	}
	return decode(tx.Query(ctx, strings.Join(parts, ` UNION ALL `)))
}

// rowsAt rebuilds the tables at a revision: the last state of each row up to it.
func rowsAt(ctx context.Context, tx pgx.Tx, revision int64) (*rows, error) {
	return decode(tx.Query(ctx, `
		SELECT name, whole FROM (
			SELECT DISTINCT ON (table_name, key) table_name AS name, new::text AS whole
			FROM changes WHERE revision <= $1
			ORDER BY table_name, key, revision DESC, sequence DESC
		) AS last WHERE whole IS NOT NULL`, revision))
}

// decode reads rows of any table; rows of a table that this program does not know
// are passed over.
func decode(result pgx.Rows, err error) (*rows, error) {
	if err != nil {
		return nil, err
	}
	defer result.Close()
	var out rows
	for result.Next() {
		var name string
		var whole []byte
		if err := result.Scan(&name, &whole); err != nil {
			return nil, err
		}
		table, known := tableNamed(name)
		if !known {
			continue
		}
		if err := table.decode(&out, whole); err != nil {
			return nil, err
		}
	}
	if err := result.Err(); err != nil {
		return nil, err
	}
	out.sort()
	return &out, nil
}
