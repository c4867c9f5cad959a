package api

import (
	"runtime"
	"sync"
	"sync/atomic"

	"swarf/api/gate"
)

// fewShared computations are given out at a time: fewer are not worth it.
const fewShared = 16

// giveWay lets others at the processor now and then in a long loop.
func giveWay(done int) {
	const items = 16
	if done%items == items-1 {
		runtime.Gosched()
	}
}

// share does independent computations, numbered from 0, on all processors, a few at a time
// so that others get in between. A panic in one of them is the caller's.
func share(n int, do func(at int)) { shareBy(fewShared, n, do, givingWay) }

// givingWay does some work and lets others at the processor.
func givingWay(some func()) {
	some()
	runtime.Gosched()
}

// shareInTurns is share where each few wait for their turn among all that is computed in
// this way. None of them may do so again, and the caller must have no turn.
func shareInTurns(n int, do func(at int)) { shareBy(fewShared, n, do, gate.Turn) }

// shareBy gives out so many at a time; one, where each takes long.
func shareBy(few, n int, do func(at int), turn func(some func())) {
	if n < 2*few {
		for at := range n {
			do(at)
		}
		return
	}
	var next atomic.Int64
	var group sync.WaitGroup
	var failed atomic.Pointer[any]
	for range min(gate.Processors(), (n+few-1)/few) {
		group.Go(func() {
			defer func() {
				if v := recover(); v != nil {
					failed.CompareAndSwap(nil, &v)
				}
			}()
			for {
				from := int(next.Add(int64(few))) - few
				if from >= n || failed.Load() != nil {
					return
				}
				turn(func() {
					for at := from; at < min(from+few, n); at++ {
						do(at)
					}
				})
			}
		})
	}
	group.Wait()
	if v := failed.Load(); v != nil {
		panic(*v)
	}
}
