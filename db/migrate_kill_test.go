package db_test

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
)

// stuck starts a migration that gets as far as the second step and waits there: the
// table that the step makes is being made by a transaction of ours that has not
// ended. Its server process is given, and the function that lets go.
func stuck(t *testing.T, address string, start func()) (pid int, release func()) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.Background()) })
	tx, err := conn.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Exec(t.Context(), `CREATE TABLE material (id text)`); err != nil {
		t.Fatal(err)
	}
	start()
	store := dbtest.Open(t, address)
	eventually(t, "the second step is under way", func() bool {
		return store.Pool().QueryRow(t.Context(), `SELECT pid FROM pg_stat_activity WHERE datname = current_database()
			AND wait_event_type = 'Lock' AND query LIKE '%CREATE TABLE material %'`).Scan(&pid) == nil
	})
	return pid, func() {
		if err := tx.Rollback(t.Context()); err != nil {
			t.Error(err)
		}
	}
}

// healed checks that the next run mends what a broken one left in its second step.
func healed(t *testing.T, address string) {
	t.Helper()
	store := dbtest.Open(t, address)
	schema, err := store.SchemaVersion(t.Context())
	if err != nil || schema != (db.Schema{Version: 2, Dirty: true}) {
		t.Errorf("the broken run left %+v, %v", schema, err)
	}
	_, err = store.CheckSchema(t.Context())
	fault(t, err, domain.Unavailable, "data-not-ready")
	report, err := db.Migrate(t.Context(), db.Config{URL: address})
	if err != nil || report != (db.MigrateReport{From: 1, To: newest(t), Healed: 2}) {
		t.Fatalf("the next run: %+v, %v", report, err)
	}
	put(t, store, "after healing")
}

// A migration whose server process is ended from outside says so, and is healed.
func TestMigrateSurvivesItsServerProcess(t *testing.T) {
	address := dbtest.EmptyURL(t)
	ended := make(chan error, 1)
	pid, release := stuck(t, address, func() {
		go func() {
			_, err := db.Migrate(context.Background(), db.Config{URL: address})
			ended <- err
		}()
	})
	if _, err := dbtest.Open(t, address).Pool().Exec(t.Context(), `SELECT pg_terminate_backend($1)`, pid); err != nil {
		t.Fatal(err)
	}
	fault(t, <-ended, domain.Unavailable, "data-not-ready")
	release()
	healed(t, address)
}

// A migration whose program is killed holds its lock no longer than it takes the
// server to notice; then the next run heals it.
func TestMigrateSurvivesItsProgram(t *testing.T) {
	address := dbtest.EmptyURL(t)
	program := exec.Command(os.Args[0], "-test.run=^TestMigrate$")
	program.Env = append(os.Environ(), "SWARF_MIGRATE="+address)
	_, release := stuck(t, address, func() {
		if err := program.Start(); err != nil {
			t.Fatal(err)
		}
	})
	if err := program.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	program.Wait()
	store := dbtest.Open(t, address)
	killed := time.Now()
	eventually(t, "the server gives the step up", func() bool {
		var waiting int
		err := store.Pool().QueryRow(t.Context(), `SELECT count(*) FROM pg_locks AS l JOIN pg_database AS d ON d.oid = l.database
			WHERE l.locktype = 'advisory' AND d.datname = current_database()`).Scan(&waiting)
		return err == nil && waiting == 0
	})
	if took := time.Since(killed); took > 10*time.Second { // the step's own patience is 15 s, the look for the client 1 s
		t.Errorf("the server gave the step up after %v", took)
	}
	release()
	healed(t, address)
}

// eventually waits until something holds.
func eventually(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); !holds(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("not within 20 s: %s", what)
		}
	}
}
