package api

import (
	"runtime"
	"sync/atomic"
	"testing"
)

// However many items there are, and on however many processors, each is done once.
func TestEveryItemIsDoneOnce(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	for _, n := range []int{0, 1, 2*fewShared - 1, 2 * fewShared, 2*fewShared + 1, 5*fewShared + 3} {
		for _, few := range []int{1, 3, fewShared} {
			done := make([]atomic.Int32, n)
			shareBy(few, n, func(at int) { done[at].Add(1) })
			for at := range done {
				if times := done[at].Load(); times != 1 {
					t.Errorf("of %d items, %d at a time, item %d was done %d times", n, few, at, times)
				}
			}
		}
	}
}
