//go:build faults

package faults

import (
	"fmt"
	"net/http"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// replica is a service as a balancer sees it.
type replica struct {
	*service
	ready   atomic.Bool
	asked   atomic.Int64
	watched sync.WaitGroup
}

// poll is how often a balancer looks whether a replica is ready.
const poll = 50 * time.Millisecond

// watch follows the readiness of a replica until it is told to stop.
func (r *replica) watch(stop chan struct{}) {
	r.watched.Go(func() {
		for {
			a, err := ask(http.MethodGet, r.address()+"/readyz", "")
			r.ready.Store(err == nil && a.status == http.StatusOK)
			select {
			case <-stop:
				return
			case <-time.After(poll):
			}
		}
	})
}

// balanced asks replicas at a rate, each time one that is ready. Connections are kept as long
// as the service keeps them; a request that gets no answer is not sent again, it has failed.
type balanced struct {
	replicas []*replica
	stop     chan struct{}
	all      sync.WaitGroup
	flood    *flood
	nobody   atomic.Int64 // requests for which no replica was ready
	next     atomic.Uint64
}

func balance(t testing.TB, replicas []*replica, request []byte, callers, perSecond int) *balanced {
	b := &balanced{replicas: replicas, stop: make(chan struct{}), flood: &flood{bad: map[string]int{}}}
	for _, r := range replicas {
		r.watch(b.stop)
	}
	eventually(t, "both replicas are ready", func() bool { return replicas[0].ready.Load() && replicas[1].ready.Load() })
	pause := time.Duration(callers) * time.Second / time.Duration(perSecond)
	for i := range callers {
		b.all.Go(func() {
			lines := make(map[string]*line)
			defer func() {
				for _, l := range lines {
					l.conn.Close()
				}
			}()
			time.Sleep(pause * time.Duration(i) / time.Duration(callers))
			for due := time.Now(); ; due = due.Add(pause) {
				select {
				case <-b.stop:
					return
				case <-time.After(time.Until(due)):
					b.one(lines, request)
				}
			}
		})
	}
	return b
}

// choose picks a replica that is ready.
func (b *balanced) choose() *replica {
	first := b.next.Add(1)
	for i := range uint64(len(b.replicas)) {
		if r := b.replicas[(first+i)%uint64(len(b.replicas))]; r.ready.Load() {
			return r
		}
	}
	return nil
}

func (b *balanced) one(lines map[string]*line, request []byte) {
	r := b.choose()
	if r == nil {
		b.nobody.Add(1)
		return
	}
	address := r.address()
	l := lines[address]
	if l == nil {
		var err error
		if l, err = dial(address); err != nil {
			b.flood.note(reply{}, fmt.Errorf("dial: %w", err))
			return
		}
		lines[address] = l
	}
	got, err := l.send(request, 10*time.Second)
	b.flood.note(got, err)
	if err != nil || got.closes {
		l.conn.Close()
		delete(lines, address)
	}
	r.asked.Add(1)
}

// end stops asking.
func (b *balanced) end() {
	close(b.stop)
	b.all.Wait()
	for _, r := range b.replicas {
		r.watched.Wait()
	}
}
