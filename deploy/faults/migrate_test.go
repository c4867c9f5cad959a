//go:build faults

package faults

import (
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// schema is a digest of everything that a migration makes.
const schema = `SELECT md5(string_agg(line, E'\n' ORDER BY line)) FROM (
	SELECT concat_ws(' ', table_schema, table_name, column_name, data_type, is_nullable, column_default) AS line FROM information_schema.columns WHERE table_schema IN ('public', 'river')
	UNION ALL SELECT conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) FROM pg_constraint WHERE connamespace IN ('public'::regnamespace, 'river'::regnamespace)
	UNION ALL SELECT proname || ' ' || md5(prosrc) FROM pg_proc WHERE pronamespace IN ('public'::regnamespace, 'river'::regnamespace)
	UNION ALL SELECT tgrelid::regclass || ' ' || tgname FROM pg_trigger WHERE NOT tgisinternal
	UNION ALL SELECT 'step ' || version FROM schema_applied
	UNION ALL SELECT 'at ' || version || ' ' || dirty FROM schema_migrations) AS everything`

// A migration is killed at any moment, or its server is; the next ones, several at once,
// mend it by themselves and come to the same schema.
func TestKillDuringMigration(t *testing.T) {
	chance := begin(t)
	server := dbtest.NewEmptyServer(t)
	durable(t, server)
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	program(t, server.URL(), "migrate")
	whole := time.Since(began)
	want, err := server.Ask(schema)
	if err != nil {
		t.Fatal(err)
	}
	interrupted, rounds, wanted := 0, 0, chosen(4, scaled(50))
	for n := 0; interrupted < wanted && n < 4*wanted; n++ {
		rounds++
		for _, statement := range []string{"DROP SCHEMA IF EXISTS public, river CASCADE", "CREATE SCHEMA public"} {
			if err := server.Do(statement); err != nil {
				t.Fatal(err)
			}
		}
		command := exec.Command(path, "migrate")
		command.Env = []string{"DATABASE_URL=" + server.URL(), "HOME=" + os.TempDir()}
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		moment := time.Duration(chance.Int64N(int64(whole)))
		time.Sleep(moment)
		crash := n%3 == 2
		if crash {
			server.Kill()
		}
		command.Process.Kill()
		if command.Wait() != nil {
			interrupted++
		} else { // it takes no longer than that
			whole = min(whole, moment+time.Millisecond)
		}
		if crash {
			server.Start()
		}
		var all sync.WaitGroup
		reports := make([]string, chosen(2, 5))
		for i := range reports {
			all.Go(func() {
				next := exec.Command(path, "migrate")
				next.Env = command.Env
				text, err := next.CombinedOutput()
				if reports[i] = string(text); err != nil {
					t.Errorf("round %d: the next migration: %v %s", n, err, text)
				}
			})
		}
		all.Wait()
		if got, err := server.Ask(schema); err != nil || got != want {
			t.Errorf("round %d: another schema came of it, %v", n, err)
		}
		worked := 0
		for _, r := range reports {
			if !strings.Contains(r, "nothing to do") {
				worked++
			}
		}
		if worked > 1 {
			t.Errorf("round %d: more than one did it: %q", n, reports)
		}
	}
	t.Logf("%d rounds, %d migrations interrupted", rounds, interrupted)
	if interrupted < wanted {
		t.Errorf("only %d migrations were interrupted, %d are needed", interrupted, wanted)
	}
}
