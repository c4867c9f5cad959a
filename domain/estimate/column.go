package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/stiffness"
	"swarf/domain/unit"
)

// ColumnOf is a drill as a column between its holder and its pilot hole: as long as it
// stands out, or as its usable length, and as thick as what its flutes leave. ok is false
// for other operations and where its length is not known.
//
// Range: drilling with an edge at the axis or a pilot. Errors: none. Source: convention of
// this service; that flutes leave as much as in an end mill is common practice.
func ColumnOf(c *cut.Cut) (k stiffness.Column, ok bool) {
	t := &c.Tool
	if c.Operation.Name != "drilling" && c.Operation.Name != "chain-drilling" {
		return k, false
	}
	length := t.ProtrudingLengthMM
	if length == nil {
		length = t.UsableLengthMM
	}
	if length == nil {
		return k, false
	}
	return stiffness.Column{LengthMM: *length, DiameterMM: stiffness.CoreRatio * *t.CuttingDiameterMM,
		ModulusGPa: value(t.ElasticModulusGPa, modulus(c)), EndRatio: stiffness.GuidedEndRatio}, true
}

// explainColumn gives the push at which a drill buckles.
func (e *Estimate) explainColumn(t *trail) {
	k, ok := ColumnOf(e.Cut)
	if !ok || !e.HasLoads {
		return
	}
	t.add("buckling_force", "N = π²·E·I/(k·L)², I = π·d⁴/64, clamped in the holder and guided in the pilot", put("E GPa", k.ModulusGPa, "d", k.DiameterMM, "k", k.EndRatio, "L", k.LengthMM), k.BucklingN(), unit.Force, "L. Euler's column")
}
