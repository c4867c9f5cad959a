//go:build faults

package faults

import (
	"syscall"
	"testing"
	"time"
)

// Replicas are restarted in turn, again and again, under a load that a balancer spreads over
// those that are ready: not one request fails, and each stops by itself in time.
func TestDrain(t *testing.T) {
	chance := begin(t)
	cycles, perSecond := scaled(chosen(5, 50)), chosen(400, 2_000)
	var replicas []*replica
	for range 2 {
		replicas = append(replicas, &replica{service: serve(t, "SWARF_SHUTDOWN_WAIT=300ms")})
	}
	b := balance(t, replicas, posted("/v1/estimates", questions()[4].body), 16, perSecond)
	began, slowest := time.Now(), time.Duration(0)
	for cycle := range cycles {
		time.Sleep(time.Duration(100+chance.IntN(200)) * time.Millisecond)
		r := replicas[cycle%2]
		before := r.asked.Load()
		eventually(t, "it is asked", func() bool { return r.asked.Load() > before+10 })
		slowest = max(slowest, r.drain())
		r.start()
		eventually(t, "it is ready again", r.ready.Load)
	}
	took := time.Since(began)
	b.end()
	b.flood.took, b.flood.offered = took, len(b.flood.served)
	t.Logf("%d drains: %v; the slowest drain took %.1f s", cycles, b.flood, slowest.Seconds())
	for fault, n := range b.flood.bad {
		t.Errorf("%d times %s", n, fault)
	}
	if n := b.nobody.Load() + int64(len(b.flood.turned)); n > 0 {
		t.Errorf("%d requests found no replica that was ready, or were turned away", n)
	}
	if least := int(float64(perSecond) * took.Seconds() / 4); len(b.flood.served) < least {
		t.Errorf("%d requests were served, %d are needed", len(b.flood.served), least)
	}
	if long() {
		atMost(t, "a drain", slowest, 5*time.Second)
	}
}

// drain stops the service as those who run it do, and reports how long it took.
func (s *service) drain() time.Duration {
	s.t.Helper()
	began := time.Now()
	if err := s.process.Process.Signal(syscall.SIGTERM); err != nil {
		s.t.Fatal(err)
	}
	late := time.AfterFunc(30*time.Second, func() { s.process.Process.Kill() })
	defer late.Stop()
	if err := s.process.Wait(); err != nil {
		s.t.Fatalf("it did not stop by itself: %v", err)
	}
	return time.Since(began)
}

// A request that is under way when the service is told to stop is answered in full; a second
// signal ends the service at once.
func TestSecondSignal(t *testing.T) {
	begin(t)
	s := serve(t, "SWARF_SHUTDOWN_WAIT=1m")
	s.ready()
	s.process.Process.Signal(syscall.SIGTERM)
	eventually(t, "it says that it stops", func() bool { return s.metric(t, "swarf_draining") == 1 })
	r, err := dial(s.address())
	if err != nil {
		t.Fatal(err)
	}
	got, err := r.send(posted("/v1/estimates/batch", batchOf(100)), 10*time.Second)
	if err != nil || got.status != 200 || !got.closes {
		t.Errorf("while it stops: %+v %v", got, err)
	}
	began := time.Now()
	s.process.Process.Signal(syscall.SIGTERM)
	s.process.Wait()
	t.Logf("ended %v after the second signal", time.Since(began))
	if time.Since(began) > 10*time.Second {
		t.Error("the second signal did not end it")
	}
}
