//go:build faults

package faults

import (
	"testing"
	"time"
)

// Thousands of clients that send or read a byte now and then do not slow others down, and
// cost no more than a connection each until the service ends them.
func TestSlowClients(t *testing.T) {
	begin(t)
	s := serve(t)
	s.ready()
	pid := s.process.Process.Pid
	many, rate, pause := chosen(200, 2_000), chosen(100, 500), chosen(500*time.Millisecond, 2*time.Second)
	base := descriptors(pid)
	l := startLoad(t, s.address, rate)
	time.Sleep(time.Second)
	l.next()
	time.Sleep(chosen(2*time.Second, 20*time.Second))
	before, alone := l.next(), resident(pid)
	before.hold(t, "before", rate)

	c := gather(t, s.address(), many, pause)
	time.Sleep(chosen(time.Second, 5*time.Second)) // until the long answers are computed
	var among *phase
	var held float64
	l.next()
	most := mostResident(pid, func() {
		for range chosen(6, 50) {
			held = max(held, s.metric(t, "swarf_held_bytes"))
			time.Sleep(time.Second)
		}
		among = l.next()
	})
	among.hold(t, "among slow clients", rate)
	l.end()
	t.Logf("%d slow clients at a time, %d descriptors (%d before), %d MiB in memory (%d before), %.0f KiB held for callers at most", many, descriptors(pid), base, most>>20, alone>>20, held/1024)
	if open := descriptors(pid) - base; open < many*9/10 {
		t.Errorf("%d connections are open, %d are too few of %d", open, many*9/10, many)
	}
	if held == 0 || held > 256<<20 {
		t.Errorf("%.0f bytes were held for slow readers", held)
	}
	held = s.metric(t, "swarf_held_bytes")
	active := s.metric(t, "http_server_active_requests")
	t.Logf("%.0f requests under way, %.0f KiB held", active, held/1024)
	if most := float64(many/3 + 2*longReaders); active > most || long() && held > 0 {
		t.Errorf("%.0f requests are under way, more than those of the slow bodies, and %.0f bytes held: slow readers hold them", active, held)
	}
	c.leave()
	for _, m := range manners() {
		t.Logf("%s: %d came, %d were ended by the service, after %v to %v", m.name, c.came[m.name], len(c.ended[m.name]), quantile(c.ended[m.name], 0), quantile(c.ended[m.name], 1))
		if c.came[m.name] < longReaders {
			t.Errorf("%s: only %d came", m.name, c.came[m.name])
		}
		if long() && m.by > 0 {
			if len(c.ended[m.name]) < many/4 {
				t.Errorf("%s: only %d were ended", m.name, len(c.ended[m.name]))
			}
			atMost(t, m.name+" are ended", quantile(c.ended[m.name], 1), m.by+2*time.Second+pause)
		}
	}
	if len(c.ended["headers"]) == 0 {
		t.Error("no slow header was ended")
	}
	for fault, n := range c.failed {
		t.Errorf("%d of them could not begin: %s", n, fault)
	}
	eventually(t, "all descriptors are given back", func() bool { return descriptors(pid) <= base+2 })
	if long() {
		if ratio := float64(among.at(0.99)) / float64(before.at(0.99)); ratio > 1.5 {
			t.Errorf("the p99 of others is %.2f times that of before, over 1.5", ratio)
		}
	}
}
