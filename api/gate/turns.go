package gate

import "runtime"

// processors there were at the start, before Spare.
var processors = runtime.GOMAXPROCS(0)

// Processors is how many of them do long work.
func Processors() int { return processors }

// Spare lets the program run on two processors more than do long work, whatever GOMAXPROCS
// says. On them the network is listened to, and short work and cleaning are done, while all
// others are taken: the system takes a processor away from long work within a few
// milliseconds, the language lets the network wait for as long as any work is left. With one
// alone the network waits while that cleans memory.
func Spare() { runtime.GOMAXPROCS(processors + 2) }

// turns at the processors: long work puts one in for each that it keeps busy. Those who wait
// are served in the order in which they came.
var turns = make(chan struct{}, processors)

// BeginTurn waits until a processor is free for long work, EndTurn frees it. Whoever has one
// must not wait for another.
func BeginTurn() { turns <- struct{}{} }

// EndTurn lets the next one.
func EndTurn() { <-turns }

// Turn does some work in a turn.
func Turn(some func()) {
	BeginTurn()
	defer EndTurn()
	some()
}
