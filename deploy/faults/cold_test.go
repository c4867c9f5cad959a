//go:build faults

package faults

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"swarf/db/dbtest"
	"swarf/db/snapshot"
)

// A service that starts while its database is away serves the last snapshot on disk, to the
// digit; with any bit of the file flipped it serves nothing from it.
func TestColdStart(t *testing.T) {
	chance := begin(t)
	server := dbtest.NewServer(t)
	durable(t, server)
	loaded(t, server.URL())
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	environ := []string{"DATABASE_URL=" + server.URL(), "SWARF_SNAPSHOT=" + file, "SWARF_DB_PATIENCE=10s"}
	s := serve(t, environ...)
	s.ready()
	for range 5 {
		if a, err := put(s); err != nil || a.status != http.StatusCreated {
			t.Fatalf("a write: %d %v %s", a.status, err, a.body)
		}
	}
	newest, err := server.Ask(`SELECT revision::text FROM data_revision`)
	if err != nil {
		t.Fatal(err)
	}
	warm := newLoad(t, s.address)
	s.term()
	server.Stop()
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}

	began := time.Now()
	s.start()
	s.ready()
	took := time.Since(began)
	if a, err := ask(http.MethodGet, s.address()+"/readyz", ""); err != nil || !strings.Contains(a.body, `"status":"degraded"`) || !strings.Contains(a.body, `"data_revision":`+newest) || !strings.Contains(a.body, `"age_seconds"`) {
		t.Errorf("/readyz: %v %s", err, a.body)
	}
	asked := chosen(200, 20_000)
	for i := range asked {
		q := &warm.questions[i%len(warm.questions)]
		if fault := warm.fault(q); fault != "" {
			t.Fatal(fault)
		}
	}
	if a, err := put(s); err != nil || a.status != http.StatusServiceUnavailable || a.header.Get("Retry-After") == "" {
		t.Errorf("a write: %d %v %s", a.status, err, a.body)
	}
	if long() {
		judge(t, "the start", took, 2*time.Second)
	}
	s.kill()

	// A bit of every byte is flipped, or of as many as there is time for.
	step := chosen(max(1, len(kept)/1_000), 1)
	flipped := 0
	for at := chance.IntN(step); at < len(kept); at += step {
		flip(kept, at, chance.IntN(8), func() {
			if _, _, err := snapshot.Decode(kept, nil); err == nil {
				t.Errorf("a bit of byte %d flipped, and it is taken", at)
			}
		})
		flipped++
	}
	starts := chosen(2, 20)
	for range starts {
		at := chance.IntN(len(kept))
		flip(kept, at, chance.IntN(8), func() {
			if err := os.WriteFile(file, kept, 0o600); err != nil {
				t.Fatal(err)
			}
			s.start()
			eventually(t, "the file is refused", func() bool { return strings.Contains(s.log.String(), "the snapshot file is refused") })
			if a, err := ask(warm.questions[0].method, s.address()+warm.questions[0].path, ""); err != nil || a.status != http.StatusServiceUnavailable {
				t.Errorf("a bit of byte %d flipped: %d %v %.200s", at, a.status, err, a.body)
			}
			s.kill()
			s.log.clear()
		})
	}
	t.Logf("ready %.0f ms after the start, %d answers to the digit; %d flipped bits of %d bytes refused, %d of them in a running service", ms(took), asked, flipped+starts, len(kept), starts)
}

// flip turns one bit over while something is done.
func flip(file []byte, at, bit int, do func()) {
	file[at] ^= 1 << bit
	defer func() { file[at] ^= 1 << bit }()
	do()
}
