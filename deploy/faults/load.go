//go:build faults

package faults

import (
	"fmt"
	"io"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// question is a read or a computation that is asked again and again. The answer to one that
// is fixed is the same to the last digit, whatever happens to the database.
type question struct {
	method, path, body string
	fixed              bool
	want               string // the answer without the revision it is of
}

const aCut = `"material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":10},"engagement":{"hole_depth":20,"through":true}`

func questions() []question {
	return []question{
		{method: http.MethodGet, path: "/v1/materials?q=1.4301", fixed: true},
		{method: http.MethodGet, path: "/v1/materials/x5crni18-10"},
		{method: http.MethodGet, path: "/v1/tool-classes/mill-end", fixed: true},
		{method: http.MethodGet, path: "/v1/machines?limit=5"},
		{method: http.MethodPost, path: "/v1/estimates", body: `{"units":"metric",` + aCut + `,"parameters":{"cutting_speed":60,"feed_per_revolution":0.15}}`, fixed: true},
		{method: http.MethodPost, path: "/v1/recommendations", body: `{"units":"metric","machine":"vmc-40",` + aCut + `}`, fixed: true},
		{method: http.MethodPost, path: "/v1/spindle-checks", body: `{"units":"metric","cut":{` + aCut + `,"parameters":{"cutting_speed":60,"feed_per_revolution":0.15}},"machines":["vmc-40"]}`, fixed: true},
	}
}

var revisionOf = regexp.MustCompile(`"data_revision":\d+,?`)

// load asks at a steady rate, whether or not answers come (an open loop), and counts.
type load struct {
	address   func() string
	questions []question
	client    *http.Client
	stop      chan struct{}
	all       sync.WaitGroup
	late      atomic.Int64 // requests that no worker was free for
	resting   atomic.Bool  // nothing is asked now

	mu    sync.Mutex
	phase *phase
}

// phase is what was seen in a stretch of time.
type phase struct {
	sent, good int
	bad        map[string]int
	times      []time.Duration // from when a request was due
	began      time.Time
	took       time.Duration
}

// workers is how many requests may be under way.
const workers = 64

// startLoad begins to ask the service, so many times a second, until the test ends or
// stop is called.
func startLoad(t testing.TB, address func() string, perSecond int) *load {
	t.Helper()
	l := newLoad(t, address)
	l.start(perSecond)
	return l
}

// newLoad asks everything once, to know what the answers are.
func newLoad(t testing.TB, address func() string) *load {
	t.Helper()
	l := &load{address: address, questions: questions(), stop: make(chan struct{}), phase: newPhase(),
		client: &http.Client{Timeout: 10 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: workers, MaxConnsPerHost: workers}}}
	for i := range l.questions {
		q := &l.questions[i]
		a, err := ask(q.method, address()+q.path, q.body)
		if err != nil || a.status != http.StatusOK {
			t.Fatalf("%s %s: %d %v %s", q.method, q.path, a.status, err, a.body)
		}
		q.want = revisionOf.ReplaceAllString(a.body, "")
	}
	t.Cleanup(l.end)
	return l
}

// start begins to ask, so many times a second.
func (l *load) start(perSecond int) {
	l.next()
	due := make(chan time.Time, workers)
	for range workers {
		l.all.Go(func() {
			for at := range due {
				l.one(at)
			}
		})
	}
	l.all.Go(func() {
		defer close(due)
		pause := time.Second / time.Duration(perSecond)
		for next := time.Now(); ; next = next.Add(pause) {
			select {
			case <-l.stop:
				return
			case <-time.After(time.Until(next)):
			}
			if l.resting.Load() {
				continue
			}
			select {
			case due <- next:
			default:
				l.late.Add(1)
			}
		}
	})
}

// end stops asking and lets go of all connections.
func (l *load) end() {
	select {
	case <-l.stop:
	default:
		close(l.stop)
	}
	l.all.Wait()
	l.client.CloseIdleConnections()
}

// rest stops asking and lets go of all connections while something is done.
func (l *load) rest(do func()) {
	l.resting.Store(true)
	defer l.resting.Store(false)
	time.Sleep(200 * time.Millisecond)
	l.client.CloseIdleConnections()
	time.Sleep(100 * time.Millisecond)
	do()
}

// peak is how many requests a second the service answers when each of a few callers asks as
// soon as it has its answer.
func (l *load) peak(length time.Duration) int {
	const callers = 8
	var all sync.WaitGroup
	var good atomic.Int64
	end := time.Now().Add(length)
	for range callers {
		all.Go(func() {
			for time.Now().Before(end) {
				if l.fault(&l.questions[turn.Add(1)%uint64(len(l.questions))]) == "" {
					good.Add(1)
				}
			}
		})
	}
	all.Wait()
	return int(float64(good.Load()) / length.Seconds())
}

var turn atomic.Uint64

func (l *load) one(due time.Time) {
	q := &l.questions[turn.Add(1)%uint64(len(l.questions))]
	fault := l.fault(q)
	took := time.Since(due)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.phase.sent++
	if fault == "" {
		l.phase.good++
	} else {
		l.phase.bad[fault]++
	}
	l.phase.times = append(l.phase.times, took)
}

// fault asks once and says what is wrong with the answer.
func (l *load) fault(q *question) string {
	request, err := http.NewRequest(q.method, l.address()+q.path, strings.NewReader(q.body))
	if err != nil {
		return err.Error()
	}
	if q.body != "" {
		request.Header.Set("Content-Type", "application/json")
	}
	got, err := l.client.Do(request)
	if err != nil {
		return fmt.Sprintf("%s %s: %v", q.method, q.path, err)
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	switch {
	case err != nil:
		return fmt.Sprintf("%s %s: %v", q.method, q.path, err)
	case got.StatusCode != http.StatusOK:
		return fmt.Sprintf("%s %s: %d %.300s", q.method, q.path, got.StatusCode, text)
	case q.fixed && revisionOf.ReplaceAllString(string(text), "") != q.want:
		return fmt.Sprintf("%s %s: other digits", q.method, q.path)
	}
	return ""
}

func newPhase() *phase { return &phase{bad: map[string]int{}, began: time.Now()} }

// next ends a phase and begins another.
func (l *load) next() *phase {
	l.mu.Lock()
	defer l.mu.Unlock()
	ended := l.phase
	ended.took = time.Since(ended.began)
	l.phase = newPhase()
	return ended
}

// at is a quantile of the times; 0.99 for the 99th percentile.
func (p *phase) at(quantile float64) time.Duration {
	if len(p.times) == 0 {
		return 0
	}
	slices.Sort(p.times)
	return p.times[min(len(p.times)-1, int(quantile*float64(len(p.times))))]
}

func (p *phase) String() string {
	return fmt.Sprintf("%d requests in %.1f s, %d bad, p50 %.2f ms, p99 %.2f ms", p.sent, p.took.Seconds(), p.sent-p.good, ms(p.at(0.5)), ms(p.at(0.99)))
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// hold fails the test when a request of the phase failed, or there were too few.
func (p *phase) hold(t testing.TB, name string, perSecond int) {
	t.Helper()
	t.Logf("%s: %v", name, p)
	for fault, n := range p.bad {
		t.Errorf("%s: %d times %s", name, n, fault)
	}
	if least := int(float64(perSecond) * p.took.Seconds() / 4); p.sent < max(least, 20) {
		t.Errorf("%s: only %d requests were sent, %d are needed", name, p.sent, max(least, 20))
	}
}
