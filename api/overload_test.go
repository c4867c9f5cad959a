package api

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"swarf/api/gate"
	"swarf/api/wire"
	"swarf/domain/catalog"
)

// busy is a service of squares whose lanes can be filled.
func busy(t *testing.T, options Options) *Server {
	t.Helper()
	options.Snapshots = func() *catalog.Snapshot { return &catalog.Snapshot{Revision: 7} }
	return newServer(options, append(computationRows("/v1/squares", computation(measure), batch(measure, verdictOfSquare)),
		route{http.MethodGet, "/healthz", getHealth, operating, nil, recordFormats}))
}

func manySquares(n int) string {
	return `{"units":"metric","items":[` + strings.TrimSuffix(strings.Repeat(`{"side":2,"ref":"012345678901234567890123456789"},`, n), ",") + "]}"
}

// turnedAway holds an answer against what whoever is turned away is told.
func turnedAway(t *testing.T, what string, got *httptest.ResponseRecorder) {
	t.Helper()
	var p wire.Problem
	if err := json.Unmarshal(got.Body.Bytes(), &p); err != nil || got.Code != http.StatusServiceUnavailable || p.Code != "overloaded" || got.Header().Get("Retry-After") != "1" {
		t.Errorf("%s: %d, Retry-After %q, %.300s", what, got.Code, got.Header().Get("Retry-After"), got.Body)
	}
}

// Whoever does not fit is turned away before the body is read; each lane is full by itself,
// and what computes nothing is in none.
func TestFullLanesTurnAway(t *testing.T) {
	s := busy(t, Options{Limits: Limits{BatchItems: 1_000}})
	h := s.Handler()
	if got := post(h, "/v1/squares/batch", manySquares(200)); got.Code != http.StatusOK {
		t.Fatal(got.Code, got.Body)
	}
	if s.many.Busy() != 0 || s.one.Busy() != 0 {
		t.Fatalf("%d and %d are taken when nothing is done", s.many.Busy(), s.one.Busy())
	}
	fill := func(l *gate.Lane) (empty func()) {
		if err := l.Enter(t.Context(), 1<<30); err != nil {
			t.Fatal(err)
		}
		return func() { l.Leave(1 << 30) }
	}
	empty := fill(s.many)
	turnedAway(t, "a batch", post(h, "/v1/squares/batch", manySquares(200)))
	for what, got := range map[string]*httptest.ResponseRecorder{
		"a short batch": post(h, "/v1/squares/batch", manySquares(2)), "one": post(h, "/v1/squares", `{"units":"metric","side":2}`),
		"one by GET": get(h, "/v1/squares?units=metric&side=2"), "health": get(h, "/healthz"),
	} {
		if got.Code != http.StatusOK {
			t.Errorf("%s: %d %s", what, got.Code, got.Body)
		}
	}
	empty()
	empty = fill(s.one)
	turnedAway(t, "one", post(h, "/v1/squares", `{"units":"metric","side":2}`))
	turnedAway(t, "one by GET", get(h, "/v1/squares?units=metric&side=2"))
	if got := post(h, "/v1/squares/batch", manySquares(200)); got.Code != http.StatusOK {
		t.Error(got.Code, got.Body)
	}
	if got := get(h, "/healthz"); got.Code != http.StatusOK {
		t.Error(got.Code, got.Body)
	}
	empty()
	if s.one.Turned() != 2 || s.many.Turned() != 1 {
		t.Errorf("%d and %d were turned away", s.one.Turned(), s.many.Turned())
	}
}

// What waits for the database holds no place meanwhile, and gets one back.
func TestWaitingForTheDatabaseHoldsNoPlace(t *testing.T) {
	var s *Server
	var during atomic.Int64
	s = busy(t, Options{AsOf: func(context.Context, string) (*catalog.Snapshot, error) {
		during.Store(s.many.Busy() + s.one.Busy() + 1)
		return &catalog.Snapshot{Revision: 3}, nil
	}})
	for what, ask := range map[string]func() *httptest.ResponseRecorder{
		"a batch": func() *httptest.ResponseRecorder {
			return post(s.Handler(), "/v1/squares/batch?as_of=3", manySquares(200))
		},
		"one": func() *httptest.ResponseRecorder { return get(s.Handler(), "/v1/squares?units=metric&side=2&as_of=3") },
	} {
		got := ask()
		if got.Code != http.StatusOK || got.Header().Get("Data-Revision") != "3" || during.Swap(0) != 1 || s.many.Busy()+s.one.Busy() != 0 {
			t.Errorf("%s: %d, %d taken afterwards, %.300s", what, got.Code, s.many.Busy()+s.one.Busy(), got.Body)
		}
	}
}

// slow is a reader of answers that looks at the service whenever a piece comes.
type slow struct {
	*httptest.ResponseRecorder
	look func(piece int)
}

func (s *slow) Write(p []byte) (int, error) {
	s.look(len(p))
	return s.ResponseRecorder.Write(p)
}

// An answer that goes out holds no place, comes in pieces, and counts as memory until then.
func TestAnswersGoOutWithoutAPlace(t *testing.T) {
	s := busy(t, Options{Limits: Limits{BatchItems: 5_000}})
	pieces := 0
	w := &slow{httptest.NewRecorder(), func(n int) {
		if pieces++; n > pieceOfAnswer || s.many.Busy() != 0 || s.memory.Held() < pieceOfAnswer {
			t.Errorf("a piece of %d bytes, %d taken, %d held", n, s.many.Busy(), s.memory.Held())
		}
	}}
	r := httptest.NewRequest(http.MethodPost, "/v1/squares/batch", strings.NewReader(manySquares(5_000)))
	r.Header.Set("Content-Type", "application/json")
	s.Handler().ServeHTTP(w, r)
	if w.Code != http.StatusOK || pieces < 5 || !json.Valid(w.Body.Bytes()) || s.memory.Held() != 0 {
		t.Errorf("%d, %d pieces, %d held afterwards", w.Code, pieces, s.memory.Held())
	}
}

// A body counts while it is held, and so does a batch in work; without memory for it the
// sender is turned away.
func TestBodiesCountAsMemory(t *testing.T) {
	s := busy(t, Options{Limits: Limits{BatchItems: 10, HeldBytes: 1 << 20}})
	turnedAway(t, "a long body", post(s.Handler(), "/v1/squares/batch", manySquares(2)+strings.Repeat(" ", 2<<20)))
	if got := post(s.Handler(), "/v1/squares/batch", manySquares(2)+strings.Repeat(" ", 200<<10)); got.Code != http.StatusOK || s.memory.Held() != 0 {
		t.Error(got.Code, s.memory.Held(), got.Body)
	}
	s = busy(t, Options{Limits: Limits{BatchItems: 5_000, HeldBytes: 1 << 20}})
	short := manySquares(200)
	turnedAway(t, "one that takes much memory in work", post(s.Handler(), "/v1/squares/batch", manySquares(5_000)))
	if got := post(s.Handler(), "/v1/squares/batch", short); got.Code != http.StatusOK {
		t.Error(got.Code, got.Body)
	}
	if s.memory.Held() != 0 || s.memory.Turned() != 1 {
		t.Errorf("%d are held afterwards, %d turned away", s.memory.Held(), s.memory.Turned())
	}
}

// A stream waits its turn between chunks instead of being broken off.
func TestStreamsWait(t *testing.T) {
	s := busy(t, Options{Limits: Limits{BatchItems: 1_000}})
	if err := s.many.Enter(t.Context(), 1<<30); err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(50*time.Millisecond, func() { s.many.Leave(1 << 30) })
	got := post(s.Handler(), "/v1/squares/batch?units=metric", strings.Repeat(`{"side":2}`+"\n", 600), "Content-Type", "application/x-ndjson")
	if n := strings.Count(got.Body.String(), `"diagonal":2.82843`); got.Code != http.StatusOK || n != 600 || s.many.Busy() != 0 {
		t.Errorf("%d, %d answers, %d taken afterwards", got.Code, n, s.many.Busy())
	}
}

// A body that is read twice, once for the fingerprint of a repeated write and once by its
// handler, takes one place and leaves none taken.
func TestReadingTwiceTakesOnePlace(t *testing.T) {
	var s *Server
	most := int64(0)
	s = newServer(Options{}, []route{{http.MethodPost, "/v1/twice", func(x *exchange) error {
		for range 2 {
			if err := x.readBody(1<<20, func([]byte) error { most = max(most, s.one.Busy()); return nil }); err != nil {
				return err
			}
			x.Request().Body = http.NoBody
		}
		return x.plainText("")
	}, computing, nil, recordFormats}})
	for range 3 {
		if got := post(s.Handler(), "/v1/twice", "{}"); got.Code != http.StatusOK {
			t.Fatal(got.Code, got.Body)
		}
	}
	if most != 1 || s.one.Busy() != 0 {
		t.Errorf("%d places at most, %d afterwards", most, s.one.Busy())
	}
}
