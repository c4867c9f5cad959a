//go:build faults

package faults

import (
	"net/http"
	"testing"
	"time"
)

// Five times what the service can compute, on one core, whether or not answers come: it goes
// on to compute about as much as it can, turns the rest away at once and with the time to
// come again, answers for its health and for single cuts, and holds no more memory.
func TestOverload(t *testing.T) {
	begin(t)
	var s *service
	onCore(t, 0, func() { s = serve(t) })
	s.ready()
	if long() {
		defer keepOff(t, 0)()
	}
	pid, request := s.process.Process.Pid, posted("/v1/estimates/batch", batchOf(100))
	const lines = 8
	closed(s.address(), request, lines, chosen(500*time.Millisecond, 5*time.Second))
	var peak, over *flood
	normal := mostResident(pid, func() {
		peak = closed(s.address(), request, lines, chosen(2*time.Second, 15*time.Second))
	})
	t.Logf("peak: %v; %d MiB", peak, normal>>20)
	if len(peak.served) < 20 || len(peak.bad) > 0 {
		t.Fatalf("too little to find a peak by, or faults: %v", peak.bad)
	}
	during := chosen(4*time.Second, 60*time.Second)
	pulse := feel(s)
	most := mostResident(pid, func() { over = open(s.address(), request, 5*peak.perSecond(), during) })
	t.Logf("five times that: %v; %d MiB", over, most>>20)
	back := recovery(t, s, request, peak)
	beats := pulse.end()
	t.Logf("meanwhile: %v; as before after %v", beats, back)
	t.Logf("seen by the service, of those turned away: %.1f %% within 10 ms", 100*within10(t, s))

	for fault, n := range over.bad {
		t.Errorf("%d times %s", n, fault)
	}
	beats.hold(t, during)
	if offered := over.offered - over.unsent; offered < int(2*float64(during.Seconds())*peak.perSecond()) || len(over.turned) < offered/10 || len(over.served) < 20 {
		t.Errorf("%d were offered, %d of them turned away: too few for an overload", offered, len(over.turned))
	}
	if !long() {
		return
	}
	if share := over.perSecond() / peak.perSecond(); share < 0.9 {
		t.Errorf("served %.0f %% of the peak, less than 90", 100*share)
	}
	atMost(t, "99 of 100 rejections", quantile(over.turned, 0.99), 10*time.Millisecond)
	atMost(t, "recovery", back, 2*time.Second)
	if most > normal*3/2 {
		t.Errorf("%d MiB in memory, over 1.5 times the %d of the peak", most>>20, normal>>20)
	}
}

// recovery is how long after a flood the service takes to serve ten in a row, each in no more
// than twice the time of the peak.
func recovery(t *testing.T, s *service, request []byte, peak *flood) time.Duration {
	row, usual := 0, 2*quantile(peak.served, 0.99)
	l, err := dial(s.address())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { l.conn.Close() }()
	return eventually(t, "ten batches in a row are served as before", func() bool {
		r, err := l.send(request, 10*time.Second)
		if err != nil || r.closes {
			t.Fatalf("after the flood: %v %+v", err, r)
		}
		if row++; r.status != http.StatusOK || r.took > usual {
			row = 0
		}
		return row == 10
	})
}
