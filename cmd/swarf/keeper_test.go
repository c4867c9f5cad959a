package main

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"swarf/api/client"
	"swarf/db/data"
	"swarf/db/dbtest"
	"swarf/db/snapshot"
	"swarf/domain/catalog"
)

// revisionIn is the revision of a snapshot file, 0 when it cannot be read.
func revisionIn(path string) int64 {
	_, header, err := snapshot.Read(path, nil)
	if err != nil {
		return 0
	}
	return header.Revision
}

// A service that starts while its database is away serves what it kept of it, says so, and
// goes over to the database when that answers.
func TestColdStart(t *testing.T) {
	server := dbtest.NewServer(t)
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	environ := []string{"DATABASE_URL=" + loaded(t, server.URL()), "SWARF_SNAPSHOT=" + file, "SWARF_POLL_INTERVAL=200ms"}
	warm := startService(t, environ...)
	eventually(t, "the first load is kept", func() bool { return revisionIn(file) == 1 })
	c, err := client.New(warm.address, client.Options{From: "planner@shop.example"})
	if err != nil {
		t.Fatal(err)
	}
	var tag string
	for m, err := range c.Machines(t.Context(), client.List{}) {
		if err != nil {
			t.Fatal(err)
		}
		one, err := c.Machine(t.Context(), m.ID, client.Read{})
		if err != nil {
			t.Fatal(err)
		}
		tag, one.Value.Note = one.Tag, "serviced"
		if _, err := c.PutMachine(t.Context(), one.Value, client.Write{Tag: tag}); err != nil {
			t.Fatal(err)
		}
		break
	}
	_, before := get(t, warm.address+tries[1])
	if code := warm.stop(); code != 0 || revisionIn(file) != 2 {
		t.Fatalf("exit %d, and the file holds revision %d", code, revisionIn(file))
	}

	server.Stop()
	begun := time.Now()
	cold := startService(t, environ...)
	eventually(t, "ready from the file", func() bool { status, _ := get(t, cold.address+"/readyz"); return status == http.StatusOK })
	t.Logf("ready after %v", time.Since(begun))
	if _, body := get(t, cold.address+"/readyz"); !strings.Contains(body, `"status":"degraded"`) || !strings.Contains(body, `"data_revision":2`) || strings.Contains(body, `"age_seconds":9`) {
		t.Errorf("readiness: %s", body)
	}
	if _, after := get(t, cold.address+tries[1]); after != before {
		t.Errorf("other digits:\n%s\n%s", before, after)
	}
	if c, err = client.New(cold.address, client.Options{Tries: 1}); err != nil {
		t.Fatal(err)
	}
	var problem *client.Problem
	if err := c.DeleteMachine(t.Context(), "vmc-40", client.Write{Tag: tag}); !errors.As(err, &problem) || problem.Status != http.StatusServiceUnavailable || problem.RetryAfter == 0 {
		t.Errorf("a write: %v", err)
	}
	server.Start()
	eventually(t, "the database takes over", func() bool {
		_, body := get(t, cold.address+"/readyz")
		return strings.Contains(body, `"status":"ready"`) && strings.Contains(body, `"data_revision":2`)
	})
	if log := cold.errs.String(); !strings.Contains(log, "serving from the snapshot file") {
		t.Errorf("the log says nothing of it:\n%s", log)
	}
}

// Keys serve from the file too, and so does what became of them: a caller is let in while the
// database is away, and one whose key was revoked is not.
func TestColdStartKnowsItsCallers(t *testing.T) {
	server := dbtest.NewServer(t)
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	database := "DATABASE_URL=" + loaded(t, server.URL())
	environ := []string{database, "SWARF_SNAPSHOT=" + file, "SWARF_POLL_INTERVAL=200ms", "SWARF_KEYS=always"}
	good, bad := makeKeyOf(t, database, "-name", "MES", "-scopes", "read"), makeKeyOf(t, database, "-name", "old", "-scopes", "read")
	warm := startService(t, environ...)
	timedUntil(t, "both keys serve", func() bool {
		return readWith(t, warm, good) == http.StatusOK && readWith(t, warm, bad) == http.StatusOK
	})
	if code, _, errs := swarf(t, []string{database}, "key", "revoke", strings.Split(bad, "_")[1]); code != 0 {
		t.Fatal(errs)
	}
	timedUntil(t, "the revocation is known", func() bool { return readWith(t, warm, bad) == http.StatusUnauthorized })
	if code := warm.stop(); code != 0 {
		t.Fatalf("exit %d", code)
	}
	server.Stop()
	cold := startService(t, environ...)
	timedUntil(t, "the key serves from the file", func() bool { return readWith(t, cold, good) == http.StatusOK })
	for key, want := range map[string]int{bad: http.StatusUnauthorized, good + "x": http.StatusUnauthorized} {
		if got := readWith(t, cold, key); got != want {
			t.Errorf("%d, want %d", got, want)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{good, bad} {
		if bytes.Contains(text, []byte(strings.Split(key, "_")[2])) {
			t.Error("a secret stands in the file")
		}
	}
}

// A damaged file serves nothing: the service waits for its database.
func TestColdStartRefusesADamagedFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	d, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	whole, err := snapshot.Encode(&d, snapshot.Options{Made: time.Now()})
	if err != nil {
		t.Fatal(err)
	}
	way, present := new(link), newSnapshots(nil)
	var log bytes.Buffer
	k := &keeper{path: file, present: present, ring: new(keyring), log: slog.New(slog.NewTextHandler(&log, nil))}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 1))
	for range 250 {
		bit := chance.IntN(8 * len(whole))
		whole[bit/8] ^= 1 << (bit % 8)
		if err := os.WriteFile(file, whole, 0o600); err != nil {
			t.Fatal(err)
		}
		whole[bit/8] ^= 1 << (bit % 8)
		if k.start(way); present.now() != nil {
			t.Fatalf("bit %d flipped, and it is served (seed %d)", bit, seed)
		}
	}
	if !strings.Contains(log.String(), "the snapshot file is refused") {
		t.Errorf("the log: %s", log.String())
	}
	if err := os.WriteFile(file, whole[:len(whole)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	s := startService(t, "DATABASE_URL=postgres://shop@127.0.0.1:1/swarf", "SWARF_SNAPSHOT="+file)
	if status, body := get(t, s.address+tries[0]); status != http.StatusServiceUnavailable || !strings.Contains(body, "data-not-ready") {
		t.Errorf("%d %s", status, body)
	}
	// With a key set, a file that is not signed with it serves nothing either.
	if err := os.WriteFile(file, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	s = startService(t, "DATABASE_URL=postgres://shop@127.0.0.1:1/swarf", "SWARF_SNAPSHOT="+file, "SWARF_SNAPSHOT_KEY="+testKey)
	if status, _ := get(t, s.address+tries[0]); status != http.StatusServiceUnavailable {
		t.Errorf("not signed: %d", status)
	}
	s = startService(t, "DATABASE_URL=postgres://shop@127.0.0.1:1/swarf", "SWARF_SNAPSHOT="+file)
	if status, _ := get(t, s.address+tries[0]); status != http.StatusOK {
		t.Errorf("whole: %d", status)
	}
}

// Between two writes of the file there is a rest; what is new at the end goes out.
func TestKeeperRests(t *testing.T) {
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	present := newSnapshots(nil)
	take := func(revision int64) {
		snap, err := catalog.New(catalog.Data{Revision: revision})
		if err != nil {
			t.Fatal(err)
		}
		present.current.Store(snap)
	}
	k := &keeper{path: file, present: present, ring: new(keyring), log: slog.New(slog.DiscardHandler), rest: time.Hour, newer: make(chan struct{}, 1)}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan struct{})
	go func() { k.run(ctx); close(ended) }()
	take(1)
	k.tell()
	eventually(t, "the first is written at once", func() bool { return revisionIn(file) == 1 })
	for revision := int64(2); revision <= 50; revision++ {
		take(revision)
		k.tell()
	}
	if got := revisionIn(file); got != 1 {
		t.Errorf("revision %d is written in the rest", got)
	}
	cancel()
	<-ended
	if got := revisionIn(file); got != 50 {
		t.Errorf("at the end the file holds revision %d", got)
	}
}

// What comes from a file is replaced by the first load, even of the same revision, and never
// written back.
func TestFirstLoadReplacesTheFile(t *testing.T) {
	loads := 0
	present := newSnapshots(func(context.Context) (catalog.Data, error) { loads++; return catalog.Data{Revision: 7}, nil })
	old, err := catalog.New(catalog.Data{Revision: 7})
	if err != nil {
		t.Fatal(err)
	}
	if !present.seed(old) || present.seed(old) || present.now() != old {
		t.Fatal("not seeded, or twice")
	}
	path := filepath.Join(t.TempDir(), "swarf.snapshot")
	k := &keeper{path: path, present: present, ring: new(keyring), log: slog.New(slog.DiscardHandler)}
	if k.write(); revisionIn(path) != 0 {
		t.Error("the file is written from itself")
	}
	if err := present.refresh(t.Context(), 7); err != nil || loads != 1 || present.now() == old {
		t.Errorf("%v, %d loads", err, loads)
	}
	if err := present.refresh(t.Context(), 7); err != nil || loads != 1 {
		t.Errorf("%v, %d loads", err, loads)
	}
	if k.write(); revisionIn(path) != 7 {
		t.Error("the loaded data is not written")
	}
}
