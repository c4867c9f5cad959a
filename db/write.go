package db

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
)

// Write says who writes and why, and under which condition.
type Write struct {
	Who    string // required
	Person string // whom the caller named beside the key it writes with
	Reason string
	// Check, if any, is called inside the transaction with the record as it stands,
	// held against other writers; nil when there is none. An error from it ends the
	// write unchanged. It may be called again when the transaction has to be rerun.
	Check func(current *machine.Machine) error
}

// Written is the outcome of a write.
type Written struct {
	Revision int64 // the data's revision after it; when nothing changed, the newest
	Created  bool  // the record was not there before
	Changed  bool  // false for a write that found everything as it should be
	Machine  *machine.Machine
	Record   *catalog.Record // as it stands then
}

// PutMachine stores a machine under its id. One with the same content as the stored
// one changes nothing and makes no revision.
//
// Errors: those of Check; Invalid when the database's rules refuse a value;
// Unavailable.
func (db *DB) PutMachine(ctx context.Context, m machine.Machine, w Write) (Written, error) {
	row, err := encode(machineRowOf(&m))
	if err != nil {
		return Written{}, err
	}
	var out Written
	err = db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentMachine(ctx, tx, m.ID, w)
		if err != nil {
			return err
		}
		statement := machineTable().update()
		if current == nil {
			statement = machineTable().insert()
		}
		after, err := machinesFrom(tx.Query(ctx, statement+` RETURNING 'machine', to_jsonb(t)::text`, row))
		if err != nil {
			return err
		}
		out = Written{Created: current == nil, Changed: len(after) > 0, Machine: current}
		if out.Changed {
			out.Machine = &after[0]
		}
		out.Revision, err = newestRevision(ctx, tx)
		return err
	})
	if err != nil {
		return Written{}, err
	}
	return out, nil
}

// DeleteMachine removes a machine; the history keeps it.
//
// Errors: those of Check; NotFound when there is none and Check did not mind;
// Unavailable.
func (db *DB) DeleteMachine(ctx context.Context, id string, w Write) (Written, error) {
	var out Written
	err := db.inWrite(ctx, db.config.TransactionTimeout, w, func(tx pgx.Tx) error {
		current, err := currentMachine(ctx, tx, id, w)
		if err != nil {
			return err
		}
		if current == nil {
			return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound,
				Msg: "there is no machine " + id, Fix: "/v1/machines lists all"}
		}
		if _, err := tx.Exec(ctx, `DELETE FROM machine WHERE id = $1`, id); err != nil {
			return err
		}
		out = Written{Changed: true, Machine: current}
		out.Revision, err = newestRevision(ctx, tx)
		return err
	})
	if err != nil {
		return Written{}, err
	}
	return out, nil
}

// currentMachine reads a machine that is about to change and asks Check about it.
// The revision counter is held already, so nobody else changes it meanwhile.
func currentMachine(ctx context.Context, tx pgx.Tx, id string, w Write) (*machine.Machine, error) {
	list, err := machinesFrom(tx.Query(ctx, `SELECT 'machine', to_jsonb(t)::text FROM machine AS t WHERE id = $1 FOR UPDATE`, id))
	if err != nil {
		return nil, err
	}
	var current *machine.Machine
	if len(list) > 0 {
		current = &list[0]
	}
	if w.Check != nil {
		if err := w.Check(current); err != nil {
			return nil, err
		}
	}
	return current, nil
}

func machinesFrom(result pgx.Rows, err error) ([]machine.Machine, error) {
	read, err := decode(result, err)
	if err != nil {
		return nil, err
	}
	list := make([]machine.Machine, len(read.machines))
	for i, row := range read.machines {
		list[i] = row.machine()
	}
	return list, nil
}

func machineTable() *table {
	found, _ := tableNamed("machine")
	return found
}

// encode writes a row as JSON. What JSON cannot say, NaN and infinity, no table holds.
func encode(row any) (string, error) {
	text, err := json.Marshal(row)
	if err != nil {
		return "", &domain.Error{Kind: domain.Invalid, Code: badValue,
			Msg: "a number is not finite", Fix: "send finite numbers", Err: err}
	}
	return string(text), nil
}

// insert, update and remove are the statements of one row, given whole as JSON.
// Statements begin with the table under the name t, for RETURNING.

func (t *table) insert() string {
	columns := strings.Join(t.columns, ", ")
	return fmt.Sprintf(`INSERT INTO %s AS t (%s) SELECT %s FROM jsonb_populate_record(NULL::%s, $1::jsonb)`,
		t.name, columns, columns, t.name)
}

func (t *table) update() string {
	set := make([]string, len(t.columns))
	for i, column := range t.columns {
		set[i] = column + " = x." + column
	}
	return fmt.Sprintf(`UPDATE %s AS t SET %s FROM jsonb_populate_record(NULL::%s, $1::jsonb) AS x WHERE %s`,
		t.name, strings.Join(set, ", "), t.name, t.same())
}

func (t *table) remove() string {
	return fmt.Sprintf(`DELETE FROM %s AS t USING jsonb_populate_record(NULL::%s, $1::jsonb) AS x WHERE %s`,
		t.name, t.name, t.same())
}

func (t *table) same() string {
	parts := make([]string, len(t.keys))
	for i, key := range t.keys {
		parts[i] = "t." + key + " = x." + key
	}
	return strings.Join(parts, " AND ")
}
