//go:build faults

package faults

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db/dbtest"
)

// found are the statements that find what writers wrote, as id and content.
var found = map[string]string{
	"machine":      `SELECT id, max_speed_per_min::text FROM machine WHERE id ~ '^machine-' AND gears->0->>'name' = 'low' AND jsonb_array_length(gears) = 2`,
	"counter":      `SELECT id, max_speed_per_min::text FROM machine WHERE id ~ '^counter-'`,
	"observations": `SELECT lot, count(*)::text FROM observation WHERE lot ~ '^observations-' GROUP BY lot`,
	"record":       `SELECT f.id, f.specific_cutting_force_1_1_n_per_mm2::text FROM force_record AS f JOIN curation AS c ON c.record_id = f.id WHERE f.id ~ '^record-' AND c.state = 'draft'`,
	"job":          `SELECT who, items::text FROM job WHERE who ~ '^job-'`,
}

// wholeness are statements that count what is half there; each gives 0.
var wholeness = map[string]string{
	"machines without their change":         `SELECT count(*) FROM machine AS m WHERE NOT EXISTS (SELECT 1 FROM changes AS c WHERE c.table_name = 'machine' AND c.key = m.id AND c.revision = m.revision)`,
	"changes without their machine":         `SELECT count(*) FROM changes AS c WHERE c.table_name = 'machine' AND c.action = 'added' AND NOT EXISTS (SELECT 1 FROM machine AS m WHERE m.id = c.key)`,
	"revisions without a change":            `SELECT (SELECT revision FROM data_revision) - count(DISTINCT revision) FROM changes`,
	"records without their life":            `SELECT count(*) FROM force_record AS f WHERE f.id ~ '^record-' AND NOT EXISTS (SELECT 1 FROM curation AS c WHERE c.record_id = f.id)`,
	"lives without their record":            `SELECT count(*) FROM curation AS c WHERE c.record_id ~ '^record-' AND NOT EXISTS (SELECT 1 FROM force_record AS f WHERE f.id = c.record_id)`,
	"jobs that nobody will compute":         `SELECT count(*) FROM job AS j LEFT JOIN (SELECT (args->>'job_id')::bigint AS id, count(*) AS entries FROM river.river_job GROUP BY 1) AS r ON r.id = j.id WHERE r.entries IS DISTINCT FROM 1`,
	"jobs whose lines are not what is done": `SELECT count(*) FROM job AS j WHERE j.done <> (SELECT coalesce(sum(length(convert_from(p.lines, 'UTF8')) - length(replace(convert_from(p.lines, 'UTF8'), E'\n', ''))), 0) FROM job_part AS p WHERE p.job_id = j.id)`,
}

// unfinished counts the jobs that have not ended well.
const unfinished = `SELECT count(*)::text FROM job WHERE state <> 'finished'`

// hold compares what is in the database with the ledger and fails the test for each
// disagreement, but for those that the function excuses.
func (l *ledger) hold(t testing.TB, server *dbtest.Server, excused func(kind, id, verdict string) bool) (checked int) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, server.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	for _, k := range kinds {
		result, err := conn.Query(ctx, found[k.name])
		if err != nil {
			t.Fatal(err)
		}
		var list []row
		var r row
		if _, err := pgx.ForEachRow(result, []any{&r.id, &r.content}, func() error { list = append(list, r); return nil }); err != nil {
			t.Fatal(err)
		}
		checked += len(list)
		for id, verdict := range l.compare(k.name, list) {
			if excused == nil || !excused(k.name, id, verdict) {
				t.Errorf("%s %s: %s", k.name, id, verdict)
			}
		}
	}
	for what, statement := range wholeness {
		var n int
		if err := conn.QueryRow(ctx, statement).Scan(&n); err != nil {
			t.Fatal(fmt.Errorf("%s: %w", what, err))
		}
		if n != 0 {
			t.Errorf("%d %s", n, what)
		}
	}
	return checked
}

// durable fails the test on a server that may lose what it acknowledges: nothing would be
// proved by it.
func durable(t testing.TB, server *dbtest.Server) {
	t.Helper()
	for _, setting := range []string{"fsync", "synchronous_commit", "full_page_writes"} {
		if value, err := server.Ask(`SELECT current_setting($1)`, setting); err != nil || value != "on" {
			t.Fatalf("%s is %s, %v", setting, value, err)
		}
	}
}

// loaded puts the reference data and the demo machines into a database.
func loaded(t testing.TB, database string) {
	t.Helper()
	program(t, database, "load", "--demo")
}
