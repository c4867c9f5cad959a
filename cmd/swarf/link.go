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
	mu     sync.Mutex
	heard  time.Time // when its data was last known to be the newest; zero: never yet
	fault  error     // why it may not be; nil: it is
	beaten time.Time // when it last gave a sign of life
	silent error     // why it gives none; nil: it does
}

// hear notes that the database told its newest revision.
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

// lose notes that it did not, or that what it told could not be loaded.
func (l *link) lose(err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.fault = err
}

// beat notes a sign of life, or why there was none.
func (l *link) beat(err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.silent = err; err == nil {
		l.beaten = time.Now()
	}
}

// degraded says why data may be stale; nil when nothing is wrong.
func (l *link) degraded() *api.Degraded {
	l.mu.Lock()
	defer l.mu.Unlock()
	fault, since := l.fault, l.heard
	if fault == nil && l.silent != nil {
		// Up to its last sign of life it would have told what is new.
		fault = l.silent
		if l.beaten.After(since) {
			since = l.beaten
		}
	}
	if fault == nil {
		return nil
	}
	reason := "the database does not answer as it should"
	var ours *domain.Error
	if errors.As(fault, &ours) && ours.Kind == domain.Unavailable {
		reason = ours.Msg // without its cause, which may name addresses
	}
	return &api.Degraded{Since: since, Reason: reason}
}
