package api

import (
	"io"
	"net/http"
	"time"

	"github.com/prometheus/client_golang/prometheus"

	"swarf/api/gate"
	"swarf/domain"
)

// What is done at a time, for each processor, and how many wait for it. Computations of one
// cut have a lane of their own, so that no batch ever keeps them out. Reads, writes and
// health take no place: they cost little, or wait for the database.
const (
	onesAtATime   = 256 // computations of a short request: some 10 ms of work, so that one that comes after a stall finds room
	onesWaiting   = 256
	cutsAtATime   = 800 // of batches
	costliest     = 200 // cuts that the longest batch counts as: four at a time and not one
	manyWaiting   = 1
	waitForPlace  = 3 * time.Millisecond // and no longer, so that whoever is turned away learns it within 10 ms
	waitForOne    = 8 * time.Millisecond // of one cut, which is seldom turned away and never to spare another
	bytesOfACut   = 256                  // about, as JSON
	bytesInWork   = 12 << 10             // of memory, about, for each cut of a batch until its answer is written
	shortBody     = 4 << 10              // of one cut
	freeBody      = 64 << 10             // is not counted against the memory that is held for callers
	waitToReturn  = 30 * time.Second     // of a stream that is under way
	pieceOfAnswer = 64 << 10             // is taken within takePiece, or the caller is gone
	takePiece     = 10 * time.Second
)

// admission is what a server takes on at a time.
type admission struct {
	one, many *gate.Lane
	memory    *gate.Budget
}

func newAdmission(heldBytes int64) admission {
	n := gate.Processors()
	return admission{
		one:    gate.NewLane(onesAtATime*n, onesWaiting*n, waitForOne),
		many:   gate.NewLane(cutsAtATime*n, manyWaiting*n, waitForPlace),
		memory: gate.NewBudget(heldBytes),
	}
}

// seat is what a request holds of the admission.
type seat struct {
	lane   *gate.Lane
	cost   int
	memory int64 // that its work takes
	turn   bool  // at a processor, for long work
}

// laneOf is where a request of so many bytes computes, and what it costs there; nil where
// nothing is computed.
func (x *exchange) laneOf(bytes int) (lane *gate.Lane, cost int) {
	switch {
	case x.route == nil || x.route.kind != computing && x.route.kind != batching:
		return nil, 0
	case bytes <= shortBody:
		return x.s.admission.one, 1
	}
	return x.s.admission.many, min(bytes/bytesOfACut, costliest)
}

// expect turns a request away whose body would be read in vain.
func (x *exchange) expect(bytes int64) error {
	if lane, _ := x.laneOf(int(max(bytes, 0))); lane != nil && bytes >= 0 && lane.Full() {
		return overloaded()
	}
	return nil
}

// enter takes a place for a request of so many bytes, which are all here: who sends slowly
// holds none.
func (x *exchange) enter(bytes int) error {
	x.leave() // of a body that is read a second time: once does, and its handler
	lane, cost := x.laneOf(bytes)
	if lane == nil {
		return nil
	}
	if err := lane.Enter(x.Request().Context(), cost); err != nil {
		return overloaded()
	}
	x.seat = seat{lane: lane, cost: cost}
	if lane == x.s.admission.many {
		need := int64(min(bytes/bytesOfACut, x.s.Limits.BatchItems) * bytesInWork)
		if !x.s.admission.memory.Take(need) {
			return overloaded()
		}
		x.seat.memory = need
	}
	x.takeTurn()
	return nil
}

// leave gives the place back, before the answer goes out: who reads slowly holds none.
func (x *exchange) leave() {
	x.endTurn()
	if x.seat.lane != nil {
		x.seat.lane.Leave(x.seat.cost)
		x.s.admission.memory.Give(x.seat.memory)
	}
	x.seat = seat{}
}

// counted counts what is read of a body against the memory that is held for callers, until
// the request ends.
func (x *exchange) counted(body io.Reader) io.Reader {
	x.counting = &gate.Reader{From: body, Budget: x.s.admission.memory, Free: freeBody}
	return x.counting
}

// held is how much of it is counted now; done gives that back, for what comes next.
func (x *exchange) held() int64 {
	if x.counting == nil {
		return 0
	}
	return x.counting.Taken()
}

func (x *exchange) done() {
	if x.counting != nil {
		x.counting.Done()
	}
}

// end gives everything back.
func (x *exchange) end() {
	x.leave()
	x.done()
}

// aside does what waits for others, such as the database, without a place.
func (x *exchange) aside(do func() error) error {
	had := x.seat
	x.leave()
	if err := do(); err != nil || had.lane == nil {
		return err
	}
	return x.reenter(had.lane, had.cost)
}

// reenter takes a place for what is under way already, unless it has one. It waits longer
// than enter, for what was done so far would be lost.
func (x *exchange) reenter(lane *gate.Lane, cost int) error {
	if x.seat.lane != nil {
		return nil
	}
	if err := lane.Return(x.Request().Context(), cost, waitToReturn); err != nil {
		return overloaded()
	}
	x.seat = seat{lane: lane, cost: cost}
	x.takeTurn()
	return nil
}

// takeTurn waits for a turn at a processor, where many cuts are computed.
func (x *exchange) takeTurn() {
	if x.route.kind == batching && x.seat.lane == x.s.admission.many && !x.seat.turn {
		gate.BeginTurn()
		x.seat.turn = true
	}
}

func (x *exchange) endTurn() {
	if x.seat.turn {
		gate.EndTurn()
		x.seat.turn = false
	}
}

// share does independent computations on all processors, taking turns with other requests.
func (x *exchange) share(n int, do func(at int)) {
	x.endTurn()
	shareInTurns(n, do)
	x.takeTurn()
}

func overloaded() error {
	return fault(domain.Unavailable, "overloaded", "", "more is asked of the service than it can compute now", "wait as long as Retry-After says, then send the request again")
}

// deliver writes an answer. A long one goes out in pieces, each of which the caller takes in
// time, and counts as memory until it has gone.
func (x *exchange) deliver(body []byte) error {
	w := x.Response()
	if len(body) <= pieceOfAnswer {
		_, err := w.Write(body)
		return err
	}
	size := int64(cap(body)) // that is what stays
	x.s.admission.memory.Hold(size)
	defer x.s.admission.memory.Give(size)
	control, last := http.NewResponseController(w), time.Now().Add(writeTimeout)
	for len(body) > 0 {
		if by := time.Now().Add(takePiece); by.Before(last) {
			_ = control.SetWriteDeadline(by) // a connection that knows none has none
		}
		n, err := w.Write(body[:min(len(body), pieceOfAnswer)])
		if err != nil {
			return err
		}
		body = body[n:]
	}
	_ = control.SetWriteDeadline(last)
	return nil
}

// collectors are what Prometheus is told of the admission.
func (a *admission) collectors() (list []prometheus.Collector) {
	of := func(name string) prometheus.Labels { return prometheus.Labels{"lane": name} }
	turned := func(name string, value func() int64) {
		list = append(list, prometheus.NewCounterFunc(prometheus.CounterOpts{Name: "swarf_turned_away_total", Help: "Requests turned away because of too much work: of one cut, of many, or for lack of memory.", ConstLabels: of(name)},
			func() float64 { return float64(value()) }))
	}
	gauge := func(metric, help, name string, value func() int64) {
		list = append(list, prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: metric, Help: help, ConstLabels: of(name)}, func() float64 { return float64(value()) }))
	}
	for name, lane := range map[string]*gate.Lane{"one": a.one, "many": a.many} {
		turned(name, lane.Turned)
		gauge("swarf_lane_busy", "Cuts that are being computed, by the size of their request.", name, lane.Busy)
		gauge("swarf_lane_waiting", "Requests that wait to be computed.", name, lane.Waiting)
	}
	turned("memory", a.memory.Turned)
	return append(list, prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: "swarf_held_bytes", Help: "Bytes that long requests take: their bodies, batches in work, answers not taken yet."}, func() float64 { return float64(a.memory.Held()) }))
}
