// Package gate bounds what a process does at a time. What is more than it can do is turned
// away within milliseconds, so that what it has taken on keeps its speed: a Lane bounds work
// by its cost, a Budget memory, and Turns share the processors among long work.
package gate

import (
	"context"
	"errors"
	"sync/atomic"
	"time"

	"golang.org/x/sync/semaphore"
)

// ErrFull says that there is more work than can be done: the caller comes again later.
var ErrFull = errors.New("there is more to do than can be done now")

// Lane takes work in up to a cost. Beyond it a few wait, in the order in which they came and
// not for long.
type Lane struct {
	room     *semaphore.Weighted
	cost     int64
	waiters  int64
	patience time.Duration

	busy, waiting, turned atomic.Int64
}

// NewLane makes a lane of so much cost, for which so many may wait so long.
func NewLane(cost, waiters int, patience time.Duration) *Lane {
	return &Lane{room: semaphore.NewWeighted(int64(cost)), cost: int64(cost), waiters: int64(waiters), patience: patience}
}

// Full reports whether the next to come would be turned away at once. It counts it as turned
// away then.
func (l *Lane) Full() bool {
	full := l.waiting.Load() >= l.waiters
	if full {
		l.turned.Add(1)
	}
	return full
}

// Enter takes work in, or returns ErrFull within the patience of the lane. Whoever entered
// leaves with the same cost.
func (l *Lane) Enter(ctx context.Context, cost int) error {
	if l.room.TryAcquire(l.clamp(cost)) {
		l.busy.Add(l.clamp(cost))
		return nil
	}
	if l.waiting.Add(1) > l.waiters {
		l.waiting.Add(-1)
		l.turned.Add(1)
		return ErrFull
	}
	defer l.waiting.Add(-1)
	if l.wait(ctx, cost, l.patience) != nil {
		l.turned.Add(1)
		return ErrFull
	}
	return nil
}

// Return is Enter for work that was in before and stepped out for a while: it waits longer,
// for it would be a loss to turn it away.
func (l *Lane) Return(ctx context.Context, cost int, patience time.Duration) error {
	if l.wait(ctx, cost, patience) != nil {
		l.turned.Add(1)
		return ErrFull
	}
	return nil
}

func (l *Lane) wait(ctx context.Context, cost int, patience time.Duration) error {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	err := l.room.Acquire(ctx, l.clamp(cost))
	if err == nil {
		l.busy.Add(l.clamp(cost))
	}
	return err
}

// Leave gives room back.
func (l *Lane) Leave(cost int) {
	l.busy.Add(-l.clamp(cost))
	l.room.Release(l.clamp(cost))
}

func (l *Lane) clamp(cost int) int64 { return min(max(int64(cost), 1), l.cost) }

// Busy is the cost of what is in, Waiting how many wait, Turned how many were turned away.
func (l *Lane) Busy() int64    { return l.busy.Load() }
func (l *Lane) Waiting() int64 { return l.waiting.Load() }
func (l *Lane) Turned() int64  { return l.turned.Load() }
