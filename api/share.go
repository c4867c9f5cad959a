package api

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// fewShared is the number of computations below which they are not worth sharing out.
const fewShared = 32

// giveWay lets others at the processor now and then in a long loop.
func giveWay(done int) {
	const items = 16
	if done%items == items-1 {
		runtime.Gosched()
	}
}

// share does independent computations, numbered from 0, on all processors, a few at a time
// so that others get in between. A panic in one of them is the caller's.
func share(n int, do func(at int)) {
	const few = 16
	workers := min(runtime.GOMAXPROCS(0), (n+few-1)/few)
	if n < fewShared || workers < 2 {
		for at := range n {
			do(at)
		}
		return
	}
	var next atomic.Int64
	var group sync.WaitGroup
	var failed atomic.Pointer[any]
	for range workers {
		group.Go(func() {
			defer func() {
				if v := recover(); v != nil {
					failed.CompareAndSwap(nil, &v)
				}
			}()
			for {
				from := int(next.Add(few)) - few
				if from >= n || failed.Load() != nil {
					return
				}
				for at := from; at < min(from+few, n); at++ {
					do(at)
				}
				runtime.Gosched()
			}
		})
	}
	group.Wait()
	if v := failed.Load(); v != nil {
		panic(*v)
	}
}
