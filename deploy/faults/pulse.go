//go:build faults

package faults

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// pulse asks now and then, while others load the service, what must be answered whatever
// happens: health on both ports, metrics, and one single cut.
type pulse struct {
	stop  chan struct{}
	all   sync.WaitGroup
	mu    sync.Mutex
	times []time.Duration
	bad   map[string]int
}

// feel begins to ask each of them ten times a second.
func feel(s *service) *pulse {
	p := &pulse{stop: make(chan struct{}), bad: map[string]int{}}
	cut := questions()[4]
	for _, q := range [][3]string{
		{http.MethodGet, s.address() + "/healthz"}, {http.MethodGet, s.address() + "/readyz"}, {http.MethodGet, s.private + "/healthz"},
		{http.MethodGet, s.private + "/metrics"}, {cut.method, s.address() + cut.path, cut.body},
	} {
		p.all.Go(func() {
			for {
				select {
				case <-p.stop:
					return
				case <-time.After(100 * time.Millisecond):
				}
				a, err := ask(q[0], q[1], q[2])
				p.mu.Lock()
				if p.times = append(p.times, a.took); err != nil || a.status != http.StatusOK {
					p.bad[fmt.Sprintf("%s: %d %v %.200s", q[1], a.status, err, a.body)]++
				}
				p.mu.Unlock()
			}
		})
	}
	return p
}

func (p *pulse) end() *pulse {
	close(p.stop)
	p.all.Wait()
	return p
}

func (p *pulse) String() string {
	return fmt.Sprintf("%d asked for health, metrics and single cuts (p50 %.1f, p99 %.1f, most %.1f ms), %d bad",
		len(p.times), ms(quantile(p.times, 0.5)), ms(quantile(p.times, 0.99)), ms(quantile(p.times, 1)), len(p.bad))
}

// hold fails the test when one was not answered, or too few were asked.
func (p *pulse) hold(t testing.TB, during time.Duration) {
	t.Helper()
	for fault, n := range p.bad {
		t.Errorf("%d times %s", n, fault)
	}
	if least := 5 * int(during.Seconds()); len(p.times) < least {
		t.Errorf("only %d were asked meanwhile, %d are needed", len(p.times), least)
	}
}

// metric is the sum of the samples of a metric whose labels include all these.
func (s *service) metric(t testing.TB, name string, labels ...string) (sum float64) {
	t.Helper()
	a, err := ask(http.MethodGet, s.private+"/metrics", "")
	if err != nil || a.status != http.StatusOK {
		t.Fatalf("metrics: %d %v", a.status, err)
	}
lines:
	for line := range strings.Lines(a.body) {
		rest, ok := strings.CutPrefix(line, name)
		if !ok || rest[0] != '{' && rest[0] != ' ' {
			continue
		}
		for _, label := range labels {
			if !strings.Contains(rest, label) {
				continue lines
			}
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(rest[strings.LastIndexByte(rest, ' '):]), 64)
		if err != nil {
			t.Fatal(err)
		}
		sum += v
	}
	return sum
}

// within10 is the share of the rejections that took the service at most 10 ms from the first
// byte read to the last written.
func within10(t testing.TB, s *service) float64 {
	const name, status = "http_server_request_duration_seconds_", `http_response_status_code="503"`
	return s.metric(t, name+"bucket", status, `le="0.01"`) / s.metric(t, name+"count", status)
}

// atMost holds a time against what is promised.
func atMost(t testing.TB, what string, is, most time.Duration) {
	t.Helper()
	if is > most {
		t.Errorf("%s: %.1f ms, at most %.1f ms are promised", what, ms(is), ms(most))
	}
}
