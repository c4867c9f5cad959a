// Package dbtest gives tests a real PostgreSQL: a fresh migrated database each, or
// a server of their own to stop and start.
//
// The server is the one that TEST_DATABASE_URL leads to (its user must be allowed
// to create databases), else a throwaway cluster, one per test process, made with
// the PostgreSQL programs of this machine. The cluster leaves nothing behind,
// however the test process ends; on a given server the next process sweeps up what
// one left. It runs with fsync on, as in production. Without either, a test is
// skipped, and says so; when CI is set it fails.
package dbtest

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db"
)

// New returns a fresh database with the newest schema and no data. It is gone when
// the test ends.
func New(t testing.TB) *db.DB {
	t.Helper()
	return Open(t, URL(t))
}

// Open opens a database for the length of the test.
func Open(t testing.TB, address string) *db.DB {
	t.Helper()
	opened, err := db.Open(context.Background(), db.Config{URL: address})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(opened.Close)
	return opened
}

// URL returns the address of a fresh database with the newest schema and no data.
func URL(t testing.TB) string {
	t.Helper()
	return clone(t, template)
}

// EmptyURL returns the address of a fresh database with nothing in it.
func EmptyURL(t testing.TB) string {
	t.Helper()
	return clone(t, func(host) (string, error) { return "template0", nil })
}

// host is a server on which databases can be made.
type host struct {
	url  func(database string) string
	held *pgx.Conn // the session that holds the lock of mark, nil on a cluster of our own
}

var (
	theHost     = sync.OnceValues(findHost)
	theTemplate = sync.OnceValues(makeTemplate)
	count       atomic.Int64
)

// findHost finds or makes the server of this process.
func findHost() (host, error) {
	if given := os.Getenv("TEST_DATABASE_URL"); given != "" {
		place, err := url.Parse(given)
		if err != nil {
			return host{}, errors.New("TEST_DATABASE_URL is not a URL")
		}
		server := host{url: func(database string) string {
			other := *place
			if database != "" {
				other.Path = "/" + database
			}
			return other.String()
		}}
		server.held, err = sweep(server)
		return server, err
	}
	c, err := newCluster()
	if err != nil {
		return host{}, err
	}
	if err := c.start(); err != nil {
		c.remove()
		return host{}, err
	}
	return host{url: func(database string) string {
		if database == "" {
			database = "postgres"
		}
		return c.url(database)
	}}, nil
}

// makeTemplate migrates the database that tests get copies of.
func makeTemplate() (string, error) {
	server, err := theHost()
	if err != nil {
		return "", err
	}
	name := "swarf_test_" + mark + "_template"
	if err := command(server, "CREATE DATABASE "+name+" TEMPLATE template0"); err != nil {
		return "", err
	}
	if _, err := db.Migrate(context.Background(), db.Config{URL: server.url(name)}); err != nil {
		return "", fmt.Errorf("migrate the template: %w", err)
	}
	return name, nil
}

func template(host) (string, error) { return theTemplate() }

// clone copies a database for one test.
func clone(t testing.TB, from func(host) (string, error)) string {
	t.Helper()
	server, err := theHost()
	need(t, err)
	source, err := from(server)
	if err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprintf("swarf_test_%s_%d", mark, count.Add(1))
	if err := command(server, "CREATE DATABASE "+name+" TEMPLATE "+source); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := command(server, "DROP DATABASE IF EXISTS "+name+" WITH (FORCE)"); err != nil {
			t.Errorf("drop %s: %v", name, err)
		}
	})
	return server.url(name)
}

// command runs a statement on the server outside any transaction. One test's copy
// can meet another's connection to the template for a moment; then it tries again.
func command(server host, statement string) error {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	conn, err := pgx.Connect(ctx, server.url(""))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	for {
		_, err = conn.Exec(ctx, statement)
		if err == nil || !strings.Contains(err.Error(), "55006") || ctx.Err() != nil {
			return err
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// need skips, visibly, on a machine without PostgreSQL and fails there when CI is set.
func need(t testing.TB, err error) {
	t.Helper()
	switch {
	case err == nil:
	case errors.Is(err, errNoPostgres) && os.Getenv("CI") == "":
		t.Skip(err)
	default:
		t.Fatal(err)
	}
}
