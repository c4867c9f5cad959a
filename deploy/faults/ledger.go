//go:build faults

package faults

import (
	"fmt"
	"slices"
	"sync"
)

// ledger is what a caller knows of its writes: what was acknowledged must be there, once
// and whole; what was refused must not; of what got no answer either will do, but nothing
// between.
type ledger struct {
	mu      sync.Mutex
	entries map[string]map[string]*entry // by kind and id
	counts  map[string]int               // of outcomes
}

// entry is one thing that is written, perhaps several times.
type entry struct {
	acked    string   // the content that was last acknowledged
	isAcked  bool     // there is one
	possible []string // contents whose writes got no answer since
}

// outcome is how a write ended for its caller.
type outcome string

const (
	acked   outcome = "acknowledged"
	refused outcome = "refused"
	unknown outcome = "without an answer"
)

func newLedger() *ledger {
	return &ledger{entries: map[string]map[string]*entry{}, counts: map[string]int{}}
}

// write notes a write before it is sent; the function it returns notes how it ended.
func (l *ledger) write(kind, id, content string) (ended func(outcome)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.entries[kind] == nil {
		l.entries[kind] = map[string]*entry{}
	}
	e := l.entries[kind][id]
	if e == nil {
		e = new(entry)
		l.entries[kind][id] = e
	}
	e.possible = append(e.possible, content)
	return func(how outcome) {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.counts[kind+" "+string(how)]++
		l.counts[string(how)]++
		switch how {
		case acked:
			e.acked, e.isAcked, e.possible = content, true, nil
		case refused:
			e.possible = slices.DeleteFunc(e.possible, func(c string) bool { return c == content })
		}
	}
}

// count is how many writes ended so.
func (l *ledger) count(how outcome) int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.counts[string(how)]
}

func (l *ledger) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return fmt.Sprint(l.counts)
}

// row is one thing as it was found afterwards.
type row struct{ id, content string }

// Verdicts of a comparison.
const (
	missing  = "missing"
	doubled  = "doubled"
	another  = "other than written"
	phantom  = "there, and never acknowledged nor possible"
	unasked  = "there, and never written"
	agreeing = ""
)

// compare holds what was found of a kind against the ledger and returns the ids that
// disagree, with how.
func (l *ledger) compare(kind string, found []row) map[string]string {
	l.mu.Lock()
	defer l.mu.Unlock()
	faults, seen := map[string]string{}, map[string]bool{}
	for _, r := range found {
		e := l.entries[kind][r.id]
		verdict := agreeing
		switch {
		case e == nil:
			verdict = unasked
		case seen[r.id]:
			verdict = doubled
		case e.isAcked && e.acked == r.content, slices.Contains(e.possible, r.content):
		case e.isAcked || len(e.possible) > 0:
			verdict = another
		default:
			verdict = phantom
		}
		seen[r.id] = true
		if verdict != agreeing {
			faults[r.id] = verdict
		}
	}
	for id, e := range l.entries[kind] {
		if e.isAcked && !seen[id] {
			faults[id] = missing
		}
	}
	return faults
}
