package db_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/db"
	"swarf/db/dbtest"
)

func changes(t *testing.T, store *db.DB, query db.ChangesQuery) []db.Change {
	t.Helper()
	list, err := store.Changes(t.Context(), query)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

var whenever = cmpopts.IgnoreFields(db.Change{}, "At")

// Every write is told with who made it, when and why; the same content again is not.
func TestChangesTellWhoWhenWhy(t *testing.T) {
	store := dbtest.New(t)
	began := time.Now()
	put(t, store, "one")
	between := time.Now()
	put(t, store, "two")
	put(t, store, "two")
	if _, err := store.DeleteMachine(t.Context(), "m-1", db.Write{Who: "another", Check: named("two")}); err != nil {
		t.Fatal(err)
	}
	ended := time.Now()
	if err := store.Exec(t.Context(), `INSERT INTO source (id, author, title, year, place, address, kind, access, note)
		VALUES ('by-hand', '', 'A title', '', '', '', 'handbook', '', '')`); err != nil {
		t.Fatal(err)
	}
	var user string
	if err := store.Pool().QueryRow(t.Context(), `SELECT session_user`).Scan(&user); err != nil {
		t.Fatal(err)
	}
	list := changes(t, store, db.ChangesQuery{})
	if diff := cmp.Diff([]db.Change{
		{Revision: 1, Who: "tester", Kind: "machine", ID: "m-1", Action: "added", Reason: "why one"},
		{Revision: 2, Who: "tester", Kind: "machine", ID: "m-1", Action: "changed", Reason: "why two"},
		{Revision: 3, Who: "another", Kind: "machine", ID: "m-1", Action: "removed"},
		{Revision: 4, Who: "sql:" + user, Kind: "source", ID: "by-hand", Action: "added"},
	}, list, whenever); diff != "" {
		t.Fatalf("(-want +got):\n%s", diff)
	}
	times := []time.Time{began, list[0].At, between, list[1].At, list[2].At, ended, list[3].At}
	for i := range times[1:] {
		if times[i+1].Before(times[i].Truncate(time.Microsecond)) { // as PostgreSQL keeps them
			t.Errorf("time %d of %v is before the one before it", i+1, times)
		}
	}
	if list[0].At.Location() != time.UTC {
		t.Errorf("a time in %v", list[0].At.Location())
	}
}

// What one transaction does is one revision, however many rows and tables; what is
// undone takes its revision with it.
func TestOneRevisionPerTransaction(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	rows := func(where string) (count int) {
		if err := store.Pool().QueryRow(t.Context(), `SELECT count(*) FROM changes WHERE `+where).Scan(&count); err != nil {
			t.Fatal(err)
		}
		return count
	}
	if all, first := rows("true"), rows("revision = 1"); all != 22 || first != 22 {
		t.Errorf("%d rows, %d in revision 1, want 22 and 22", all, first)
	}
	both := func(tx pgx.Tx) error {
		for _, statement := range []string{
			`UPDATE force_record SET note = note || '!'`, `UPDATE machine SET note = 'moved'`,
			`UPDATE machine SET note = 'moved back'`, `DELETE FROM designation`,
		} {
			if _, err := tx.Exec(t.Context(), statement); err != nil {
				return err
			}
		}
		return nil
	}
	undone := errors.New("undone")
	err := store.InTx(t.Context(), func(tx pgx.Tx) error {
		if err := both(tx); err != nil {
			return err
		}
		return undone
	})
	if now, _ := store.Revision(t.Context()); !errors.Is(err, undone) || now != 1 || rows("true") != 22 {
		t.Errorf("%v; revision %d with %d rows after a transaction that was undone", err, now, rows("true"))
	}
	if err := store.InTx(t.Context(), both); err != nil {
		t.Fatal(err)
	}
	if now, _ := store.Revision(t.Context()); now != 2 || rows("revision = 2") != 3+2+3 {
		t.Errorf("revision %d with %d rows, want 2 with 8", now, rows("revision = 2"))
	}
	if stamped := rows(`revision = 2 AND new IS NOT NULL AND (new ->> 'revision')::bigint <> 2`); stamped != 0 {
		t.Errorf("%d rows carry another revision", stamped)
	}
}

// The feed can be read in pages of any size, also in the middle of a revision, and
// each noun stands in it once per revision whatever happened to its parts.
func TestChangesInPages(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	put(t, store, "one")
	whole := changes(t, store, db.ChangesQuery{})
	var nouns []string
	for _, c := range whole {
		nouns = append(nouns, fmt.Sprintf("%d %s %s %s", c.Revision, c.Kind, c.ID, c.Action))
	}
	if diff := cmp.Diff([]string{
		"1 machine demo-mill added", "1 material a-steel added", "1 material b-alloy added",
		"1 record kc-a-steel added", "1 record kd-s added", "1 record life-a added", "1 record start-drill added",
		"1 record start-turn added", "1 record u-carbon added",
		"1 source a-book added", "1 source common-practice added", "1 tool-class drill-solid added", "2 machine m-1 added",
	}, nouns); diff != "" {
		t.Fatalf("(-want +got):\n%s", diff)
	}
	for size := 1; size <= len(whole)+1; size++ {
		var paged []db.Change
		for query := (db.ChangesQuery{Limit: size}); ; {
			page := changes(t, store, query)
			if len(page) > size {
				t.Fatalf("%d changes on a page of %d", len(page), size)
			}
			if len(page) == 0 {
				break
			}
			paged = append(paged, page...)
			last := page[len(page)-1]
			query.After, query.Kind, query.ID = last.Revision, last.Kind, last.ID
		}
		if diff := cmp.Diff(whole, paged); diff != "" {
			t.Errorf("in pages of %d (-whole +pages):\n%s", size, diff)
		}
	}
	if diff := cmp.Diff(whole[12:], changes(t, store, db.ChangesQuery{After: 1})); diff != "" {
		t.Errorf("after revision 1 (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(whole[5:7], changes(t, store, db.ChangesQuery{Skip: 5, Limit: 2})); diff != "" {
		t.Errorf("five left out (-want +got):\n%s", diff)
	}
	if past := changes(t, store, db.ChangesQuery{After: 99}); len(past) != 0 {
		t.Errorf("after the last: %v", past)
	}
	if err := store.Exec(t.Context(), `DELETE FROM designation WHERE material_id = 'a-steel'`); err != nil {
		t.Fatal(err)
	}
	parts := changes(t, store, db.ChangesQuery{After: 2})
	if len(parts) != 1 || parts[0].ID != "a-steel" || parts[0].Action != "changed" {
		t.Errorf("a grade that lost its designations: %v", parts)
	}
}

// The history is never rewritten, and nothing gets into it but by a change.
func TestHistoryIsAppendOnly(t *testing.T) {
	store := dbtest.New(t)
	put(t, store, "one")
	for statement, rule := range map[string]string{
		"UPDATE changes SET who = 'x'": "history_is_never_rewritten",
		"DELETE FROM changes":          "history_is_never_rewritten",
		"TRUNCATE changes":             "history_is_never_rewritten",
		"TRUNCATE machine":             "history_is_never_rewritten",
		"DELETE FROM data_revision":    "history_is_never_rewritten",
		"TRUNCATE data_revision":       "history_is_never_rewritten",
		"INSERT INTO changes (revision, table_name, key, kind, id, action, new, who, at, reason) VALUES (1, 'machine', 'x', 'machine', 'x', 'added', '{}', 'x', now(), '')": "history_is_never_invented",
		"UPDATE data_revision SET revision = revision - 1":                             "revisions_go_up_by_one",
		"UPDATE data_revision SET revision = revision + 2":                             "revisions_go_up_by_one",
		"UPDATE data_revision SET revision = revision + 1, at = at - interval '1 min'": "revisions_go_up_by_one",
	} {
		var refused *pgconn.PgError
		if err := store.Exec(t.Context(), statement); !errors.As(err, &refused) || refused.Code != "23001" || refused.ConstraintName != rule {
			t.Errorf("%s: %v, want the rule %s", statement, err, rule)
		}
	}
	var refused *pgconn.PgError
	if err := store.Exec(t.Context(), `UPDATE machine SET id = 'm-2'`); !errors.As(err, &refused) || refused.ConstraintName != "a_key_never_changes" {
		t.Errorf("a key that changes: %v", err)
	}
	if list := changes(t, store, db.ChangesQuery{}); len(list) != 1 || !strings.HasPrefix(list[0].Reason, "why") {
		t.Errorf("the history holds %v", list)
	}
}
