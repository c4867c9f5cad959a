package main

import (
	"context"
	"flag"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// duplicates is how many keys are sent ten times each: go test ./cmd/swarf -run
// Duplicates -duplicates 1000.
var duplicates = flag.Int("duplicates", 50, "how many Idempotency-Keys TestDuplicates sends ten times each")

// Requests that are sent ten times at once, over two replicas, have their effect once: each
// key one observation and one machine. Every caller gets the same answer in the end, and
// until then is told that the first is still at work.
func TestDuplicates(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	key := makeKeyOf(t, database, "-name", "MES", "-scopes", "read,write")
	replicas := []*service{startService(t, database, "SWARF_KEYS=always"), startService(t, database, "SWARF_KEYS=always")}
	for _, s := range replicas {
		timedUntil(t, "a replica serves the key", func() bool { return readWith(t, s, key) == 200 })
	}
	const times = 10
	observation := `{"units":"metric","kind":"load","lot":"%d","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8,"tool_material":"HC"},
		"engagement":{"work_diameter":80,"depth_of_cut":2.5},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":5}}`
	var busy, replayed atomic.Int64
	// send repeats a request until it is answered, as a client would.
	send := func(s *service, method, target, body, once string) (int, string) {
		for began := time.Now(); ; time.Sleep(20 * time.Millisecond) {
			status, header, text := call(t, method, s.address+target, body, "Authorization", "Bearer "+key, "Idempotency-Key", once, "If-None-Match", "*")
			switch {
			case status == http.StatusConflict && strings.Contains(text, "idempotency-key-busy"):
				busy.Add(1)
			case status == http.StatusServiceUnavailable: // the pool is small and the machine shared
			default:
				if header.Get("Idempotency-Replayed") == "true" {
					replayed.Add(1)
				}
				return status, text
			}
			if time.Since(began) > time.Minute {
				return status, text
			}
		}
	}
	answers := make([][times]string, 2**duplicates)
	gate := make(chan struct{}, 100) // as many at a time
	var all sync.WaitGroup
	for i := range answers {
		method, target, body := http.MethodPost, "/v1/observations", fmt.Sprintf(observation, i)
		if i%2 == 1 {
			method, target, body = http.MethodPut, fmt.Sprint("/v1/machines/m", i), ourMachine
		}
		for j := range times {
			gate <- struct{}{}
			all.Go(func() {
				defer func() { <-gate }()
				status, text := send(replicas[j%2], method, target, body, fmt.Sprint("key-", i))
				if status != http.StatusCreated {
					t.Errorf("%s %s: %d %s", method, target, status, text)
				}
				answers[i][j] = text
			})
		}
	}
	all.Wait()
	for i := range answers {
		for j := range times {
			if answers[i][j] != answers[i][0] {
				t.Fatalf("key %d was answered\n%s\nand\n%s", i, answers[i][0], answers[i][j])
			}
		}
	}
	t.Logf("%d keys, %d requests, %d told that the first is at work, %d replayed", len(answers), times*len(answers), busy.Load(), replayed.Load())
	if want := int64(len(answers) * (times - 1)); replayed.Load() != want {
		t.Errorf("%d answers were marked as repeated, want %d", replayed.Load(), want)
	}
	if status, text := send(replicas[0], http.MethodPost, "/v1/observations", fmt.Sprintf(observation, 7777), "key-0"); status != 422 || !strings.Contains(text, "idempotency-key-reused") {
		t.Errorf("another body: %d %s", status, text)
	}
	counted := func(list string) (n int) {
		for after := ""; ; {
			_, _, text := call(t, http.MethodGet, replicas[1].address+list+"&limit=500"+after, "", "Authorization", "Bearer "+key)
			n += strings.Count(text, `"kind":"`)
			_, next, more := strings.Cut(text, `"next_cursor":"`)
			if !more {
				return n
			}
			next, _, _ = strings.Cut(next, `"`)
			after = "&cursor=" + next
		}
	}
	if n := counted("/v1/observations?kind=load"); n != *duplicates {
		t.Errorf("%d observations of %d keys", n, *duplicates)
	}
	if n := counted("/v1/changes?after=1"); n != *duplicates {
		t.Errorf("%d machines were written with %d keys", n, *duplicates)
	}
}

// A database that is killed between the effect of a write and its answer leaves both or
// neither: the repeated request has the effect, or its answer, and never a second one.
func TestKilledBetweenEffectAndAnswer(t *testing.T) {
	server := dbtest.NewServer(t)
	database := "DATABASE_URL=" + loaded(t, server.URL())
	s := startService(t, database)
	const rounds = 3
	for round := range rounds {
		target := fmt.Sprint(s.address, "/v1/machines/k", round)
		eventually(t, "the service is ready", func() bool {
			status, body := get(t, s.address+"/readyz")
			return status == http.StatusOK && strings.Contains(body, `"ready"`)
		})
		ctx, cancel := context.WithCancel(t.Context())
		sent := make(chan int, 1)
		go func() {
			request, _ := http.NewRequestWithContext(ctx, http.MethodPut, target, strings.NewReader(ourMachine))
			for name, value := range map[string]string{"Content-Type": "application/json", "If-None-Match": "*", "Idempotency-Key": fmt.Sprint("k", round)} {
				request.Header.Set(name, value)
			}
			answer, err := http.DefaultClient.Do(request)
			if err != nil {
				sent <- 0
				return
			}
			answer.Body.Close()
			sent <- answer.StatusCode
		}()
		time.Sleep(time.Duration(round*4) * time.Millisecond)
		server.Kill()
		first := <-sent
		cancel()
		server.Start()
		var status int
		var header http.Header
		var body string
		eventually(t, "the repeated request is answered", func() bool {
			status, header, body = call(t, http.MethodPut, target, ourMachine, "If-None-Match", "*", "Idempotency-Key", fmt.Sprint("k", round))
			return status != http.StatusServiceUnavailable && status != http.StatusConflict
		})
		if status != http.StatusCreated || first == http.StatusCreated && header.Get("Idempotency-Replayed") != "true" {
			t.Errorf("round %d: first %d, then %d %s", round, first, status, body)
		}
	}
	_, feed := get(t, s.address+"/v1/changes?after=1")
	if n := strings.Count(feed, `"action":"added"`); n != rounds {
		t.Errorf("%d machines were added by %d requests", n, rounds)
	}
}
