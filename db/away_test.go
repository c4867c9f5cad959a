package db_test

import (
	"context"
	"net"
	"testing"
	"time"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
)

// uses are all the ways in which the package uses a database.
var uses = map[string]func(context.Context, *db.DB) error{
	"ping":     func(ctx context.Context, store *db.DB) error { return store.Ping(ctx) },
	"revision": func(ctx context.Context, store *db.DB) error { _, err := store.Revision(ctx); return err },
	"schema":   func(ctx context.Context, store *db.DB) error { _, err := store.CheckSchema(ctx); return err },
	"snapshot": func(ctx context.Context, store *db.DB) error { _, err := store.Snapshot(ctx); return err },
	"as of":    func(ctx context.Context, store *db.DB) error { _, err := store.SnapshotAt(ctx, db.AsOf{}); return err },
	"changes": func(ctx context.Context, store *db.DB) error {
		_, err := store.Changes(ctx, db.ChangesQuery{})
		return err
	},
	"load": func(ctx context.Context, store *db.DB) error { _, err := store.Load(ctx, fixture(), us); return err },
	"put": func(ctx context.Context, store *db.DB) error {
		_, err := store.PutMachine(ctx, mill("one"), db.Write{Who: "tester"})
		return err
	},
	"delete": func(ctx context.Context, store *db.DB) error {
		_, err := store.DeleteMachine(ctx, "m-1", db.Write{Who: "tester"})
		return err
	},
}

// toldSoon checks that every use of a database fails as unavailable, within 3 s.
func toldSoon(t *testing.T, store *db.DB) {
	t.Helper()
	for name, use := range uses {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			began := time.Now()
			fault(t, use(t.Context(), store), domain.Unavailable, "data-not-ready")
			if took := time.Since(began); took > 3*time.Second {
				t.Errorf("told after %v", took)
			}
		})
	}
}

// Nothing listens at the address.
func TestConnectionRefused(t *testing.T) {
	address := "postgres://nobody@" + closedPort(t) + "/none"
	toldSoon(t, opened(t, db.Config{URL: address}))
	began := time.Now()
	_, err := db.Migrate(t.Context(), db.Config{URL: address})
	fault(t, err, domain.Unavailable, "data-not-ready")
	if took := time.Since(began); took > 3*time.Second {
		t.Errorf("migrate: told after %v", took)
	}
}

// Something takes the connection and says nothing.
func TestSilentServer(t *testing.T) {
	silent, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { silent.Close() })
	go func() {
		for {
			conn, err := silent.Accept()
			if err != nil {
				return
			}
			t.Cleanup(func() { conn.Close() })
		}
	}()
	store := opened(t, db.Config{URL: "postgres://nobody@" + silent.Addr().String() + "/none"})
	began := time.Now()
	fault(t, store.Ping(t.Context()), domain.Unavailable, "data-not-ready")
	if took := time.Since(began); took > 3*time.Second {
		t.Errorf("told after %v", took)
	}
}

// A pool whose server stopped tells so at every use and works again when it is back.
func TestServerStopped(t *testing.T) {
	server := dbtest.NewServer(t)
	store := dbtest.Open(t, server.URL())
	put(t, store, "one")
	server.Stop()
	t.Run("stopped", func(t *testing.T) { toldSoon(t, store) })
	server.Start()
	if w := put(t, store, "three"); w.Created || w.Revision != 2 {
		t.Errorf("after the start: %+v", w)
	}
}

// A database without its schema is told with what to run.
func TestNoSchema(t *testing.T) {
	store := dbtest.Open(t, dbtest.EmptyURL(t))
	for _, name := range []string{"revision", "schema", "snapshot", "changes", "load", "put", "delete"} {
		if f := fault(t, uses[name](t.Context(), store), domain.Unavailable, "data-not-ready"); f.Fix != "run swarf migrate" {
			t.Errorf("%s: %v, fix %q", name, f, f.Fix)
		}
	}
}

// A write that has to wait for another too long is given up; one whose caller left
// is not made.
func TestWritesWaitForEachOther(t *testing.T) {
	address := dbtest.URL(t)
	store := opened(t, db.Config{URL: address, LockTimeout: 100 * time.Millisecond})
	other, err := dbtest.Open(t, address).Pool().Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer other.Rollback(context.Background())
	if _, err := other.Exec(t.Context(), `SELECT revision FROM data_revision FOR UPDATE`); err != nil {
		t.Fatal(err)
	}
	fault(t, uses["put"](t.Context(), store), domain.Unavailable, "data-not-ready")
	leaving, leave := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer leave()
	fault(t, uses["put"](leaving, store), domain.Unavailable, "data-not-ready")
	if err := other.Rollback(t.Context()); err != nil {
		t.Fatal(err)
	}
	if w := put(t, store, "two"); !w.Created || w.Revision != 1 {
		t.Errorf("with the way free: %+v", w)
	}
}

// closedPort is an address at which nothing listens.
func closedPort(t *testing.T) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	return listener.Addr().String()
}
