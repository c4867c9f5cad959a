//go:build faults

package faults

import (
	"net/http"
	"regexp"
	"strconv"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// holding is what the process holds at a moment of rest.
type holding struct{ goroutines, descriptors, heap float64 }

var measured = map[string]*regexp.Regexp{
	"goroutines":  regexp.MustCompile(`(?m)^go_goroutines (\S+)$`),
	"descriptors": regexp.MustCompile(`(?m)^process_open_fds (\S+)$`),
	"heap":        regexp.MustCompile(`(?m)^go_memstats_heap_alloc_bytes (\S+)$`),
}

// holding reads what the service holds after a garbage collection, with all callers at rest:
// the least of a few looks, for it has business of its own.
func (s *service) holding(l *load, w *writers) (least holding) {
	s.t.Helper()
	w.pause.Lock()
	defer w.pause.Unlock()
	l.rest(func() {
		for n := range chosen(2, 6) {
			time.Sleep(200 * time.Millisecond)
			h := s.look()
			if n == 0 {
				least = h
			}
			least = holding{min(least.goroutines, h.goroutines), min(least.descriptors, h.descriptors), min(least.heap, h.heap)}
		}
	})
	return least
}

// look reads what the service holds at this moment.
func (s *service) look() (h holding) {
	s.t.Helper()
	for range 2 { // what finalizers let go is collected by the second
		if a, err := ask(http.MethodGet, s.private+"/debug/pprof/heap?gc=1", ""); err != nil || a.status != http.StatusOK {
			s.t.Fatalf("the heap: %d %v", a.status, err)
		}
	}
	a, err := ask(http.MethodGet, s.private+"/metrics", "")
	if err != nil {
		s.t.Fatal(err)
	}
	for name, into := range map[string]*float64{"goroutines": &h.goroutines, "descriptors": &h.descriptors, "heap": &h.heap} {
		m := measured[name].FindStringSubmatch(a.body)
		if m == nil {
			s.t.Fatalf("no %s among the metrics", name)
		}
		if *into, err = strconv.ParseFloat(m[1], 64); err != nil {
			s.t.Fatal(err)
		}
	}
	return h
}

// growth is how much larger something is at the end than at the beginning, by the straight
// line through all of it, as a share of its mean.
func growth(of []holding, what func(holding) float64) float64 {
	n := float64(len(of))
	var x, y, xx, xy float64
	for i, h := range of {
		a, b := float64(i), what(h)
		x, y, xx, xy = x+a, y+b, xx+a*a, xy+a*b
	}
	slope := (n*xy - x*y) / (n*xx - x*x)
	return slope * (n - 1) / (y / n)
}

// Under half of what it can and a fault every half a minute, the service holds no more at
// the end than at the beginning.
func TestNoLeak(t *testing.T) {
	chance := begin(t)
	server := dbtest.NewServer(t, dbtest.OnLoopback(t)...)
	durable(t, server)
	loaded(t, server.URL())
	p := between(t, server.Address())
	s := serve(t, "DATABASE_URL="+p.url(), "SWARF_JOB_SLICE=200ms")
	s.ready()
	l := newLoad(t, s.address)
	peak := l.peak(chosen(500*time.Millisecond, 10*time.Second))
	rate := chosen(min(100, peak/2), peak/2)
	t.Logf("peak %d requests/s, asked at %d", peak, rate)
	l.start(rate)
	// Only writes that leave the data in memory as large as it is.
	w := startWriters(t, chance, s.address, chosen(50*time.Millisecond, 100*time.Millisecond), "counter", "observations", "job")
	faults := append(away[:len(away):len(away)], struct {
		name         string
		lets         bool
		begin, ended func(s *dbtest.Server, p *proxy)
	}{"killed", false, func(s *dbtest.Server, _ *proxy) { s.Kill() }, func(s *dbtest.Server, _ *proxy) { s.Start() }})
	seen := map[string]int{}
	fault := func(n int) {
		way := faults[n%len(faults)]
		seen[way.name]++
		way.begin(server, p)
		time.Sleep(chosen(500*time.Millisecond, 5*time.Second))
		way.ended(server, p)
		eventually(t, "readiness is whole again after "+way.name, func() bool { r, _ := s.readiness(); return r.Status == "ready" })
	}
	every, rounds := chosen(time.Second, 30*time.Second), chosen(6, max(6, scaled(60)))
	// What is made once, for the first of each, is no leak, nor are caches that fill up.
	for n := range faults {
		next := time.Now().Add(every)
		if fault(n); long() {
			time.Sleep(time.Until(next))
		}
	}
	began, list := time.Now(), []holding{}
	for n := range rounds {
		next := began.Add(time.Duration(n+1) * every)
		fault(n)
		time.Sleep(time.Until(next))
		list = append(list, s.holding(l, w))
		if h := list[n]; n%5 == 0 || n == rounds-1 {
			t.Logf("after %.0f s: %.0f goroutines, %.0f descriptors, %.2f MB of heap", time.Since(began).Seconds(), h.goroutines, h.descriptors, h.heap/1e6)
		}
	}
	w.end()
	l.next().hold(t, "all along", rate)
	l.end()
	grown := map[string]float64{
		"goroutines":  growth(list, func(h holding) float64 { return h.goroutines }),
		"descriptors": growth(list, func(h holding) float64 { return h.descriptors }),
		"heap":        growth(list, func(h holding) float64 { return h.heap }),
	}
	t.Logf("%d faults in %.0f s: %v; growth along the straight line: goroutines %.2f %%, descriptors %.2f %%, heap %.2f %%",
		rounds, time.Since(began).Seconds(), seen, 100*grown["goroutines"], 100*grown["descriptors"], 100*grown["heap"])
	if long() {
		for what, share := range grown {
			if share > 0.02 {
				t.Errorf("%s grow by %.2f %%, at most 2 %% are promised", what, 100*share)
			}
		}
	}
	// A queue chooses its leader again after each fault, which takes a few goroutines more.
	first := list[0]
	eventually(t, "goroutines and descriptors are as few as before", func() bool {
		h := s.holding(l, w)
		return h.goroutines <= first.goroutines+10 && h.descriptors <= first.descriptors+4
	})
	held(t, w, server, chosen(10, 500))
}
