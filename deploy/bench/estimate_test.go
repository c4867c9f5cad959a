package main

import (
	"testing"

	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/tool"
)

// milling is a checked face-milling cut in austenitic stainless steel, with the
// exact mean and the peak over a turn.
func milling(tb testing.TB) *cut.Cut {
	tb.Helper()
	reference, err := data.Embedded()
	if err != nil {
		tb.Fatal(err)
	}
	snap, err := catalog.New(reference)
	if err != nil {
		tb.Fatal(err)
	}
	class, _ := snap.Class("mill-face")
	operation, _ := cut.Find("face-milling")
	work, faults := snap.ResolveWork(catalog.WorkQuery{Grade: "1.4301", Operation: operation.Name, Process: "milling",
		Class: class.ID, ToolMaterial: class.ToolMaterial})
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	some := func(v float64) *float64 { return &v }
	c := &cut.Cut{
		Material: work, Operation: operation, Rating: machine.Continuous, Confidence: 0.9,
		Tool:       tool.Tool{Class: class, CuttingDiameterMM: some(80), EffectiveEdgesCount: some(6), CuttingEdgeAngleDeg: some(45)},
		Engagement: cut.Engagement{AxialDepthMM: some(3), RadialWidthMM: some(55)},
		Parameters: cut.Parameters{CuttingSpeedMPerMin: some(180), FeedPerToothMM: some(0.2)},
	}
	if faults := cut.Check(c, cut.ToEstimate); len(faults) > 0 {
		tb.Fatal(faults)
	}
	return c
}

// BenchmarkMillingEstimate is the computation of one estimate alone.
func BenchmarkMillingEstimate(b *testing.B) {
	c := milling(b)
	b.ReportAllocs()
	for b.Loop() {
		if e := estimate.Of(c); !e.HasLoads {
			b.Fatal("no loads")
		}
	}
}
