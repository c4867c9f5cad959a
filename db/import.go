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
	"swarf/domain/material"
	"swarf/domain/tool"
)

// Import is what a shop brings in at once: whole nouns as they are to be, and records with
// their curation as drafts. What a noun has on record and not here stays.
type Import struct {
	Revision  int64 // of the data that it was checked against
	Sources   []domain.Source
	Materials []material.Material
	Classes   []tool.Class
	Machines  []machine.Machine
	Records   []catalog.Record
}

// chunk is how many rows go to the server in one statement.
const chunk = 2_000

// Import writes it, all or nothing, in one revision. Sources, grades and tool classes are
// the shop's from then on: Load leaves them alone.
//
// Errors: Conflict, import-overtaken, when the data is past the import's revision; Invalid
// when the database's rules refuse a row; Unavailable.
func (db *DB) Import(ctx context.Context, i Import, w Write) (Written, error) {
	put, err := i.rows()
	if err != nil {
		return Written{}, &domain.Error{Kind: domain.Invalid, Code: badValue, Msg: "the import is not sound", Err: err}
	}
	var out Written
	err = db.inWrite(ctx, db.config.LoadTimeout, w, func(tx pgx.Tx) error {
		newest, err := newestRevision(ctx, tx)
		if err != nil {
			return err
		}
		if newest != i.Revision {
			return &domain.Error{Kind: domain.Conflict, Code: "import-overtaken",
				Msg: fmt.Sprintf("the data is at revision %d, the import was checked against %d", newest, i.Revision), Fix: "send it again"}
		}
		for t := range tables {
			if err := upsert(ctx, tx, &tables[t], tables[t].list(put)); err != nil {
				return err
			}
		}
		if out.Revision, err = newestRevision(ctx, tx); err != nil {
			return err
		}
		out.Changed = out.Revision != newest
		return i.mark(ctx, tx, out.Revision)
	})
	return out, err
}

// rows are the rows of the import.
func (i *Import) rows() (*rows, error) {
	put, err := rowsOf(&catalog.Data{Sources: i.Sources, Materials: i.Materials, Classes: i.Classes, Machines: i.Machines})
	if err != nil {
		return nil, err
	}
	for k := range i.Records {
		r := &i.Records[k]
		if err := put.add(r); err != nil {
			return nil, err
		}
		put.lives = append(put.lives, curationRowOf(r.ID, r.Scope(), r.Provenance().Curation))
	}
	return put, nil
}

// mark remembers whose the nouns are.
func (i *Import) mark(ctx context.Context, tx pgx.Tx, revision int64) error {
	var kinds, ids []string
	for _, s := range i.Sources {
		kinds, ids = append(kinds, "source"), append(ids, s.ID)
	}
	for _, m := range i.Materials {
		kinds, ids = append(kinds, "material"), append(ids, m.ID)
	}
	for _, c := range i.Classes {
		kinds, ids = append(kinds, "tool-class"), append(ids, c.ID)
	}
	if len(ids) == 0 {
		return nil
	}
	_, err := tx.Exec(ctx, `INSERT INTO imported (kind, id, revision) SELECT k, i, $3 FROM unnest($1::text[], $2::text[]) AS n (k, i) ON CONFLICT DO NOTHING`, kinds, ids, revision)
	return err
}

// importedNouns are those that a shop imported.
func importedNouns(ctx context.Context, tx pgx.Tx) (map[noun]bool, error) {
	out := map[noun]bool{}
	var there bool
	if err := tx.QueryRow(ctx, `SELECT to_regclass('imported') IS NOT NULL`).Scan(&there); err != nil || !there {
		return out, err
	}
	found, err := tx.Query(ctx, `SELECT kind, id FROM imported`)
	if err != nil {
		return nil, err
	}
	var n noun
	_, err = pgx.ForEachRow(found, []any{&n.kind, &n.id}, func() error {
		out[n] = true
		return nil
	})
	return out, err
}

// noun is the source, grade or tool class that a row belongs to.
func (t *table) noun(fields map[string]string) noun {
	switch t.name {
	case "source":
		return noun{"source", fields["id"]}
	case "material":
		return noun{"material", fields["id"]}
	case "designation", "material_condition", "physical_property":
		return noun{"material", fields["material_id"]}
	case "tool_class":
		return noun{"tool-class", fields["id"]}
	case "tool_property":
		return noun{"tool-class", fields["class_id"]}
	}
	return noun{}
}

// upsert writes rows, added or changed; the triggers let those fall away that are the same.
func upsert(ctx context.Context, tx pgx.Tx, t *table, list []any) error {
	columns := strings.Join(t.columns, ", ")
	set := make([]string, len(t.columns))
	for i, column := range t.columns {
		set[i] = column + " = x." + column
	}
	from := fmt.Sprintf(`jsonb_populate_recordset(NULL::%s, $1::jsonb) AS x`, t.name)
	update := fmt.Sprintf(`UPDATE %s AS t SET %s FROM %s WHERE %s`, t.name, strings.Join(set, ", "), from, t.same())
	insert := fmt.Sprintf(`INSERT INTO %s AS t (%s) SELECT %s FROM %s WHERE NOT EXISTS (SELECT FROM %s AS t WHERE %s)`, t.name, columns, columns, from, t.name, t.same())
	for len(list) > 0 {
		n := min(chunk, len(list))
		text, err := json.Marshal(list[:n])
		if err != nil {
			return &domain.Error{Kind: domain.Invalid, Code: badValue, Msg: "a number is not finite", Fix: "send finite numbers", Err: err}
		}
		for _, statement := range []string{update, insert} {
			if _, err := tx.Exec(ctx, statement, string(text)); err != nil {
				return err
			}
		}
		list = list[n:]
	}
	return nil
}

// CurateImport takes the records that a revision added and that are still drafts one step
// on, all or none, and ends what they supersede. It reports how many there were.
//
// Errors: NotFound when there are none; those of the step, with the record; Unavailable.
func (db *DB) CurateImport(ctx context.Context, revision int64, w Write, step RecordStep) (int, Written, error) {
	var out Written
	var n int
	err := db.inWrite(ctx, db.config.LoadTimeout, w, func(tx pgx.Tx) error {
		found, err := decode(tx.Query(ctx, `SELECT 'curation', to_jsonb(c)::text FROM curation AS c JOIN changes AS x ON x.table_name = 'curation' AND x.key = c.record_id
			WHERE x.revision = $1 AND x.action = 'added' AND c.state = 'draft' ORDER BY c.record_id`, revision))
		if err != nil {
			return err
		}
		if n = len(found.lives); n == 0 {
			return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound, Msg: fmt.Sprintf("revision %d wrote no draft that waits for approval", revision), Fix: "/v1/records?state=draft lists the drafts"}
		}
		after := make([]any, n)
		lives := make([]material.Curation, n)
		for i := range found.lives {
			row := &found.lives[i]
			life := row.curation()
			if lives[i], err = step(life); err != nil {
				return ofRecord(row.RecordID, err)
			}
			after[i] = curationRowOf(row.RecordID, material.Scope(row.scopeRow), &lives[i])
		}
		t, _ := tableNamed("curation")
		if err := upsert(ctx, tx, t, after); err != nil {
			return err
		}
		for i := range lives {
			if err := supersede(ctx, tx, found.lives[i].RecordID, &lives[i]); err != nil {
				return err
			}
		}
		out.Changed = true
		out.Revision, err = newestRevision(ctx, tx)
		return err
	})
	return n, out, err
}

// ofRecord names the record in an error of its step.
func ofRecord(id string, err error) error {
	fault, ok := err.(*domain.Error)
	if !ok {
		return err
	}
	own := *fault
	own.Msg = id + ": " + own.Msg
	return &own
}
