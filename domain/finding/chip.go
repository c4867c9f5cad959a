package finding

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Least chips by kind of edge, mm. Common practice, no source.
const (
	groundEdgeMM  = 0.02
	honedInsertMM = 0.05
)

// MinimumChipMM is the least chip for a cut: the record's own where it has one, else
// practice by the kind of edge; all magnesium takes the larger.
//
// Range: any cut with a tool class. Errors: none. Source: common practice, no source.
func MinimumChipMM(c *cut.Cut) float64 {
	honed := c.Tool.Class.Edge == tool.Honed
	if g := c.Material.Grade; g != nil {
		if own := g.MinimumChip.GroundEdgeMM; !honed && own.OK {
			return own.V
		}
		if own := g.MinimumChip.HonedInsertMM; honed && own.OK {
			return own.V
		}
	}
	if honed || c.Material.Magnesium() {
		return honedInsertMM
	}
	return groundEdgeMM
}

// chip judges the thickness of the chip, and whether it breaks.
func (j *judge) chip() {
	h, least := j.e.Chip.ThicknessMaxMM, MinimumChipMM(j.c)
	if h == 0 {
		return // a formed thread has no chip
	}
	if h < least*(1-1e-9) {
		severity := domain.Warning
		if j.c.Material.WorkHardens() || j.c.Material.Magnesium() {
			severity = domain.Hold
		}
		j.says("chip-too-thin", severity, "chip.thickness_max", unit.Length, h, least,
			"the thickest chip is {value}; under {limit} the edge rubs instead of cutting", "more feed per tooth or more width; lower the speed if it must be gentle")
	}
	if r := j.e.Served; r != nil && r.ChipThickness.Known() && !r.ChipThickness.Holds(h) {
		limit := r.ChipThickness.High.Or(0)
		if r.ChipThickness.Low.OK && h < r.ChipThickness.Low.V {
			limit = r.ChipThickness.Low.V
		}
		j.says("chip-thickness-outside-record", domain.Warning, "chip.thickness_max", unit.Length, h, limit,
			"chip {value} is outside the force record's range, which ends at {limit}; the force there is an extrapolation", "read the force as rough")
	}
	if j.c.Operation.Has("depth_of_cut") {
		j.breaking()
	}
}

// breaking judges whether a turned chip breaks on the insert's corner.
func (j *judge) breaking() {
	re, ok := given(j.c.Tool.CornerRadiusMM)
	if !ok || re == 0 {
		return
	}
	ap, _ := given(j.c.Engagement.DepthOfCutMM)
	f := j.e.Motion.FeedPerRevolutionMM
	fix := "feed 0.25 to 0.6 of the corner radius at a depth over two thirds of it, or a smaller radius"
	switch {
	case ap < 2*re/3*(1-1e-9):
		j.says("chip-break-window-missed", domain.Warning, "engagement.depth_of_cut", unit.Length, ap, 2*re/3,
			"depth {value} is under {limit}, two thirds of the corner radius; the chip may not break", fix)
	case f < 0.25*re*(1-1e-9):
		j.says("chip-break-window-missed", domain.Warning, "parameters.feed_per_revolution", unit.Length, f, 0.25*re,
			"feed {value} is under {limit}, a quarter of the corner radius; the chip may not break", fix)
	case over(f, 0.6*re):
		j.says("chip-break-window-missed", domain.Warning, "parameters.feed_per_revolution", unit.Length, f, 0.6*re,
			"feed {value} is over {limit}, 0.6 of the corner radius", fix)
	}
}

// Depths that a work-hardened skin takes, mm. Common practice, no source.
const (
	hardenedLayerMM = 0.10
	underLayerMM    = 0.15
)

// arc judges engagement: the skin of the last pass, full slots, interrupted cuts.
func (j *judge) arc() {
	en := &j.c.Engagement
	if j.c.Material.WorkHardens() {
		field, v := "engagement.depth_of_cut", en.DepthOfCutMM
		if j.c.Operation.Family == cut.MillingFamily {
			width := estimate.WidthMM(j.c)
			field, v = "engagement.radial_width", &width
			if j.c.Operation.Name == "ball-milling" { // the layer, not the step
				field, v = "engagement.axial_depth", en.AxialDepthMM
			} else if en.ChamferWidthMM != nil { // a corner has no skin to stay under
				v = nil
			}
		}
		if j.c.Operation.Name == "boring-rotating" {
			side := (*j.c.Tool.CuttingDiameterMM - *en.StartDiameterMM) / 2
			field, v = "engagement.start_diameter", &side
		}
		if depth, ok := given(v); ok {
			switch {
			case depth < hardenedLayerMM*(1-1e-9):
				j.says("cut-inside-hardened-layer", domain.Hold, field, unit.Length, depth, hardenedLayerMM,
					"{value} cuts inside the skin the last pass hardened; it takes {limit}", "leave 0.15 to 0.3 mm (0.006 to 0.012 in); no spring pass")
			case depth < underLayerMM*(1-1e-9):
				j.says("cut-inside-hardened-layer", domain.Warning, field, unit.Length, depth, underLayerMM,
					"{value} is close to the skin the last pass hardened; {limit} is clear of it", "leave 0.15 to 0.3 mm (0.006 to 0.012 in); no spring pass")
			}
		}
		if turns, ok := given(en.DwellTurns); ok && turns > 0 {
			j.says("dwell-hardens", domain.Warning, "engagement.dwell", unit.None, turns, 0, "a dwell of {value} turns rubs and hardens the surface", "no dwell")
		}
	}
	if name := j.c.Operation.Name; j.c.Operation.Family != cut.MillingFamily || name == "plunge-milling" {
		return // a plunge is as deep as it goes
	}
	d, _ := given(j.c.Tool.CuttingDiameterMM)
	ap := estimate.DepthMM(j.c)
	limit := d
	if j.c.Material.WorkHardens() {
		limit = d / 2
	}
	if j.e.Chip.EngagementAngleDeg >= 170 && over(ap, limit) {
		j.says("full-slot-deep", domain.Warning, "engagement.axial_depth", unit.Length, ap, limit,
			"a full slot {value} deep; {limit} is the end of practice in this material", "less depth, or a narrower tool on looped paths")
	}
	if z := j.e.Chip.EdgesInCutCount; z < 1-1e-9 {
		j.says("intermittent-cut", domain.Warning, "chip.edges_in_cut", unit.None, z, 1,
			"{value} edges are in the work on average: the load pulses", "more edges, or more width")
	}
}
