package db_test

import (
	"fmt"
	"runtime"
	"testing"
	"time"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// manyCount is how many grades a shop's catalogue may have at the speeds that are promised.
const manyCount = 100_000

// many is the fixture with that many grades of four designations, and two force records and
// two starting values for each.
func many() catalog.Data {
	d := fixture()
	one, force, start := d.Materials[0], d.Force[0], d.Starting[0]
	for i := range manyCount {
		m := one
		m.ID, m.Name = fmt.Sprintf("grade-%06d", i), fmt.Sprintf("Invented steel %d", i)
		m.Designations = []material.Designation{
			{Standard: "UNS", Value: fmt.Sprintf("S%06d", i)}, {Standard: "EN number", Value: fmt.Sprintf("1.%06d", i)},
			{Standard: "EN name", Value: fmt.Sprintf("X%dCrNi9", i)}, {Standard: "common", Value: fmt.Sprintf("Alloy %dK", i)},
		}
		m.Conditions = nil
		for _, c := range one.Conditions {
			c.Provenance.ID = fmt.Sprintf("%s-%06d", c.Provenance.ID, i)
			m.Conditions = append(m.Conditions, c)
		}
		d.Materials = append(d.Materials, m)
		for j := range 2 {
			f, s := force, start
			f.ID, s.ID = fmt.Sprintf("force-%06d-%d", i, j), fmt.Sprintf("start-%06d-%d", i, j)
			f.Scope = material.Scope{Level: "material", Key: m.ID}
			s.Scope = f.Scope
			d.Force, d.Starting = append(d.Force, f), append(d.Starting, s)
		}
	}
	return d
}

// BenchmarkMany puts 100,000 grades with their records into PostgreSQL, reads them back, and
// makes the snapshot that a service serves from.
func BenchmarkMany(b *testing.B) {
	store := opened(b, db.Config{URL: dbtest.URL(b), LoadTimeout: time.Hour, IdleInTransactionTimeout: time.Hour})
	began := time.Now()
	if _, err := store.Load(b.Context(), many(), db.LoadOptions{Who: "the benchmark", Reason: "size"}); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(time.Since(began).Seconds(), "s/load")
	for b.Loop() {
		began = time.Now()
		data, err := store.Snapshot(b.Context())
		if err != nil {
			b.Fatal(err)
		}
		read := time.Since(began)
		began = time.Now()
		snap, err := catalog.New(data)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(read.Seconds(), "s/read")
		b.ReportMetric(time.Since(began).Seconds(), "s/build")
		runtime.KeepAlive(snap)
	}
}
