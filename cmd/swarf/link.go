package main

import (
	"errors"
	"sync"
	"time"

	"swarf/api"
	"swarf/domain"
)

// link is what is known of the way to the database: whether it answers, and since
// when it has not.
type link struct {
	mu    sync.Mutex
	heard time.Time // when it was last known to answer; zero: never yet
	fault error     // nil: it answers
}

// hear notes that the database answered.
func (l *link) hear() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.heard, l.fault = time.Now(), nil
}

// heardAt notes when the database answered last, from before this process.
func (l *link) heardAt(at time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.heard.IsZero() {
		l.heard = at
	}
}

// lose notes that it did not.
func (l *link) lose(err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.fault = err
}

// degraded says why data may be stale; nil when nothing is wrong.
func (l *link) degraded() *api.Degraded {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.fault == nil {
		return nil
	}
	reason := "the database does not answer as it should"
	var ours *domain.Error
	if errors.As(l.fault, &ours) && ours.Kind == domain.Unavailable {
		reason = ours.Msg // without its cause, which may name addresses
	}
	return &api.Degraded{Since: l.heard, Reason: reason}
}
