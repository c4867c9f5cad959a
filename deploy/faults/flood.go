//go:build faults

package faults

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"
)

// flood is what came of requests that were offered in a stretch of time.
type flood struct {
	mu      sync.Mutex
	offered int
	unsent  int // that no connection could be had for
	served  []time.Duration
	turned  []time.Duration // away, as they should be: 503, Retry-After and a problem that says so
	bad     map[string]int
	took    time.Duration
}

// mostLines bounds the requests of a flood that are under way.
const mostLines = 1_000

// note files an answer.
func (f *flood) note(r reply, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	switch {
	case err != nil:
		f.bad["no answer: "+lastPart(err)]++
	case r.status == http.StatusOK:
		f.served = append(f.served, r.took)
	case r.status == http.StatusServiceUnavailable && r.retryAfter != "" && strings.Contains(r.problem, `"code":"overloaded"`):
		f.turned = append(f.turned, r.took)
	default:
		f.bad[fmt.Sprintf("%d, Retry-After %q: %.200s", r.status, r.retryAfter, r.problem)]++
	}
}

// closed asks from so many connections, each as soon as it has its answer.
func closed(address string, request []byte, lines int, during time.Duration) *flood {
	f := &flood{bad: map[string]int{}}
	began := time.Now()
	var all sync.WaitGroup
	for range lines {
		all.Go(func() {
			l, err := dial(address)
			if err != nil {
				f.note(reply{}, err)
				return
			}
			defer func() { l.conn.Close() }()
			for time.Since(began) < during {
				r, err := l.send(request, 10*time.Second)
				f.note(r, err)
				if err != nil || r.closes {
					return
				}
			}
		})
	}
	all.Wait()
	f.took = time.Since(began)
	f.offered = len(f.served) + len(f.turned)
	return f
}

// open asks at a rate, whether or not answers come, on as many connections as that takes.
func open(address string, request []byte, perSecond float64, during time.Duration) *flood {
	f := &flood{bad: map[string]int{}}
	idle := make(chan *line, mostLines)
	room := make(chan struct{}, mostLines)
	began := time.Now()
	var all sync.WaitGroup
	for n := 0; ; n++ {
		due := time.Duration(float64(n) / perSecond * float64(time.Second))
		if due >= during {
			break
		}
		time.Sleep(due - time.Since(began))
		f.offered++
		select {
		case room <- struct{}{}:
		default:
			f.unsent++
			continue
		}
		all.Go(func() {
			defer func() { <-room }()
			f.one(address, request, idle)
		})
	}
	all.Wait()
	f.took = time.Since(began)
	close(idle)
	for l := range idle {
		l.conn.Close()
	}
	return f
}

func (f *flood) one(address string, request []byte, idle chan *line) {
	var l *line
	select {
	case l = <-idle:
	default:
		var err error
		if l, err = dial(address); err != nil {
			f.note(reply{}, err)
			return
		}
	}
	r, err := l.send(request, 10*time.Second)
	f.note(r, err)
	if err != nil || r.closes {
		l.conn.Close()
		return
	}
	idle <- l
}

// perSecond is how many were served in a second.
func (f *flood) perSecond() float64 { return float64(len(f.served)) / f.took.Seconds() }

func (f *flood) String() string {
	return fmt.Sprintf("%d offered in %.1f s (%d unsent), %d served (%.0f/s; p50 %.1f, p99 %.1f ms), %d turned away (p50 %.1f, p99 %.1f, most %.1f ms), %d bad",
		f.offered, f.took.Seconds(), f.unsent, len(f.served), f.perSecond(), ms(quantile(f.served, 0.5)), ms(quantile(f.served, 0.99)),
		len(f.turned), ms(quantile(f.turned, 0.5)), ms(quantile(f.turned, 0.99)), ms(quantile(f.turned, 1)), f.failures())
}

func (f *flood) failures() (n int) {
	for _, times := range f.bad {
		n += times
	}
	return n
}

// quantile is one of times, which it sorts; 0 of none.
func quantile(times []time.Duration, q float64) time.Duration {
	if len(times) == 0 {
		return 0
	}
	slices.Sort(times)
	return times[min(len(times)-1, int(q*float64(len(times))))]
}

// lastPart is what went wrong, without the addresses it went wrong between.
func lastPart(err error) string {
	text := err.Error()
	return strings.TrimSpace(text[strings.LastIndex(text, ":")+1:])
}
