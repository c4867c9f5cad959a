package api_test

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/api"
	"swarf/domain/catalog"
)

// tally is what generated requests came to.
type tally struct {
	t          *testing.T
	mu         sync.Mutex
	requests   int
	classes    [6]int          // by hundreds of the status
	refused    int             // that had to be refused, and were
	operations map[string]int  // requests of each
	kinds      map[string]int  // requests by how they were made
	good       map[string]int  // answered well, of each
	told       map[string]bool // what is wrong with which operation, once each
	faults     int
}

// The document describes every request; what is made from it, good, at the edge and spoilt,
// is answered or refused, never with a fault of ours, an answer that the document does not
// have, or a number that is none; what is known to be spoilt is refused. GENERATED_REQUESTS
// says how many are sent, GENERATED_SEED repeats a run.
func TestGeneratedRequests(t *testing.T) {
	count := setting(t, "GENERATED_REQUESTS", 4_000)
	seed := setting(t, "GENERATED_SEED", int(time.Now().UnixNano()%1_000_000_007))
	t.Logf("GENERATED_SEED=%d GENERATED_REQUESTS=%d", seed, count)
	doc := published(t)
	sum := newTally(t)
	operations := describedOperations(t, doc)
	stretch := 400 // requests from one seed, to one store
	if count >= 100_000 {
		stretch = 2_000
	}
	var group sync.WaitGroup
	next := make(chan int)
	for range 2 {
		group.Go(func() {
			embedded := embeddedHandler(t)
			for at := range next {
				keys := newKeys()
				g := &generator{rng: rand.New(rand.NewPCG(uint64(seed), uint64(at))), operations: operations, key: keys.make(t, "generated", false, "read", "compute", "write", "approve", "admin")}
				g.run(sum, at, min(stretch, count-at), newShop(t).handlerOf(api.Options{Keys: keys, Answers: newAnswers()}), embedded)
			}
		})
	}
	began := time.Now()
	for at := 0; at < count; at += stretch {
		next <- at
		if at%100_000 == 0 && at > 0 {
			fmt.Fprintf(os.Stderr, "%d requests, %v, %d faults\n", at, time.Since(began).Round(time.Second), sum.faults)
		}
	}
	close(next)
	group.Wait()
	sum.tell(t, time.Since(began))
	sum.enough(t, count, operations)
}

func newTally(t *testing.T) *tally {
	return &tally{t: t, operations: map[string]int{}, kinds: map[string]int{}, good: map[string]int{}, told: map[string]bool{}}
}

// embeddedHandler is the service as it runs without a database, with its pages.
func embeddedHandler(t *testing.T) http.Handler {
	snap := snapshotOf(t, embeddedData(t))
	return serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }})
}

// run sends a stretch of requests.
func (g *generator) run(sum *tally, at, count int, shop, embedded http.Handler) {
	for i := range count {
		r := g.request(at + i)
		h, bare := shop, false
		if strings.HasPrefix(r.target, "/docs") || strings.HasPrefix(r.target, "/openapi") || g.rng.IntN(4) == 0 {
			h, bare = embedded, true
		}
		if !bare && g.rng.IntN(8) > 0 && !r.has("Authorization") {
			r.headers = append(r.headers, g.key)
		}
		request, err := r.sent("http://127.0.0.1:8080")
		if err != nil {
			continue // no client can send it
		}
		request.RequestURI, request.RemoteAddr = r.target, "192.0.2.1:1234"
		got := recorded(h, request)
		sum.add(r, got, r.judge(got, bare), fmt.Sprintf("stretch %d, request %d, embedded %v", at, i, bare))
	}
}

// recorded is the answer of a handler, whose body is not looked into.
func recorded(h http.Handler, r *http.Request) reply {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return reply{status: w.Code, header: w.Header(), body: w.Body.Bytes()}
}

func (s *tally) add(r *generated, got reply, wrong, where string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	name := r.operation.method + " " + r.operation.path
	s.requests++
	s.classes[got.status/100]++
	s.operations[name]++
	s.kinds[r.kind]++
	if got.status < 400 {
		s.good[name]++
	}
	if r.refused != "" && got.status >= 400 {
		s.refused++
	}
	if wrong == "" {
		return
	}
	s.faults++
	key := name + " " + strconv.Itoa(got.status) + " " + fmt.Sprintf("%.40s", wrong)
	if !s.told[key] && len(s.told) < 40 {
		s.told[key] = true
		s.t.Errorf("%s: %d: %s\n  %v\n  answered %s %.800q", where, got.status, wrong, r, got.header.Get("Content-Type"), got.body)
	}
}

// tell writes down what was seen.
func (s *tally) tell(t *testing.T, took time.Duration) {
	t.Helper()
	t.Logf("%d requests to %d operations in %v: 2xx %d, 3xx %d, 4xx %d, 5xx %d (no store, said so); %d had to be refused and were; %d faults", s.requests, len(s.operations), took.Round(time.Millisecond),
		s.classes[2], s.classes[3], s.classes[4], s.classes[5], s.refused, s.faults)
	t.Logf("by kind: %v", s.kinds)
}

// enough fails a run that saw too little to say anything.
func (s *tally) enough(t *testing.T, count int, operations []*described) {
	t.Helper()
	if s.requests < count*99/100 {
		t.Errorf("only %d of %d requests could be sent", s.requests, count)
	}
	if count < 4_000 {
		t.Errorf("%d requests are too few: 4000 at least", count)
	}
	for _, kind := range []string{"read", "spoilt query", "example", "grafted", "at the edge", "spoilt", "shaken", "other type", "lines", "document"} {
		if s.kinds[kind] < 30 {
			t.Errorf("only %d requests of kind %q", s.kinds[kind], kind)
		}
	}
	if good := s.classes[2] + s.classes[3]; good < s.requests/5 || s.refused < s.requests/10 {
		t.Errorf("of %d requests %d were answered and %d spoilt ones refused", s.requests, good, s.refused)
	}
	for _, d := range operations {
		if name := d.method + " " + d.path; s.operations[name] < everyTime*9/10 {
			t.Errorf("%s was asked only %d times", name, s.operations[name])
		}
	}
	if len(s.good) < len(operations)*2/3 {
		t.Errorf("only %d of %d operations were ever answered well", len(s.good), len(operations))
	}
}

// setting is a number from the environment, or what it is without.
func setting(t *testing.T, name string, otherwise int) int {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return otherwise
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatalf("%s=%q is no whole number", name, text)
	}
	return n
}
