package gate

import (
	"context"
	"errors"
	"io"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// What does not fit waits its turn or is turned away at once, and room that was given back
// is taken by the next.
func TestLaneTakesUpToItsCost(t *testing.T) {
	l := NewLane(10, 1, time.Minute)
	if l.Enter(t.Context(), 6) != nil || l.Enter(t.Context(), 4) != nil || l.Busy() != 10 {
		t.Fatal("what fits did not get in")
	}
	entered := make(chan error)
	go func() { entered <- l.Enter(t.Context(), 6) }()
	for l.Waiting() == 0 {
		time.Sleep(time.Millisecond)
	}
	if !l.Full() || !errors.Is(l.Enter(t.Context(), 1), ErrFull) || l.Turned() != 2 {
		t.Error("a second one waits where one may")
	}
	l.Leave(4)
	select {
	case <-entered:
		t.Error("6 got in where 4 were free")
	case <-time.After(20 * time.Millisecond):
	}
	l.Leave(6)
	if err := <-entered; err != nil || l.Busy() != 6 || l.Waiting() != 0 || l.Full() {
		t.Errorf("%v, %d busy, %d waiting", err, l.Busy(), l.Waiting())
	}
}

// Work that costs more than the lane has takes all of it, and is not kept out for ever.
func TestLaneTakesTheLargestAlone(t *testing.T) {
	l := NewLane(10, 1, time.Millisecond)
	if err := l.Enter(t.Context(), 1_000); err != nil || l.Busy() != 10 {
		t.Fatal(err, l.Busy())
	}
	if !errors.Is(l.Enter(t.Context(), 1), ErrFull) {
		t.Error("there was room beside it")
	}
	l.Leave(1_000)
	if err := l.Enter(t.Context(), 0); err != nil || l.Busy() != 1 {
		t.Error(err, l.Busy())
	}
}

// Patience ends, and so does the patience of whoever comes back, which is longer.
func TestLaneTurnsAwayInTime(t *testing.T) {
	l := NewLane(1, 5, time.Millisecond)
	if l.Enter(t.Context(), 1) != nil {
		t.Fatal("an empty lane is full")
	}
	if !errors.Is(l.Enter(t.Context(), 1), ErrFull) || l.Waiting() != 0 {
		t.Error("no end of waiting")
	}
	go func() {
		time.Sleep(20 * time.Millisecond)
		l.Leave(1)
	}()
	if err := l.Return(t.Context(), 1, time.Minute); err != nil {
		t.Error(err)
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if !errors.Is(l.Return(gone, 1, time.Minute), ErrFull) || l.Busy() != 1 {
		t.Error("whoever is gone got in")
	}
}

// Only what has come is counted, without what is free, and all of it is given back.
func TestBudgetCountsWhatCame(t *testing.T) {
	b := NewBudget(100)
	read := func(n int, free int64) (*Reader, error) {
		r := &Reader{From: strings.NewReader(strings.Repeat("x", n)), Budget: b, Free: free}
		_, err := io.Copy(io.Discard, r)
		return r, err
	}
	if _, err := read(50, 50); err != nil || b.Held() != 0 {
		t.Errorf("%v, %d held of a body that is free", err, b.Held())
	}
	first, err := read(130, 50)
	if err != nil || b.Held() != 80 {
		t.Fatalf("%v, %d held", err, b.Held())
	}
	second, err := read(100, 50)
	if !errors.Is(err, ErrFull) || b.Turned() != 1 {
		t.Errorf("%v, turned away %d", err, b.Turned())
	}
	second.Done()
	first.Done()
	first.Done()
	if b.Held() != 0 {
		t.Errorf("%d held at the end", b.Held())
	}
	b.Hold(150)
	if b.Take(1) {
		t.Error("bytes beyond the budget")
	}
	b.Give(150)
	if !b.Take(100) {
		t.Error("no bytes of an empty budget")
	}
}

// No more are at it than there are processors, and a panic gives its turn back.
func TestTurns(t *testing.T) {
	var at, most atomic.Int64
	var all sync.WaitGroup
	for range 50 {
		all.Go(func() {
			Turn(func() {
				for now := at.Add(1); ; {
					if before := most.Load(); before >= now || most.CompareAndSwap(before, now) {
						break
					}
				}
				time.Sleep(time.Millisecond)
				at.Add(-1)
			})
		})
	}
	all.Wait()
	if most.Load() > int64(Processors()) || most.Load() == 0 {
		t.Errorf("%d at a time on %d processors", most.Load(), Processors())
	}
	for range Processors() + 1 {
		func() {
			defer func() { recover() }()
			Turn(func() { panic("lost") })
		}()
	}
	Turn(func() {})
}
