package cut

import (
	"math"

	"swarf/domain"
	"swarf/domain/unit"
)

// A chamfer's width is measured on the face, its angle from that face: the cutting edge
// angle of the tool.
var chamferMilling = Operation{
	Name: "chamfer-milling", Family: MillingFamily,
	StartsAs: Start{Operation: "side-milling", Class: "mill-end"},
	Required: []string{"chamfer_width", "chamfer_angle"},
	Optional: []string{"work_diameter", "internal", "length", "approach", "direction"},
	Check:    checkChamfer,
}

// edgeFromChamfer takes the tool's angle from the chamfer where only that was given.
func edgeFromChamfer(c *Cut) {
	t, angle := &c.Tool, c.Engagement.ChamferAngleDeg
	if c.Operation.Name != "chamfer-milling" || t.CuttingEdgeAngleDeg != nil || angle == nil {
		return
	}
	if p, ok := t.Class.Property("cutting_edge_angle"); ok && (*angle < p.Low.Or(0) || *angle > p.High.Or(90)) {
		return // no such tool in the class: the mismatch is told
	}
	t.CuttingEdgeAngleDeg = angle
	c.Assumed = append(c.Assumed, domain.Assumption{Field: "tool.cutting_edge_angle", Number: unit.Of(unit.Angle, *angle), Why: "the edge makes the chamfer's angle"})
}

// checkChamfer refuses an edge that does not make the angle, a chamfer that reaches the
// cutter's axis, and a bore that the cutter does not enter.
func checkChamfer(c *Cut, f *Faults) {
	en, d, k := &c.Engagement, *c.Tool.CuttingDiameterMM, *c.Tool.CuttingEdgeAngleDeg
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	if math.Abs(k-*en.ChamferAngleDeg) > 0.5 {
		f.Impossible("engagement.chamfer_angle", "an edge of {limit} does not make a chamfer of {value}", unit.Of(unit.Angle, *en.ChamferAngleDeg), unit.Of(unit.Angle, k),
			"chamfer_angle is measured from the face, as tool.cutting_edge_angle is; send a tool of that angle")
	}
	if w := *en.ChamferWidthMM; w >= d/2 {
		f.Impossible("engagement.chamfer_width", "chamfer_width {value} reaches the axis of the cutter, {limit} from its rim", length(w), length(d/2), "a larger cutter")
	}
	if en.WorkDiameterMM == nil {
		return
	}
	if en.Internal == nil {
		f.Missing("engagement.internal", "chamfer-milling on a circle needs internal: true for the mouth of a bore, false for the end of a boss")
	} else if small := d - 2**en.ChamferWidthMM; *en.Internal && *en.WorkDiameterMM <= small {
		f.Impossible("engagement.work_diameter", "the end of the edge, {limit} wide, does not enter a bore of {value}", length(*en.WorkDiameterMM), length(small), "a smaller cutter, or countersinking")
	} else if !*en.Internal && *en.WorkDiameterMM <= 2**en.ChamferWidthMM {
		f.Impossible("engagement.work_diameter", "a chamfer of this width leaves nothing of a boss of {value}; it needs more than {limit}", length(*en.WorkDiameterMM), length(2**en.ChamferWidthMM), "a narrower chamfer")
	}
}
