package db

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
)

// keptTable is a table whose rows have a history, with the columns of its key.
type keptTable struct {
	name, kind string
	key        []string
}

// keptTables are the tables that write their changes down.
func keptTables(ctx context.Context, tx pgx.Tx) ([]keptTable, error) {
	rows, err := tx.Query(ctx, `SELECT c.relname, string_to_array(encode(t.tgargs, 'escape'), '\000') FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
		WHERE t.tgname = 'note_change' ORDER BY c.relname`)
	if err != nil {
		return nil, err
	}
	var list []keptTable
	var name string
	var arguments []string
	_, err = pgx.ForEachRow(rows, []any{&name, &arguments}, func() error {
		if len(arguments) < 3 {
			return fmt.Errorf("the trigger of %s has no key", name)
		}
		var key []string
		for _, column := range arguments[2:] {
			if column != "" {
				key = append(key, column)
			}
		}
		list = append(list, keptTable{name, arguments[0], key})
		return nil
	})
	return list, err
}

// rows holds every row as it is now against the last change of it. Members that are empty
// count as absent: a column that came later is in no change from before it.
func (a *Audit) rows(ctx context.Context, tx pgx.Tx) error {
	tables, err := keptTables(ctx, tx)
	if err != nil {
		return err
	}
	if len(tables) == 0 {
		a.fault("no table writes its changes down any more")
	}
	for _, t := range tables {
		var key []string
		for _, column := range t.key {
			key = append(key, "whole ->> '"+strings.ReplaceAll(column, "'", "''")+"'")
		}
		found, err := tx.Query(ctx, `WITH last AS (SELECT DISTINCT ON (key) key, action, jsonb_strip_nulls(new) AS whole FROM changes WHERE table_name = $1 ORDER BY key, revision DESC, sequence DESC),
			present AS (SELECT concat_ws('|', `+strings.Join(key, ", ")+`) AS key, jsonb_strip_nulls(whole) AS whole FROM (SELECT to_jsonb(r) AS whole FROM `+pgx.Identifier{t.name}.Sanitize()+` AS r) AS all_rows)
			SELECT coalesce(l.key, p.key), CASE WHEN l.key IS NULL THEN 'is there without a history' WHEN p.key IS NULL THEN 'is gone without a trace'
				WHEN l.action = 'removed' THEN 'is there although it was removed' ELSE 'is not as it was last written' END
			FROM last AS l FULL JOIN present AS p ON p.key = l.key
			WHERE l.key IS NULL OR (p.key IS NULL AND l.action <> 'removed') OR (p.key IS NOT NULL AND l.action = 'removed') OR (p.key IS NOT NULL AND l.action <> 'removed' AND l.whole <> p.whole)
			ORDER BY 1 LIMIT $2`, t.name, mostFaults)
		if err != nil {
			return err
		}
		var row, what string
		if _, err := pgx.ForEachRow(found, []any{&row, &what}, func() error {
			a.fault("%s %s %s", t.name, row, what)
			return nil
		}); err != nil {
			return err
		}
	}
	return nil
}
