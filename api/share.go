package api

import (
	"runtime"
	"sync"
	"sync/atomic"
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
func share(n int, do func(at int)) { shareBy(fewShared, n, do) }

// shareBy gives out so many at a time; one, where each takes long.
func shareBy(few, n int, do func(at int)) {
	workers := min(runtime.GOMAXPROCS(0), (n+few-1)/few)
	if n < 2*few || workers < 2 {
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
				from := int(next.Add(int64(few))) - few
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
