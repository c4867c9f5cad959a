package main

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"

	"swarf/domain/catalog"
)

// loadsFrom answers loads with the newest revision it is told of.
func loadsFrom(newest *atomic.Int64, loads *atomic.Int64) func(context.Context) (catalog.Data, error) {
	return func(context.Context) (catalog.Data, error) {
		loads.Add(1)
		revision := newest.Load()
		if revision < 0 {
			return catalog.Data{}, errors.New("away")
		}
		return catalog.Data{Revision: revision}, nil
	}
}

func TestSnapshotsFollowTheNewestRevision(t *testing.T) {
	ctx := t.Context()
	var newest, loads atomic.Int64
	s := newSnapshots(loadsFrom(&newest, &loads))
	if s.now() != nil {
		t.Fatal("a snapshot before any load")
	}
	newest.Store(-1)
	if err := s.refresh(ctx, 1); err == nil || s.now() != nil {
		t.Fatalf("a failed load gave %v, error %v", s.now(), err)
	}
	newest.Store(3)
	if err := s.refresh(ctx, 2); err != nil || s.now().Revision != 3 {
		t.Fatalf("revision %d, error %v", s.now().Revision, err)
	}
	before := loads.Load()
	if err := s.refresh(ctx, 3); err != nil || loads.Load() != before {
		t.Errorf("a revision that is there was loaded again, error %v", err)
	}
	newest.Store(-1)
	if err := s.refresh(ctx, 4); err == nil || s.now().Revision != 3 {
		t.Errorf("the last good snapshot went: revision %d, error %v", s.now().Revision, err)
	}
	newest.Store(2)
	if err := s.reload(ctx); err != nil || s.now().Revision != 2 {
		t.Errorf("a restored database was not followed back: revision %d, error %v", s.now().Revision, err)
	}
}

// Many who need the same revision share one load.
func TestSnapshotsLoadOnceForMany(t *testing.T) {
	var newest, loads atomic.Int64
	newest.Store(5)
	s := newSnapshots(loadsFrom(&newest, &loads))
	var all sync.WaitGroup
	for range 50 {
		all.Go(func() {
			if err := s.refresh(t.Context(), 5); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if loads.Load() != 1 {
		t.Errorf("%d loads for one revision", loads.Load())
	}
}

func TestSnapshotsWaitNoLongerThanTheCaller(t *testing.T) {
	begun, release := make(chan struct{}), make(chan struct{})
	s := newSnapshots(func(context.Context) (catalog.Data, error) {
		close(begun)
		<-release
		return catalog.Data{Revision: 1}, nil
	})
	var first sync.WaitGroup
	first.Go(func() { s.refresh(t.Context(), 1) })
	<-begun
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := s.refresh(ctx, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("a caller who left got %v", err)
	}
	close(release)
	first.Wait()
}

func TestHistoryKeepsTheLastUsed(t *testing.T) {
	var loaded []int64
	h := &history{
		revision: func(_ context.Context, text string) (int64, error) { return strconv.ParseInt(text, 10, 64) },
		load: func(_ context.Context, revision int64) (catalog.Data, error) {
			loaded = append(loaded, revision)
			return catalog.Data{Revision: revision}, nil
		},
		keep: 2,
		turn: make(chan struct{}, 1),
	}
	for _, text := range []string{"1", "2", "1", "3", "1", "2"} {
		snap, err := h.at(t.Context(), text)
		if err != nil || strconv.FormatInt(snap.Revision, 10) != text {
			t.Fatalf("as of %s: %v, %v", text, snap, err)
		}
	}
	// 1 and 2 are loaded; 1 is used again, so 3 drives 2 out; 1 is still there.
	if want := []int64{1, 2, 3, 2}; !slices.Equal(loaded, want) {
		t.Errorf("loaded %v, want %v", loaded, want)
	}
	if _, err := h.at(t.Context(), "yesterday"); err == nil {
		t.Error("a word was taken for a revision")
	}
}
