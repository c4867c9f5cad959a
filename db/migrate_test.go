package db_test

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/migrations"
)

// TestMigrate brings an empty database up. With SWARF_MIGRATE set it does so to that
// one: other tests run it in a process of its own, to kill it.
func TestMigrate(t *testing.T) {
	address := os.Getenv("SWARF_MIGRATE")
	if address == "" {
		address = dbtest.EmptyURL(t)
	}
	report, err := db.Migrate(t.Context(), db.Config{URL: address})
	if err != nil || report != (db.MigrateReport{From: 0, To: newest(t)}) {
		t.Fatalf("%+v, %v", report, err)
	}
	again, err := db.Migrate(t.Context(), db.Config{URL: address})
	if err != nil || again != (db.MigrateReport{From: newest(t), To: newest(t)}) {
		t.Errorf("again: %+v, %v", again, err)
	}
	store := dbtest.Open(t, address)
	if notice, err := store.CheckSchema(t.Context()); err != nil || notice != "" {
		t.Errorf("the schema: %q, %v", notice, err)
	}
	put(t, store, "one")
}

// newest is the version that the steps lead to.
func newest(t *testing.T) uint {
	t.Helper()
	version, err := migrations.Newest(migrations.Files)
	if err != nil || version < 3 {
		t.Fatalf("the newest step is %d, %v", version, err)
	}
	return version
}

// Of several at once, each comes to the newest version, and the steps run once.
func TestMigrateThreeAtOnce(t *testing.T) {
	config := db.Config{URL: dbtest.EmptyURL(t)}
	var wait sync.WaitGroup
	var ran atomic.Int64
	for range 3 {
		wait.Go(func() {
			report, err := db.Migrate(t.Context(), config)
			if err != nil || report.To != newest(t) || report.Healed != 0 {
				t.Errorf("%+v, %v", report, err)
			}
			if report.From != report.To {
				ran.Add(1)
			}
		})
	}
	wait.Wait()
	if ran.Load() != 1 {
		t.Errorf("the steps ran %d times", ran.Load())
	}
}

// A run that broke off leaves its mark; the next one heals it, whether the step had
// been committed or not.
func TestMigrateHeals(t *testing.T) {
	for name, mark := range map[string]struct {
		statement string
		kept      bool
	}{
		"after its last step was committed":  {"UPDATE schema_migrations SET dirty = true", true},
		"before its last step was committed": {undone(t, newest(t)) + `UPDATE schema_migrations SET dirty = true`, false},
	} {
		t.Run(name, func(t *testing.T) {
			address := dbtest.URL(t)
			store := dbtest.Open(t, address)
			if _, err := store.Pool().Exec(t.Context(), mark.statement, pgx.QueryExecModeSimpleProtocol); err != nil {
				t.Fatal(err)
			}
			report, err := db.Migrate(t.Context(), db.Config{URL: address})
			if err != nil || report.To != newest(t) || report.Healed != newest(t) || report.Kept != mark.kept {
				t.Fatalf("%+v, %v", report, err)
			}
			if applied := query[int64](t, store, `SELECT max(version) FROM schema_applied`)[0]; applied != int64(newest(t)) {
				t.Errorf("step %d was the last to be run", applied)
			}
			put(t, store, "after healing")
		})
	}
}

// undone is the way back of a step of the schema.
func undone(t *testing.T, version uint) string {
	t.Helper()
	names, err := fs.Glob(migrations.Files, fmt.Sprintf("%04d_*.down.sql", version))
	if err != nil || len(names) != 1 {
		t.Fatalf("%v, %v", names, err)
	}
	text, err := fs.ReadFile(migrations.Files, names[0])
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A step that fails is undone whole, and runs once it has been mended.
func TestBrokenStepIsUndone(t *testing.T) {
	config := db.Config{URL: dbtest.URL(t)}
	next := newest(t) + 1
	with := func(last string) fs.FS {
		step := fmt.Sprintf("%04d_more", next)
		files := fstest.MapFS{step + ".up.sql": {Data: []byte(last)}, step + ".down.sql": {Data: []byte("SELECT 1;")}}
		names, _ := fs.Glob(migrations.Files, "*.sql")
		for _, name := range names {
			text, _ := fs.ReadFile(migrations.Files, name)
			files[name] = &fstest.MapFile{Data: text}
		}
		return files
	}
	good := fmt.Sprintf("CREATE TABLE more (id int); INSERT INTO schema_applied (version) VALUES (%d);", next)
	if _, err := db.MigrateFrom(t.Context(), config, with("CREATE TABLE more (id int); SELECT nothing_of_the_kind;")); err == nil {
		t.Fatal("a broken step passes")
	}
	store := dbtest.Open(t, config.URL)
	report, err := db.MigrateFrom(t.Context(), config, with(good))
	if err != nil || report.To != next || report.Healed != next || report.Kept {
		t.Errorf("%+v, %v", report, err)
	}
	// The program works on with a schema newer than its own, but does not migrate it.
	if notice, err := store.CheckSchema(t.Context()); err != nil || !strings.Contains(notice, "newer than") {
		t.Errorf("a newer schema: %q, %v", notice, err)
	}
	put(t, store, "on a newer schema")
	_, err = db.Migrate(t.Context(), config)
	fault(t, err, domain.Conflict, "data-not-ready")
}

// A run that waits for another's lock ends when its context does.
func TestMigrateWaitsForItsTurn(t *testing.T) {
	address := dbtest.EmptyURL(t)
	holder, err := dbtest.Open(t, address).Pool().Acquire(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Release()
	if _, err := holder.Exec(t.Context(), `SELECT pg_advisory_lock($1)`, db.MigrationLock); err != nil {
		t.Fatal(err)
	}
	short, cancel := context.WithCancel(t.Context())
	defer cancel()
	ended := make(chan error, 1)
	go func() {
		_, err := db.Migrate(short, db.Config{URL: address})
		ended <- err
	}()
	for waiting := false; !waiting; time.Sleep(5 * time.Millisecond) {
		if err := holder.QueryRow(t.Context(), `SELECT EXISTS (SELECT FROM pg_locks WHERE locktype = 'advisory' AND NOT granted)`).Scan(&waiting); err != nil {
			t.Fatal(err)
		}
		if len(ended) > 0 {
			t.Fatalf("it did not wait: %v", <-ended)
		}
	}
	var begun bool
	if err := holder.QueryRow(t.Context(), `SELECT to_regclass('schema_migrations') IS NOT NULL OR to_regclass('schema_applied') IS NOT NULL`).Scan(&begun); err != nil || begun {
		t.Errorf("it began while another had the lock (%v)", err)
	}
	cancel()
	fault(t, <-ended, domain.Unavailable, "data-not-ready")
	if _, err := holder.Exec(t.Context(), `SELECT pg_advisory_unlock($1)`, db.MigrationLock); err != nil {
		t.Fatal(err)
	}
	if report, err := db.Migrate(t.Context(), db.Config{URL: address}); err != nil || report.From != 0 || report.Healed != 0 {
		t.Errorf("with the lock free: %+v, %v", report, err)
	}
}
