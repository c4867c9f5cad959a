package api

import (
	"strconv"
	"strings"
	"sync"
	"time"

	"swarf/domain"
	"swarf/domain/catalog"
)

// validKept is how many snapshots of the floor's clock are kept at hand.
const validKept = 8

// floor keeps snapshots by what was valid at a time, the last used first.
type floor struct {
	mu    sync.Mutex
	known []validSnapshot
}

type validSnapshot struct {
	of   *catalog.Snapshot
	at   string
	snap *catalog.Snapshot
}

// validAt finds the snapshot of the records in force on the floor at a time, by what a
// snapshot knows: valid_at beside as_of.
func (s *Server) validAt(of *catalog.Snapshot, text string) (*catalog.Snapshot, error) {
	stamp, err := time.Parse(time.RFC3339, strings.ReplaceAll(text, " ", "+")) // a plus sign in a query is a blank
	if err != nil {
		return nil, fault(domain.Unreadable, "wrong-type", "valid_at", "valid_at is "+strconv.Quote(clip(text))+", no RFC 3339 time", "send a time such as 2026-03-03T12:00:00Z")
	}
	at := stampOf(stamp)
	s.floor.mu.Lock()
	defer s.floor.mu.Unlock()
	for _, v := range s.floor.known {
		if v.of == of && v.at == at {
			return v.snap, nil
		}
	}
	snap, err := catalog.New(of.Data().ValidAt(at))
	if err != nil {
		return nil, &domain.Error{Kind: domain.Internal, Code: "internal", Msg: "the data of that time does not hold together", Err: err}
	}
	s.floor.known = append([]validSnapshot{{of, at, snap}}, s.floor.known[:min(len(s.floor.known), validKept-1)]...)
	return snap, nil
}
