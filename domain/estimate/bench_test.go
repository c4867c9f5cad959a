package estimate_test

import (
	"testing"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
)

// Every operation computed once, against a machine: time and allocations.
func BenchmarkOf(b *testing.B) {
	m := cuttest.Machine(cuttest.Drive{PowerKW: 20, TorqueNm: 100, MaxSpeedPerMin: 12000})
	for _, name := range cut.Names() {
		c := cuttest.Of(name)
		c.Machine = m
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				estimate.Of(c)
			}
		})
	}
}

// An estimate stays within the allocations that a batch of thousands can bear.
func TestAllocationsOfAnEstimate(t *testing.T) {
	m := cuttest.Machine(cuttest.Drive{PowerKW: 20, TorqueNm: 100, MaxSpeedPerMin: 12000})
	for _, name := range cut.Names() {
		c := cuttest.Of(name)
		c.Machine = m
		if n := testing.AllocsPerRun(20, func() { estimate.Of(c) }); n > 40 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
