package db_test

import (
	"context"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"swarf/db"
	"swarf/db/dbtest"
)

// forge runs statements with every guard of the database switched off, as only its owner can.
func forge(t *testing.T, address string, statements ...string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	for _, s := range append([]string{`SET session_replication_role = replica`}, statements...) {
		if _, err := conn.Exec(t.Context(), s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
}

// history is a database with some revisions of machines.
func history(t *testing.T) (*db.DB, string) {
	t.Helper()
	address := dbtest.URL(t)
	pg := dbtest.Open(t, address)
	insert := func(who string, statements ...string) {
		err := pg.InTx(t.Context(), func(tx pgx.Tx) error {
			for _, s := range append([]string{`SELECT set_config('swarf.who', '` + who + `', true)`}, statements...) {
				if _, err := tx.Exec(t.Context(), s); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	insert("ann", `INSERT INTO source (id, author, title, year, place, address, kind, access, note) VALUES ('a', '', 'A book', '', '', '', 'shop record', '', ''), ('b', '', 'Another', '', '', '', 'shop record', '', '')`)
	insert("bob", `UPDATE source SET title = 'A better book' WHERE id = 'a'`)
	insert("cleo", `INSERT INTO source (id, author, title, year, place, address, kind, access, note) VALUES ('c', '', 'A third', '', '', '', 'shop record', '', '')`, `DELETE FROM source WHERE id = 'b'`)
	return pg, address
}

func audit(t *testing.T, pg *db.DB, known *db.Seal) db.Audit {
	t.Helper()
	a, err := pg.Audit(t.Context(), known)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A history as it was written is sound, and its seals are computed alike in the database
// and here.
func TestAuditOfASoundHistory(t *testing.T) {
	pg, _ := history(t)
	a := audit(t, pg, nil)
	if len(a.Faults) > 0 || a.Revisions != 3 || a.Changes != 5 || a.Head.Revision != 3 {
		t.Fatalf("%+v", a)
	}
	again, err := db.ParseSeal(a.Head.String())
	if err != nil || again != a.Head {
		t.Fatalf("%v, %v", again, err)
	}
	if b := audit(t, pg, &again); len(b.Faults) > 0 {
		t.Errorf("%v", b.Faults)
	}
	if empty := audit(t, dbtest.New(t), nil); len(empty.Faults) > 0 || empty.Revisions != 0 {
		t.Errorf("%+v", empty)
	}
}

// Whatever is done to the history behind the database's back is found.
func TestAuditFindsForgery(t *testing.T) {
	for name, c := range map[string]struct {
		statements []string
		want       string
	}{
		"another author":            {[]string{`UPDATE changes SET who = 'nobody' WHERE revision = 2`}, "revision 2 is not as it was sealed"},
		"another person":            {[]string{`UPDATE changes SET person = 'nobody' WHERE revision = 2`}, "revision 2 is not as it was sealed"},
		"another value":             {[]string{`UPDATE changes SET new = jsonb_set(new, '{title}', '"A worse book"') WHERE revision = 2`}, "revision 2 is not as it was sealed"},
		"another time":              {[]string{`UPDATE changes SET at = at - interval '1 day' WHERE revision = 1`}, "revision 1 is not as it was sealed"},
		"a change taken out":        {[]string{`DELETE FROM changes WHERE revision = 3 AND action = 'removed'`}, "revision 3 is not as it was sealed"},
		"a revision taken out":      {[]string{`DELETE FROM changes WHERE revision = 2`}, "revision 2 is not as it was sealed"},
		"a seal taken out":          {[]string{`DELETE FROM seal WHERE revision = 2`}, "revision 2 has no seal"},
		"a seal too many":           {[]string{`INSERT INTO seal VALUES (9, sha256('x'))`}, "revision 9 has a seal"},
		"a change put in":           {[]string{`INSERT INTO changes (revision, table_name, key, kind, id, action, new, who, at, reason) VALUES (3, 'source', 'd', 'source', 'd', 'added', '{}', 'x', now(), '')`}, "revision 3 is not as it was sealed"},
		"changes of the future":     {[]string{`INSERT INTO changes (revision, table_name, key, kind, id, action, new, who, at, reason) VALUES (7, 'source', 'd', 'source', 'd', 'added', '{}', 'x', now(), '')`}, "changes of revision 7"},
		"a row changed unseen":      {[]string{`UPDATE source SET title = 'Forged' WHERE id = 'a'`}, "source a is not as it was last written"},
		"a row removed unseen":      {[]string{`DELETE FROM source WHERE id = 'c'`}, "source c is gone without a trace"},
		"a row put in unseen":       {[]string{`INSERT INTO source (id, author, title, year, place, address, kind, access, note, revision) VALUES ('z', '', 'Forged', '', '', '', 'shop record', '', '', 1)`}, "source z is there without a history"},
		"a removed row come back":   {[]string{`INSERT INTO source (id, author, title, year, place, address, kind, access, note, revision) VALUES ('b', '', 'Another', '', '', '', 'shop record', '', '', 1)`}, "source b is there although it was removed"},
		"the end cut off":           {[]string{`DELETE FROM changes WHERE revision = 3`, `DELETE FROM seal WHERE revision = 3`, `UPDATE data_revision SET revision = 2`, `DELETE FROM source WHERE id = 'c'`, `INSERT INTO source (id, author, title, year, place, address, kind, access, note, revision) VALUES ('b', '', 'Another', '', '', '', 'shop record', '', '', 1)`}, "cut short"},
		"the whole chain rewritten": {[]string{`UPDATE changes SET who = 'nobody' WHERE revision = 2`, `UPDATE seal SET hash = seal_of(2, (SELECT hash FROM seal WHERE revision = 1)) WHERE revision = 2`, `UPDATE seal SET hash = seal_of(3, (SELECT hash FROM seal WHERE revision = 2)) WHERE revision = 3`}, "was rewritten"},
		"the hash forged":           {[]string{`UPDATE changes SET who = 'nobody' WHERE revision = 2`, `CREATE OR REPLACE FUNCTION change_hash(c changes) RETURNS bytea LANGUAGE sql AS $$ SELECT sha256('x') $$`}, "revision 2 is not as it was sealed"},
	} {
		pg, address := history(t)
		known := audit(t, pg, nil).Head
		forge(t, address, c.statements...)
		a := audit(t, pg, &known)
		if !strings.Contains(strings.Join(a.Faults, "; "), c.want) {
			t.Errorf("%s: %q", name, a.Faults)
		}
	}
}

// Nobody writes seals by hand, nor takes one away.
func TestSealsAreGuarded(t *testing.T) {
	pg, _ := history(t)
	for _, statement := range []string{`INSERT INTO seal VALUES (4, sha256('x'))`, `UPDATE seal SET hash = sha256('x')`, `DELETE FROM seal`, `TRUNCATE seal`} {
		err := pg.InTx(t.Context(), func(tx pgx.Tx) error { _, err := tx.Exec(t.Context(), statement); return err })
		if err == nil {
			t.Errorf("%s was done", statement)
		}
	}
}
