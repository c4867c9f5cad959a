//go:build faults

package faults

import (
	"math"
	"strconv"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// Nothing acknowledged is lost, doubled or half there when the service, PostgreSQL or both
// are killed at any moment under writes of every kind.
func TestKillUnderWrites(t *testing.T) {
	chance := begin(t)
	server := dbtest.NewServer(t)
	durable(t, server)
	loaded(t, server.URL())
	s := serve(t, "DATABASE_URL="+server.URL(), "SWARF_JOB_SLICE=100ms")
	s.ready()
	w := startWriters(t, chance, s.address, chosen(10*time.Millisecond, 5*time.Millisecond))
	cycles := chosen(8, scaled(200))
	deaths := map[string]int{}
	var back time.Duration
	for n := range cycles {
		before := w.ledger.count(acked)
		least := before + chosen(15, 40)
		eventually(t, "writes are made", func() bool { return w.ledger.count(acked) >= least })
		time.Sleep(time.Duration(chance.Int64N(int64(200 * time.Millisecond))))
		victim := []string{"service", "database", "both"}[(n+chance.IntN(3))%3]
		deaths[victim]++
		if victim != "service" {
			server.Kill()
		}
		if victim != "database" {
			s.kill()
		}
		if victim != "service" {
			server.Start()
		}
		if victim != "database" {
			s.start()
		}
		s.ready()
		back = max(back, eventually(t, "writes work again", writes(s)))
		if n%50 == 49 {
			t.Logf("%d cycles, ledger: %v", n+1, w.ledger)
		}
	}
	w.end()
	held(t, w, server, cycles*chosen(15, 40))
	t.Logf("%d cycles, killed: %v; writes worked at most %.0f ms after both were ready", cycles, deaths, ms(back))
	if long() {
		computed(t, server)
		held(t, w, server, cycles)
	}
}

// computed waits until every batch for later is computed, for as long as there are fewer and
// fewer left. A queue tells a dead worker from a slow one after a while.
func computed(t *testing.T, server *dbtest.Server) {
	t.Helper()
	const standstill = 3 * time.Minute
	least, since, began := math.MaxInt, time.Now(), time.Now()
	within(t, time.Hour, "all jobs are computed", func() bool {
		text, err := server.Ask(unfinished)
		left, bad := strconv.Atoi(text)
		if err == nil && bad == nil && left < least {
			least, since = left, time.Now()
		}
		if time.Since(since) > standstill {
			t.Fatalf("%d jobs are left, and no fewer for %v", least, standstill)
		}
		return least == 0
	})
	t.Logf("all jobs were computed %.1f s later", time.Since(began).Seconds())
}
