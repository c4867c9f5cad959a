package main

import (
	"context"
	"slices"
	"sync/atomic"

	"swarf/domain/catalog"
	"swarf/domain/machine"
)

// snapshots holds the snapshot that requests are answered from and replaces it by a
// newer one. Readers never wait: while a load runs or fails, the last good snapshot
// goes on serving.
type snapshots struct {
	load func(ctx context.Context) (catalog.Data, error)
	// machines reads the machines where nothing else changed after a revision; nil: all is
	// loaded each time.
	machines func(ctx context.Context, revision int64) (list []machine.Machine, newest int64, only bool, err error)
	// switches counts how often another server took the place of the one before; nil: that
	// does not happen.
	switches func() int64
	current  atomic.Pointer[catalog.Snapshot]
	of       atomic.Int64  // the count of switches when the present one was loaded
	cold     atomic.Bool   // the present one comes from a file, and the first load replaces it
	turn     chan struct{} // holds one token: one load at a time
}

func newSnapshots(load func(context.Context) (catalog.Data, error)) *snapshots {
	return &snapshots{load: load, turn: make(chan struct{}, 1)}
}

// now is the present snapshot, nil when none has been loaded yet.
func (s *snapshots) now() *catalog.Snapshot { return s.current.Load() }

// refresh returns once the present snapshot has the revision or a later one. It
// loads when it has not.
func (s *snapshots) refresh(ctx context.Context, revision int64) error {
	has := func() bool {
		snap := s.now()
		return snap != nil && snap.Revision >= revision && !s.cold.Load() && !s.switched()
	}
	if has() {
		return nil
	}
	return s.inTurn(ctx, func() error {
		if has() { // whoever had the turn before loaded it
			return nil
		}
		if done, err := s.takeMachines(ctx); done || err != nil {
			return err
		}
		return s.take(ctx)
	})
}

// seed takes a snapshot from a file where there is none yet, and reports whether it did.
func (s *snapshots) seed(snap *catalog.Snapshot) bool {
	if s.now() != nil {
		return false
	}
	s.cold.Store(true)
	if s.current.CompareAndSwap(nil, snap) {
		return true
	}
	s.cold.Store(false)
	return false
}

// reload takes what there is, older or newer: a database restored from a copy has
// gone back.
func (s *snapshots) reload(ctx context.Context) error {
	return s.inTurn(ctx, func() error { return s.take(ctx) })
}

func (s *snapshots) inTurn(ctx context.Context, do func() error) error {
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
		return do()
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (s *snapshots) take(ctx context.Context) error {
	of := s.count()
	data, err := s.load(ctx)
	if err != nil {
		return err
	}
	data.Arrange() // it is ours: no copy is made of it
	snap, err := catalog.New(data)
	if err != nil {
		return err
	}
	s.current.Store(snap)
	s.of.Store(of) // a switch while it was loading makes the next refresh load again
	s.cold.Store(false)
	return nil
}

// switched reports that another server has taken the place of the one that the present
// snapshot comes from: the same number may stand for other data there.
func (s *snapshots) switched() bool { return s.count() != s.of.Load() }

func (s *snapshots) count() int64 {
	if s.switches == nil {
		return 0
	}
	return s.switches()
}

// takeMachines takes a revision in which only machines are other than in the present one,
// the commonest write, without loading the rest. It reports whether that was so.
func (s *snapshots) takeMachines(ctx context.Context) (bool, error) {
	before := s.now()
	if s.machines == nil || before == nil || s.cold.Load() || s.switched() {
		return false, nil
	}
	list, newest, only, err := s.machines(ctx, before.Revision)
	if err != nil || !only || s.switched() {
		return false, err
	}
	next, err := before.WithMachines(newest, list)
	if err != nil {
		return false, err
	}
	s.current.Store(next)
	return true, nil
}

// history rebuilds snapshots of earlier revisions and keeps the last few, since they
// never change.
type history struct {
	revision func(ctx context.Context, text string) (int64, error) // of a revision or a time as text
	load     func(ctx context.Context, revision int64) (catalog.Data, error)
	switches func() int64 // as of snapshots; nil: none
	keep     int
	turn     chan struct{} // holds one token, which guards what follows
	recent   []*catalog.Snapshot
	of       int64 // the count of switches that recent is of
}

// at returns the snapshot of a revision or an RFC 3339 time.
func (h *history) at(ctx context.Context, text string) (*catalog.Snapshot, error) {
	revision, err := h.revision(ctx, text)
	if err != nil {
		return nil, err
	}
	select {
	case h.turn <- struct{}{}:
		defer func() { <-h.turn }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if h.switches != nil {
		if now := h.switches(); now != h.of {
			h.recent, h.of = nil, now
		}
	}
	if i := slices.IndexFunc(h.recent, func(s *catalog.Snapshot) bool { return s.Revision == revision }); i >= 0 {
		snap := h.recent[i]
		h.recent = slices.Insert(slices.Delete(h.recent, i, i+1), 0, snap)
		return snap, nil
	}
	data, err := h.load(ctx, revision)
	if err != nil {
		return nil, err
	}
	data.Arrange() // it is ours: no copy is made of it
	snap, err := catalog.New(data)
	if err != nil {
		return nil, err
	}
	h.recent = slices.Insert(h.recent, 0, snap)
	h.recent = h.recent[:min(len(h.recent), h.keep)]
	return snap, nil
}
