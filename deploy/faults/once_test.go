//go:build faults

package faults

import (
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// Each of many keys is sent by ten callers at once, over two replicas: one effect for each,
// and all ten get the same answer.
func TestOnceForEachKey(t *testing.T) {
	begin(t)
	server := dbtest.NewServer(t)
	durable(t, server)
	loaded(t, server.URL())
	environ := []string{"DATABASE_URL=" + server.URL(), "SWARF_DB_PATIENCE=10s"} // it is not away, the machine may be busy
	replicas := []*service{serve(t, environ...), serve(t, environ...)}
	for _, s := range replicas {
		s.ready()
	}
	const duplicates = 10
	keys := chosen(60, scaled(1_000))
	var counts struct {
		sync.Mutex
		statuses         map[int]int
		replayed, others int
	}
	counts.statuses = map[int]int{}
	const one = `{"units":"metric","kind":"load","lot":%q,"cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":5.5,"minutes_in_cut":3}}`
	began := time.Now()
	for n := range keys {
		lot, key := fmt.Sprintf("lot-%d", n), fmt.Sprintf("key-%d", n)
		bodies := make([]string, duplicates)
		var all sync.WaitGroup
		for i := range duplicates {
			all.Go(func() {
				for range 200 { // 409 while the first is at work
					a, err := ask(http.MethodPost, replicas[i%2].address()+"/v1/observations", fmt.Sprintf(one, lot), "Idempotency-Key", key)
					if err != nil {
						t.Errorf("%s: %v", key, err)
						return
					}
					counts.Lock()
					counts.statuses[a.status]++
					if a.header.Get("Idempotency-Replayed") != "" {
						counts.replayed++
					}
					counts.Unlock()
					if bodies[i] = a.body; a.status == http.StatusCreated {
						return
					}
					if a.status != http.StatusConflict || !strings.Contains(a.body, "idempotency-key-busy") {
						t.Errorf("%s: %d %s", key, a.status, a.body)
						return
					}
					time.Sleep(5 * time.Millisecond)
				}
				t.Errorf("%s: still busy", key)
			})
		}
		all.Wait()
		for _, body := range bodies {
			if body != bodies[0] {
				t.Errorf("%s: another answer:\n%s\n%s", key, body, bodies[0])
			}
		}
		if n%10 == 0 {
			if a, err := ask(http.MethodPost, replicas[0].address()+"/v1/observations", fmt.Sprintf(one, lot+"-other"), "Idempotency-Key", key); err != nil || a.status != http.StatusUnprocessableEntity {
				t.Errorf("%s with another body: %d %v %s", key, a.status, err, a.body)
			}
			counts.others++
		}
	}
	t.Logf("%d keys × %d callers in %.1f s: statuses %v, %d replayed, %d with another body refused", keys, duplicates, time.Since(began).Seconds(), counts.statuses, counts.replayed, counts.others)
	effects, err := server.Ask(`SELECT count(*) || ' in ' || count(DISTINCT lot) FROM observation`)
	if want := fmt.Sprintf("%d in %d", keys, keys); err != nil || effects != want {
		t.Errorf("effects: %s lots, want %s, %v", effects, want, err)
	}
	if counts.replayed != keys*(duplicates-1) || counts.statuses[http.StatusCreated] != keys*duplicates {
		t.Errorf("%d replayed of %d good answers, want %d of %d", counts.replayed, counts.statuses[http.StatusCreated], keys*(duplicates-1), keys*duplicates)
	}
}
