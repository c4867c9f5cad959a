package catalog

import (
	"maps"
	"sync"
	"sync/atomic"
)

// mostKept bounds a memo, whatever callers ask.
const mostKept = 2048

// memo keeps answers that depend on their key alone. Readers never wait; a writer
// replaces the map by a larger one.
type memo[K comparable, V any] struct {
	kept atomic.Pointer[map[K]V]
	turn sync.Mutex
}

func (m *memo[K, V]) get(key K) (V, bool) {
	if kept := m.kept.Load(); kept != nil {
		v, ok := (*kept)[key]
		return v, ok
	}
	var none V
	return none, false
}

func (m *memo[K, V]) put(key K, value V) {
	m.turn.Lock()
	defer m.turn.Unlock()
	next := map[K]V{}
	if kept := m.kept.Load(); kept != nil {
		if len(*kept) >= mostKept {
			return
		}
		next = maps.Clone(*kept)
	}
	next[key] = value
	m.kept.Store(&next)
}
