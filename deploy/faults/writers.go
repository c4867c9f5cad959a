//go:build faults

package faults

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// writers write to the service, of every kind there is, and keep a ledger.
type writers struct {
	ledger   *ledger
	address  func() string
	rest     time.Duration // between two writes of one writer
	stop     chan struct{}
	all      sync.WaitGroup
	pause    sync.RWMutex           // held for reading by each write
	replayed atomic.Int64           // writes whose repetition got the first answer
	refusal  atomic.Pointer[string] // the last refusal that a test should not see
}

// How a write is made: under an id, with a content that is found again afterwards.
type kind struct {
	name  string
	fresh bool // each write has an id of its own; else one is written over and over
	send  func(address, id, content string, headers ...string) (answer, error)
}

const observed = 5 // observations of a batch, all or none

var kinds = []kind{
	{"machine", true, putMachine("*", "")},
	{"counter", false, putMachine("", "*")},
	{"observations", true, func(address, id, content string, headers ...string) (answer, error) {
		const one = `{"kind":"load","lot":%q,"cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":5.5,"minutes_in_cut":3}}`
		items := make([]string, observed)
		for i := range items {
			items[i] = fmt.Sprintf(one, id)
		}
		return ask(http.MethodPost, address+"/v1/observations/batch", `{"units":"metric","items":[`+strings.Join(items, ",")+`]}`, headers...)
	}},
	{"record", true, func(address, id, content string, headers ...string) (answer, error) {
		const draft = `{"units":"metric","kind":"force","lots":1,"force":{"scope":{"level":"material","key":"x5crni18-10"},"condition":"annealed","process":"turning","method":"kienzle","specific_cutting_force_1_1":%s,"chip_thickness_exponent":0.21,"basis":"shop","source":"common-practice","place":"trial"}}`
		return ask(http.MethodPut, address+"/v1/records/"+id, fmt.Sprintf(draft, content), append(headers, "If-None-Match", "*", "From", "ann")...)
	}},
	{"job", true, func(address, id, content string, headers ...string) (answer, error) {
		n, _ := strconv.Atoi(content)
		items := make([]string, n)
		for i := range items {
			items[i] = fmt.Sprintf(`{"ref":"%d",%s}`, i, aCut)
		}
		return ask(http.MethodPost, address+"/v1/recommendations/batch?fields=parameters", `{"units":"metric","items":[`+strings.Join(items, ",")+`]}`, append(headers, "Prefer", "respond-async", "From", id)...)
	}},
}

func putMachine(absent, present string) func(address, id, content string, headers ...string) (answer, error) {
	return func(address, id, content string, headers ...string) (answer, error) {
		const machine = `{"units":"metric","process":"milling","spindle":{"max_speed":%s,"efficiency":0.9,"gears":[{"gear":"low","max_speed":1000,"ratings":[{"rating":"S1","power":5,"torque":70}]},{"gear":"high","min_speed":1000,"max_speed":%s,"ratings":[{"rating":"S1","power":4,"torque":20}]}]}}`
		if absent != "" {
			headers = append(headers, "If-None-Match", absent)
		}
		if present != "" && content != "5000" {
			headers = append(headers, "If-Match", present)
		} else if present != "" {
			headers = append(headers, "If-None-Match", "*")
		}
		return ask(http.MethodPut, address+"/v1/machines/"+id, fmt.Sprintf(machine, content, content), headers...)
	}
}

// startWriters begins to write, one writer for each kind, or of those that are named, until
// stopped or the test ends.
func startWriters(t testing.TB, chance *rand.Rand, address func() string, rest time.Duration, only ...string) *writers {
	t.Helper()
	w := &writers{ledger: newLedger(), address: address, rest: rest, stop: make(chan struct{})}
	for _, k := range kinds {
		if len(only) > 0 && !slices.Contains(only, k.name) {
			continue
		}
		own := rand.New(rand.NewPCG(chance.Uint64(), 1))
		w.all.Go(func() { w.run(k, own) })
	}
	t.Cleanup(w.end)
	return w
}

func (w *writers) end() {
	select {
	case <-w.stop:
	default:
		close(w.stop)
	}
	w.all.Wait()
}

func (w *writers) run(k kind, chance *rand.Rand) {
	id, made := k.name+"-0", false
	for n := 0; ; n++ {
		select {
		case <-w.stop:
			return
		case <-time.After(w.rest):
		}
		content := "5000"
		switch {
		case k.name == "observations":
			content = strconv.Itoa(observed)
		case k.name == "job":
			content = strconv.Itoa(1 + chance.IntN(4))
		case k.fresh:
			content = strconv.Itoa(2000 + chance.IntN(1000))
		case made:
			content = strconv.Itoa(5000 + n)
		}
		if k.fresh {
			id = k.name + "-" + strconv.Itoa(n)
		}
		ended := w.ledger.write(k.name, id, content)
		how := w.send(k, id, content, keyed(k, n))
		ended(how)
		made = made || how == acked
		if !k.fresh && !made && how != acked { // it may be there all the same
			made = exists(w.address(), id)
		}
	}
}

// keyed gives every other new thing an Idempotency-Key: its caller repeats itself.
func keyed(k kind, n int) []string {
	if !k.fresh || n%2 == 1 {
		return nil
	}
	return []string{"Idempotency-Key", "writer-" + k.name + "-" + strconv.Itoa(n)}
}

// mostRepeats bounds how often a write with a key is sent.
const mostRepeats = 1_000

// send writes once, or with a key until the outcome is known to be good. A repetition that
// was refused leaves open what became of an earlier one.
func (w *writers) send(k kind, id, content string, headers []string) outcome {
	lost := false
	for tries := 1; ; tries++ {
		w.pause.RLock()
		a, err := k.send(w.address(), id, content, headers...)
		w.pause.RUnlock()
		how := w.outcome(k.name, a, err)
		switch {
		case how == acked && a.header.Get("Idempotency-Replayed") != "":
			w.replayed.Add(1)
		case how == unknown:
			lost = true
		case how == refused && lost:
			how = unknown
		}
		if how == acked || len(headers) == 0 || tries == mostRepeats {
			return how
		}
		select {
		case <-w.stop:
			return how
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func exists(address, id string) bool {
	a, err := ask(http.MethodGet, address+"/v1/machines/"+id, "")
	return err == nil && a.status == http.StatusOK
}

// outcome is what a caller may conclude from an answer.
func (w *writers) outcome(name string, a answer, err error) outcome {
	switch {
	case err != nil:
		return unknown
	case a.status >= 200 && a.status < 300:
		return acked
	case a.status == http.StatusServiceUnavailable && strings.Contains(a.body, "the write is kept"):
		return acked
	case a.status == http.StatusServiceUnavailable && (strings.Contains(a.body, "may or may not") || strings.Contains(a.body, "one server alone")):
		return unknown
	case a.status == http.StatusServiceUnavailable || a.status == http.StatusTooManyRequests || a.status == http.StatusPreconditionFailed || a.status == http.StatusConflict && strings.Contains(a.body, "idempotency-key-busy"):
		return refused
	case a.status >= 500:
		text := fmt.Sprintf("%s: %d %s", name, a.status, a.body)
		w.refusal.Store(&text)
		return unknown
	}
	text := fmt.Sprintf("%s: %d %s", name, a.status, a.body)
	w.refusal.Store(&text)
	return refused
}
