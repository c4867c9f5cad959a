//go:build faults

package faults

import (
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// onCore runs a function on one core; a process that it starts stays there.
func onCore(t testing.TB, core int, do func()) {
	t.Helper()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	var before, one unix.CPUSet
	if err := unix.SchedGetaffinity(0, &before); err != nil {
		t.Fatal(err)
	}
	one.Set(core)
	if err := unix.SchedSetaffinity(0, &one); err != nil {
		t.Fatal(err)
	}
	defer unix.SchedSetaffinity(0, &before)
	do()
}

// keepOff keeps all threads of the test itself off a core until the function that it
// returns is called.
func keepOff(t testing.TB, core int) (back func()) {
	t.Helper()
	var all, rest unix.CPUSet
	if err := unix.SchedGetaffinity(os.Getpid(), &all); err != nil {
		t.Fatal(err)
	}
	rest = all
	rest.Clear(core)
	if rest.Count() == 0 {
		return func() {}
	}
	move := func(to *unix.CPUSet) {
		threads, _ := os.ReadDir("/proc/self/task")
		for _, thread := range threads {
			if id, err := strconv.Atoi(thread.Name()); err == nil {
				unix.SchedSetaffinity(id, to) // a thread may have ended
			}
		}
	}
	move(&rest)
	return func() { move(&all) }
}

// resident is the memory that a process holds, in bytes.
func resident(pid int) int {
	text, _ := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/statm")
	if fields := strings.Fields(string(text)); len(fields) > 1 {
		pages, _ := strconv.Atoi(fields[1])
		return pages * os.Getpagesize()
	}
	return 0
}

// mostResident watches a process while a function runs and returns the most memory that it
// held.
func mostResident(pid int, while func()) (most int) {
	stop := make(chan struct{})
	var watching sync.WaitGroup
	watching.Go(func() {
		for {
			most = max(most, resident(pid))
			select {
			case <-stop:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	})
	while()
	close(stop)
	watching.Wait()
	return most
}

// descriptors counts what a process has open.
func descriptors(pid int) int {
	list, _ := os.ReadDir("/proc/" + strconv.Itoa(pid) + "/fd")
	return len(list)
}

// processorTime is how long a process has been computing.
func processorTime(pid int) time.Duration {
	text, _ := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/stat")
	_, rest, _ := strings.Cut(string(text), ") ") // the name may have blanks
	if fields := strings.Fields(rest); len(fields) > 12 {
		const tick = 10 * time.Millisecond
		user, _ := strconv.Atoi(fields[11])
		system, _ := strconv.Atoi(fields[12])
		return time.Duration(user+system) * tick
	}
	return 0
}
