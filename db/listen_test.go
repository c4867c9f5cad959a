package db_test

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
)

// follow listens until the test ends and gives the revisions heard.
func follow(t *testing.T, store *db.DB) <-chan int64 {
	ctx, stop := context.WithCancel(t.Context())
	heard, ended := make(chan int64, 1000), make(chan error, 1)
	go func() { ended <- store.Listen(ctx, func(revision int64) { heard <- revision }) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; !errors.Is(err, context.Canceled) {
			t.Errorf("listening ended with %v", err)
		}
	})
	return heard
}

// await waits for a revision and says how long it took.
func await(t *testing.T, heard <-chan int64, want int64, within time.Duration) time.Duration {
	t.Helper()
	began := time.Now()
	late := time.After(within)
	for {
		select {
		case got := <-heard:
			if got >= want {
				return time.Since(began)
			}
		case <-late:
			t.Fatalf("revision %d was not heard within %v", want, within)
		}
	}
}

// opened opens a database whose poll is too slow to matter, or as given.
func opened(t testing.TB, config db.Config) *db.DB {
	t.Helper()
	store, err := db.Open(t.Context(), config)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(store.Close)
	return store
}

// A write is heard within a second. A shared machine may stutter once, so it is the
// middle one of several that must be, and the worst within three.
func TestListenHearsAtOnce(t *testing.T) {
	address := dbtest.URL(t)
	writer := dbtest.Open(t, address)
	heard := follow(t, opened(t, db.Config{URL: address, PollInterval: time.Hour}))
	await(t, heard, 0, 5*time.Second) // connected
	var took []time.Duration
	for _, name := range []string{"a", "b", "c", "d", "e", "f", "g"} {
		took = append(took, await(t, heard, put(t, writer, name).Revision, 3*time.Second))
	}
	slices.Sort(took)
	t.Logf("heard after %v", took)
	if took[len(took)/2] > time.Second {
		t.Errorf("heard after %v", took)
	}
}

// A server that went away, in order or by a crash, is found again, and what was
// written meanwhile is heard. Whoever wants to know is told of the gap.
func TestListenOutlivesTheServer(t *testing.T) {
	server := dbtest.NewServer(t)
	writer := dbtest.Open(t, server.URL())
	var lost atomic.Int64
	heard := follow(t, opened(t, db.Config{URL: server.URL(), PollInterval: time.Hour, Logger: slog.New(slog.DiscardHandler), Lost: func(err error) {
		if faults := domain.Faults(err); len(faults) != 1 || faults[0].Kind != domain.Unavailable {
			t.Errorf("the gap is told as %v", err)
		}
		lost.Add(1)
	}}))
	await(t, heard, 0, 5*time.Second)
	for name, end := range map[string]func(){"stopped": server.Stop, "crashed": server.Kill} {
		await(t, heard, put(t, writer, "before "+name).Revision, 3*time.Second)
		end()
		eventually(t, "the gap is noticed", func() bool { return lost.Load() > 0 })
		server.Start()
		var made int64
		eventually(t, "a write goes through", func() bool {
			w, err := writer.PutMachine(t.Context(), mill("after "+name), db.Write{Who: "tester"})
			made = w.Revision
			return err == nil
		})
		await(t, heard, made, 6*time.Second) // after a wait of 5 s at most
		await(t, heard, put(t, writer, "well after "+name).Revision, 3*time.Second)
		lost.Store(0)
	}
}

// An announcement that nobody heard is made good by the poll.
func TestListenPolls(t *testing.T) {
	address := dbtest.URL(t)
	writer := dbtest.Open(t, address)
	heard := follow(t, opened(t, db.Config{URL: address, PollInterval: 200 * time.Millisecond}))
	await(t, heard, 0, 5*time.Second)
	if err := writer.Exec(t.Context(), "UPDATE data_revision SET revision = revision + 1"); err != nil { // without NOTIFY
		t.Fatal(err)
	}
	await(t, heard, 1, 5*time.Second)
}
