package db

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
)

// LoadOptions says how Load works.
type LoadOptions struct {
	DryRun bool // compare and report, write nothing
	Demo   bool // load the invented rows (basis demo) too; without it they are left as they are
	Who    string
	Reason string
}

// Load makes the tables hold the given reference data and reports what changes. The
// run is one transaction with one revision; one that finds nothing to change makes
// none. What the shop wrote is never touched: rows whose basis is shop, what was
// imported, records that somebody curated, cuts, and any machine that is not demo. Machines are never removed.
//
// Errors: Invalid when the data or a rule of the tables refuses a row, which is
// named; Conflict when a row that would go is still in use; Unavailable.
func (db *DB) Load(ctx context.Context, data catalog.Data, options LoadOptions) (LoadReport, error) {
	want, err := rowsOf(&data)
	if err == nil {
		err = want.check()
	}
	if err != nil {
		return LoadReport{}, &domain.Error{Kind: domain.Invalid, Code: badValue, Msg: "the reference data is not sound", Err: err}
	}
	report := LoadReport{DryRun: options.DryRun}
	compare := func(tx pgx.Tx) ([]step, error) {
		have, err := presentRows(ctx, tx)
		if err != nil {
			return nil, err
		}
		imported, err := importedNouns(ctx, tx)
		if err != nil {
			return nil, err
		}
		steps, kept, err := difference(have, want, imported, options.Demo)
		report.Kept = kept
		report.Changes = nil
		for _, s := range steps {
			report.Changes = append(report.Changes, s.RowChange)
		}
		return steps, err
	}
	if options.DryRun {
		err = db.inTimedTx(ctx, db.config.LoadTimeout, reading, func(tx pgx.Tx) error {
			if _, err := compare(tx); err != nil {
				return err
			}
			report.Revision, err = newestRevision(ctx, tx)
			return err
		})
		return report, err
	}
	by := Write{Who: options.Who, Reason: options.Reason}
	err = db.inWrite(ctx, db.config.LoadTimeout, by, func(tx pgx.Tx) error {
		steps, err := compare(tx)
		if err != nil {
			return err
		}
		if err := apply(ctx, tx, steps); err != nil {
			return err
		}
		report.Revision, err = newestRevision(ctx, tx)
		return err
	})
	if err != nil {
		return LoadReport{}, err
	}
	return report, nil
}

// check refuses records that share an id: the history knows a record by its id alone.
func (r *rows) check() error {
	seen := map[string]string{}
	for _, name := range []string{"force_record", "starting_record", "life_record"} {
		t, _ := tableNamed(name)
		for _, row := range t.list(r) {
			fields, err := fieldsOf(row)
			if err != nil {
				return err
			}
			id := fields["id"]
			if other, twice := seen[id]; twice {
				return fmt.Errorf("record id %s stands in %s and in %s", id, other, name)
			}
			seen[id] = name
		}
	}
	return nil
}

// step is one change with the row as it is to be, or was.
type step struct {
	RowChange
	table *table
	row   any
}

// difference compares two states of the tables, table by table in order, and lists
// the rows that were left alone because they are the shop's.
func difference(have, want *rows, imported map[noun]bool, demo bool) ([]step, []string, error) {
	var steps []step
	var kept []string
	curated := have.curations()
	shops := func(t *table, fields map[string]string) bool {
		return t.shops(fields) || t.recorded() && curated[fields["id"]] != nil || imported[t.noun(fields)]
	}
	for i := range tables {
		t := &tables[i]
		if t.name == "curation" || t.name == "stored_cut" {
			continue
		}
		there := map[string]map[string]string{}
		olds := map[string]any{}
		for _, row := range t.list(have) {
			fields, err := fieldsOf(row)
			if err != nil {
				return nil, nil, err
			}
			there[t.key(fields)], olds[t.key(fields)] = fields, row
		}
		wanted := map[string]bool{}
		for _, row := range t.list(want) {
			fields, err := fieldsOf(row)
			if err != nil {
				return nil, nil, err
			}
			key := t.key(fields)
			if wanted[key] {
				return nil, nil, &domain.Error{Kind: domain.Invalid, Code: badValue, Msg: t.name + " " + key + " stands twice in the data"}
			}
			wanted[key] = true
			old, present := there[key]
			change := RowChange{Table: t.name, Key: key, Action: "added"}
			if present {
				change.Action = "changed"
				change.Fields = differing(t, old, fields)
			}
			switch {
			case fields["basis"] == string(domain.Demo) && !demo, present && len(change.Fields) == 0:
			case present && shops(t, old):
				kept = append(kept, t.name+" "+key)
			default:
				steps = append(steps, step{change, t, row})
			}
		}
		for key, old := range there {
			if wanted[key] || shops(t, old) || t.name == "machine" || old["basis"] == string(domain.Demo) && !demo {
				continue
			}
			steps = append(steps, step{RowChange{Table: t.name, Key: key, Action: "removed"}, t, olds[key]})
		}
	}
	place := func(t *table) int { return slices.IndexFunc(tables, func(x table) bool { return x.name == t.name }) }
	slices.SortStableFunc(steps, func(a, b step) int {
		if order := place(a.table) - place(b.table); order != 0 {
			return order
		}
		return strings.Compare(a.Key, b.Key)
	})
	return steps, kept, nil
}

// shops reports a row that only the shop may change.
func (t *table) shops(fields map[string]string) bool {
	if t.name == "machine" {
		return fields["basis"] != string(domain.Demo)
	}
	return fields["basis"] == string(domain.Shop)
}

// recorded reports a table of records.
func (t *table) recorded() bool {
	return t.name == "force_record" || t.name == "starting_record" || t.name == "life_record"
}

// key joins the key columns as the triggers do.
func (t *table) key(fields map[string]string) string {
	parts := make([]string, len(t.keys))
	for i, name := range t.keys {
		parts[i] = fields[name]
	}
	return strings.Join(parts, "|")
}

// fieldsOf writes a row column by column; text without its quotes.
func fieldsOf(row any) (map[string]string, error) {
	whole, err := encode(row)
	if err != nil {
		return nil, err
	}
	var raw map[string]json.RawMessage
	if err := json.Unmarshal([]byte(whole), &raw); err != nil {
		return nil, err
	}
	fields := make(map[string]string, len(raw))
	for name, value := range raw {
		text := string(value)
		if value[0] == '"' {
			if err := json.Unmarshal(value, &text); err != nil {
				return nil, err
			}
		}
		fields[name] = text
	}
	return fields, nil
}

func differing(t *table, old, new map[string]string) []FieldChange {
	var changes []FieldChange
	for _, name := range t.columns {
		if old[name] != new[name] {
			changes = append(changes, FieldChange{Field: name, Old: old[name], New: new[name]})
		}
	}
	return changes
}

// apply writes the steps: first what is added and changed, from sources down to
// what refers to them, then what is removed, the other way round. All go to the
// server at once; the first that is refused is named.
func apply(ctx context.Context, tx pgx.Tx, steps []step) error {
	var batch pgx.Batch
	var order []step
	queue := func(s step, statement string) error {
		text, err := encode(s.row)
		if err != nil {
			return named(s, err)
		}
		batch.Queue(statement, text)
		order = append(order, s)
		return nil
	}
	for _, s := range steps {
		switch s.Action {
		case "added":
			if err := queue(s, s.table.insert()); err != nil {
				return err
			}
		case "changed":
			if err := queue(s, s.table.update()); err != nil {
				return err
			}
		}
	}
	for _, s := range slices.Backward(steps) {
		if s.Action == "removed" {
			if err := queue(s, s.table.remove()); err != nil {
				return err
			}
		}
	}
	sent := tx.SendBatch(ctx, &batch)
	defer sent.Close()
	for _, s := range order {
		if _, err := sent.Exec(); err != nil {
			return named(s, err)
		}
	}
	return sent.Close()
}

// named adds the row to an error about it; a transaction to be rerun stays as it is.
func named(s step, err error) error {
	if givenUp(err) {
		return err
	}
	fault, ok := translate(err).(*domain.Error)
	if !ok {
		return err
	}
	out := *fault
	out.Field = s.Table + " " + s.Key
	return &out
}
