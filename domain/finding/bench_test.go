package finding_test

import (
	"testing"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/finding"
)

// Every operation computed and judged once, against a machine, with the tool's angles
// assumed, so that each of them is questioned: about the dearest an estimate can be.
func BenchmarkJudge(b *testing.B) {
	m := cuttest.Machine(cuttest.Drive{PowerKW: 20, TorqueNm: 100, MaxSpeedPerMin: 12000})
	for _, name := range cut.Names() {
		c := cuttest.Of(name)
		c.Machine = m
		for _, field := range []string{"cutting_edge_angle", "point_angle", "flute_helix_angle"} {
			assumed("tool." + field)(c)
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				finding.Judge(estimate.Of(c))
			}
		})
	}
}
