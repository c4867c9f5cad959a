package api

import (
	"sync/atomic"
	"testing"

	"swarf/api/gate"
)

// However many items there are, and on however many processors, each is done once.
func TestEveryItemIsDoneOnce(t *testing.T) {
	for _, n := range []int{0, 1, 2*fewShared - 1, 2 * fewShared, 2*fewShared + 1, 5*fewShared + 3} {
		for _, few := range []int{1, 3, fewShared} {
			for _, turn := range []func(func()){givingWay, gate.Turn} {
				done := make([]atomic.Int32, n)
				shareBy(few, n, func(at int) { done[at].Add(1) }, turn)
				for at := range done {
					if times := done[at].Load(); times != 1 {
						t.Errorf("of %d items, %d at a time, item %d was done %d times", n, few, at, times)
					}
				}
			}
		}
	}
}
