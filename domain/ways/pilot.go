package ways

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/force"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Pilot is the hole that is drilled first: a cut of its own, at the cutting speed of the
// drill behind it and with a feed in the proportion of their diameters.
type Pilot struct {
	DiameterMM, CuttingSpeedMPerMin, SpindleSpeedPerMin, FeedPerRevolutionMM, FeedRateMMPerMin float64
	CuttingMinutes                                                                             unit.Opt
}

// Sizes of a pilot: wider than the chisel edge that it relieves, and no wider than leaves the
// corners their guide, in tenths of a millimetre as such drills are sold. Common practice, no
// source.
const (
	widestPilotRatio = 0.5
	perMM            = 10
)

// twistDrill is the class of drills that follow a pilot.
const twistDrill = "drill-twist-hss"

// pilots is a hole drilled before a twist drill that goes into the solid.
func pilots(e *estimate.Estimate) []lever {
	c := e.Cut
	if c.Operation.Name != "drilling" || c.Tool.Class.ID != twistDrill || c.Tool.Material != "HSS" || c.Engagement.StartDiameterMM != nil && *c.Engagement.StartDiameterMM > 0 {
		return nil
	}
	d, chisel := *c.Tool.CuttingDiameterMM, force.StandardChiselRatio
	if own := c.Tool.ChiselRatio; own != nil {
		chisel = *own
	}
	l := lever{name: "passes", field: "engagement.start_diameter", quantity: unit.Length, pilot: true,
		set: func(c *cut.Cut, v *float64) { c.Engagement.StartDiameterMM = v }}
	for k := math.Ceil(chisel * d * perMM); k <= widestPilotRatio*d*perMM; k++ {
		l.values = append(l.values, k/perMM)
	}
	if l.values == nil {
		return nil
	}
	return []lever{l}
}

// pilotCut is the cut of a pilot hole. Of its drill nothing is known but class, diameter,
// edges, point and substrate.
func pilotCut(e *estimate.Estimate, diameter float64) *cut.Cut {
	own := *e.Cut
	vc := e.Motion.CuttingSpeedMPerMin
	f := e.Motion.FeedPerRevolutionMM * diameter / *own.Tool.CuttingDiameterMM
	own.Parameters = cut.Parameters{CuttingSpeedMPerMin: &vc, FeedPerRevolutionMM: &f}
	t := &e.Cut.Tool
	own.Tool = tool.Tool{Class: t.Class, Material: t.Material, CuttingDiameterMM: &diameter, EffectiveEdgesCount: t.EffectiveEdgesCount,
		PointAngleDeg: t.PointAngleDeg, FluteHelixAngleDeg: t.FluteHelixAngleDeg, ChiselRatio: t.ChiselRatio}
	return &own
}

// pilotOf says how a pilot hole is drilled.
func pilotOf(e *estimate.Estimate) *Pilot {
	m := &e.Motion
	return &Pilot{DiameterMM: *e.Cut.Tool.CuttingDiameterMM, CuttingSpeedMPerMin: m.CuttingSpeedMPerMin, SpindleSpeedPerMin: m.SpindleSpeedPerMin,
		FeedPerRevolutionMM: m.FeedPerRevolutionMM, FeedRateMMPerMin: m.FeedRateMMPerMin, CuttingMinutes: e.Time.CuttingMinutes}
}
