package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"swarf/db/dbtest"
)

// updates is how many writes are made while others read.
const updates = 1_000

// balancer spreads requests over replicas in turn, as any would.
func balancer(t *testing.T, replicas []*service) *httptest.Server {
	t.Helper()
	var targets []*url.URL
	for _, s := range replicas {
		target, err := url.Parse(s.address)
		if err != nil {
			t.Fatal(err)
		}
		targets = append(targets, target)
	}
	var turn atomic.Uint64
	proxy := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) {
		r.SetURL(targets[turn.Add(1)%uint64(len(targets))])
	}}
	front := httptest.NewServer(proxy)
	t.Cleanup(front.Close)
	return front
}

// Three replicas behind a balancer on one database: while two machines are written a
// thousand times, through any replica, each answer about both of them is of one revision,
// the one that it states, and has the numbers that were written in it.
func TestNoAnswerMixesRevisions(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	var replicas []*service
	for range 3 {
		replicas = append(replicas, startService(t, database))
	}
	for _, s := range replicas {
		eventually(t, "a replica is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	}
	front := balancer(t, replicas)

	// What each machine can turn as of each revision; the last entry is known until the next.
	var ledger sync.Map // revision → [2]int
	state := [2]int{5_000, 5_000}
	put := func(which, speed int) {
		body := strings.ReplaceAll(ourMachine, "8000", strconv.Itoa(speed))
		status, header, text := call(t, http.MethodPut, front.URL+fmt.Sprintf("/v1/machines/mill-%d", which), body, "If-Match", "*")
		made, err := strconv.ParseInt(header.Get("Data-Revision"), 10, 64)
		if status != http.StatusOK || err != nil {
			t.Fatalf("PUT: %d %s", status, text)
		}
		state[which] = speed
		ledger.Store(made, state)
	}
	for which := range 2 {
		status, header, text := call(t, http.MethodPut, front.URL+fmt.Sprintf("/v1/machines/mill-%d", which), strings.ReplaceAll(ourMachine, "8000", "5000"), "If-None-Match", "*")
		if status != http.StatusCreated {
			t.Fatalf("%d %s", status, text)
		}
		made, err := strconv.ParseInt(header.Get("Data-Revision"), 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		ledger.Store(made, state)
	}
	for _, s := range replicas {
		eventually(t, "a replica has both machines", func() bool { status, _ := get(t, s.address+"/v1/machines/mill-1"); return status == http.StatusOK })
	}

	type seen struct {
		revision int64
		speeds   [2]int
	}
	answers := make(chan seen, 1<<16)
	stop := make(chan struct{})
	var readers sync.WaitGroup
	const question = `{"units":"metric","cut":{"material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":10},"engagement":{"hole_depth":20,"through":true},"parameters":{"cutting_speed":60,"feed_per_revolution":0.15}},"machines":["mill-0","mill-1"]}`
	for range 2 {
		readers.Go(func() {
			client := &http.Client{}
			for {
				select {
				case <-stop:
					return
				default:
				}
				answer, err := client.Post(front.URL+"/v1/spindle-checks", "application/json", strings.NewReader(question))
				if err != nil {
					t.Error(err)
					return
				}
				text, _ := io.ReadAll(answer.Body)
				answer.Body.Close()
				var a struct {
					Revision int64 `json:"data_revision"`
					Results  []struct {
						Limits []struct {
							Limit   string
							Allowed float64
						}
					}
				}
				if err := json.Unmarshal(text, &a); err != nil || len(a.Results) != 2 || answer.StatusCode != http.StatusOK {
					t.Errorf("%d %s", answer.StatusCode, text)
					return
				}
				if header := answer.Header.Get("Data-Revision"); header != strconv.FormatInt(a.Revision, 10) {
					t.Errorf("revision %d in the body, %s in the header", a.Revision, header)
				}
				s := seen{revision: a.Revision}
				for k := range a.Results {
					for _, l := range a.Results[k].Limits {
						if l.Limit == "spindle_speed" {
							s.speeds[k] = int(l.Allowed)
						}
					}
				}
				select {
				case answers <- s:
				default:
				}
			}
		})
	}
	for k := range updates {
		put(k%2, 5_001+k)
	}
	close(stop)
	readers.Wait()
	close(answers)
	held, revisions := 0, map[int64]bool{}
	for s := range answers {
		want, known := ledger.Load(s.revision)
		if !known || want.([2]int) != s.speeds {
			t.Fatalf("an answer of revision %d has %v, written were %v", s.revision, s.speeds, want)
		}
		held++
		revisions[s.revision] = true
	}
	t.Logf("%d answers of %d revisions over %d updates", held, len(revisions), updates)
	if held < 500 || len(revisions) < 50 {
		t.Errorf("only %d answers of %d revisions were seen", held, len(revisions))
	}
}

func mustGet(t *testing.T, url string) string {
	t.Helper()
	status, body := get(t, url)
	if status != http.StatusOK {
		t.Fatalf("%s: %d %s", url, status, body)
	}
	return body
}
