package catalog

import (
	"fmt"
	"runtime"
	"testing"

	"swarf/domain/material"
)

// manyCount is the size at which speed is promised.
const manyCount = 100_000

var manySnapshot *Snapshot

// loaded is the large snapshot, built once for all benchmarks.
func loaded(b *testing.B) *Snapshot {
	b.Helper()
	if manySnapshot == nil {
		manySnapshot = snapshot(b, many(manyCount))
	}
	b.ReportAllocs()
	b.ResetTimer()
	return manySnapshot
}

// heap is what lives on the heap, in MB.
func heap() float64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC()
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / 1e6
}

// BenchmarkNew builds a snapshot of 100,000 grades; MB/snapshot is what it keeps with
// all of its data.
func BenchmarkNew(b *testing.B) {
	before := heap()
	d := many(manyCount)
	d.Arrange() // as data from a database is
	given := heap() - before
	var s *Snapshot
	for b.Loop() {
		s = snapshot(b, d)
	}
	d = Data{}
	b.ReportMetric(heap()-before, "MB/snapshot")
	b.ReportMetric(given, "MB/data")
	runtime.KeepAlive(s)
	runtime.KeepAlive(d)
}

// BenchmarkFindGrade looks grades up by each kind of name, all over the catalogue.
func BenchmarkFindGrade(b *testing.B) {
	s := loaded(b)
	for _, c := range []struct {
		name string
		of   func(i int) string
	}{
		{"id", func(i int) string { return fmt.Sprintf("grade-%06d", i) }},
		{"UNS", func(i int) string { return fmt.Sprintf("S%05d", i) }},
		{"number", func(i int) string { return fmt.Sprintf("1.%05d", i) }},
		{"name", func(i int) string { return fmt.Sprintf("X%dCrNi%d-%d", i%997, i/997, i%13) }},
		{"spelled", func(i int) string { return fmt.Sprintf(" x %d crni %d %d", i%997, i/997, i%13) }},
		{"tagged", func(i int) string { return fmt.Sprintf("W.-Nr. 1.%05d", i) }},
		{"qualified", func(i int) string { return fmt.Sprintf("alloy steel S%05d", i/6*6) }},
	} {
		names := make([]string, 1<<12)
		for i := range names {
			names[i] = c.of(i * 23 % manyCount)
		}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				if _, err := s.FindGrade(names[i%len(names)]); err != nil {
					b.Fatal(names[i%len(names)], err)
				}
				i++
			}
		})
	}
}

// BenchmarkRefused asks for what is no grade: a typo, and words that many share.
func BenchmarkRefused(b *testing.B) {
	s := loaded(b)
	for _, name := range []string{"S3O405", "1.430l1", "X12CrNjMo17-12", "X999CrNoMo99-99-12345", "Inkonel 718 sheet, annealed and pickled", "austenitc stainless", "unobtainium of the deepest mine", "steel", "stainless steel", "metal"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := s.FindGrade(name); err == nil {
					b.Fatal("found")
				}
			}
		})
	}
}

// BenchmarkSearch searches by exact name, by its beginning and by text.
func BenchmarkSearch(b *testing.B) {
	s := loaded(b)
	for _, q := range []string{"", "S30400", "S304", "x1", "steel", "austenitic stainless", "rni17", "cast 30", "l", "no such thing"} {
		b.Run(q, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Search(q, "")
			}
		})
	}
}

// BenchmarkResolveWork finds grade, condition and records for a cut, each grade anew.
func BenchmarkResolveWork(b *testing.B) {
	s := loaded(b)
	names := make([]string, manyCount)
	for i := range names {
		names[i] = fmt.Sprintf("S%05d", i*23%manyCount)
	}
	b.ResetTimer()
	i := 0
	for b.Loop() {
		q := WorkQuery{Grade: names[i%manyCount], Operation: "drilling", Class: "drill-solid-carbide"}
		if _, err := s.ResolveWork(q); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkOthers looks up what has an id of its own.
func BenchmarkOthers(b *testing.B) {
	s := loaded(b)
	for b.Loop() {
		m, ok := s.Material("grade-050000")
		if _, there := s.Source("book"); !ok || !there || m.Group == material.O {
			b.Fatal("lost")
		}
	}
}

// BenchmarkRecord finds records by id.
func BenchmarkRecord(b *testing.B) {
	s := loaded(b)
	ids := make([]string, 1<<12)
	for i := range ids {
		ids[i] = fmt.Sprintf("force-%06d-%d", i*23, i%2)
	}
	b.ResetTimer()
	i := 0
	for b.Loop() {
		if _, ok := s.Record(ids[i%len(ids)]); !ok {
			b.Fatal("lost")
		}
		i++
	}
}
