package plan

import (
	"strconv"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// Carried is what a step leaves for one after it.
type Carried struct {
	Step, From int
	domain.Finding
}

// clearOfRubbedMM is the least depth under a skin that an edge has rubbed hard, twice what
// a cutting edge leaves. Common practice, no source.
const clearOfRubbedMM = 0.3

// carry goes through the steps in order with what those before them left.
func (p *Plan) carry(r *Request) {
	rubbed, walled, chained := -1, -1, -1
	for i := range p.Cuts {
		c := r.Steps[i].Cut
		if rubbed >= 0 && sameWork(c, r.Steps[rubbed].Cut) {
			p.underSkin(r, i, rubbed)
			rubbed = -1
		}
		if walled >= 0 && c.Wall == nil && c.Operation.Family == cut.MillingFamily {
			p.says(i, walled, domain.Finding{Code: "wall-stands", Severity: domain.Note, Field: "wall", Message: p.ref(r, walled) + " left a thin wall; this cut says nothing of it", Fix: "send wall where the cut loads it"})
		}
		if chained >= 0 && c.Operation.Family == cut.MillingFamily && sameWork(c, r.Steps[chained].Cut) {
			p.throughWebs(r, i, chained)
			chained = -1
		}
		for _, f := range p.Cuts[i].Findings {
			if c.Material.WorkHardens() && (f.Code == "chip-too-thin" || f.Code == "cut-inside-hardened-layer" || f.Code == "dwell-hardens") {
				rubbed = i
			}
		}
		if c.Wall != nil {
			walled = i
		}
		if c.Operation.Name == "chain-drilling" {
			chained = i
		}
	}
}

// sameWork reports two cuts in one metal.
func sameWork(a, b *cut.Cut) bool {
	return a.Material.Grade == b.Material.Grade && a.Material.Group == b.Material.Group
}

// says adds a finding about what one step left for another.
func (p *Plan) says(step, from int, f domain.Finding) {
	f.Field = "cuts[" + strconv.Itoa(step) + "]." + f.Field
	p.Findings = append(p.Findings, Carried{Step: step, From: from, Finding: f})
}

// underSkin holds a cut against the skin that a rubbing edge left before it.
func (p *Plan) underSkin(r *Request, i, from int) {
	e := p.Cuts[i].Answer.Estimate
	if e == nil {
		return
	}
	depth, field := takes(e.Cut)
	if field == "" || depth >= clearOfRubbedMM*(1-1e-9) {
		return
	}
	p.says(i, from, domain.Finding{Code: "skin-left-hard", Severity: domain.Hold, Field: field, Value: unit.Of(unit.Length, depth), Limit: unit.Of(unit.Length, clearOfRubbedMM),
		Message: p.ref(r, from) + " rubs and hardens the surface; {value} does not get under it, {limit} does", Fix: "mend the chip of " + p.ref(r, from) + ", or leave at least {limit} for this cut"})
}

// takes is the depth that a cut takes off the last surface, and the member that says it.
func takes(c *cut.Cut) (depth float64, field string) {
	en := &c.Engagement
	switch {
	case en.DepthOfCutMM != nil:
		return *en.DepthOfCutMM, "engagement.depth_of_cut"
	case c.Operation.Family == cut.MillingFamily && en.RadialWidthMM != nil && c.Tool.CuttingDiameterMM != nil && *en.RadialWidthMM < *c.Tool.CuttingDiameterMM/2:
		return *en.RadialWidthMM, "engagement.radial_width"
	case en.AxialDepthMM != nil:
		return *en.AxialDepthMM, "engagement.axial_depth"
	}
	return 0, ""
}

// throughWebs holds the first milling cut after a chain of holes against what it meets at
// the webs: for a moment the whole width of the cutter is in the work.
func (p *Plan) throughWebs(r *Request, i, from int) {
	chain := p.Cuts[from].Answer.Estimate
	e := p.Cuts[i].Answer.Estimate
	if chain == nil || chain.Moves.Holes == nil || e == nil || p.Cuts[i].Answer.Refused || e.Cut.Tool.CuttingDiameterMM == nil {
		return
	}
	width := min(*e.Cut.Tool.CuttingDiameterMM, chain.Moves.Holes.RestWidthMM)
	full := *e.Cut
	full.Parameters = cut.Parameters{SpindleSpeedPerMin: &e.Motion.SpindleSpeedPerMin, FeedPerToothMM: &e.Motion.FeedPerToothMM}
	if full.Engagement.RadialWidthMM == nil || *full.Engagement.RadialWidthMM >= width {
		return // it is as wide already, or states no width
	}
	full.Engagement.RadialWidthMM, full.Engagement.CutterOffsetMM = &width, nil
	at := estimate.Lean(&full)
	if m := at.Machine; m != nil {
		for k := range m.Limits {
			if l := &m.Limits[k]; l.Worn > l.Allowed*(1+1e-9) {
				p.says(i, from, domain.Finding{Code: "webs-overload", Severity: domain.Hold, Field: "engagement.radial_width", Value: unit.Of(l.Quantity, l.Worn), Limit: unit.Of(l.Quantity, l.Allowed),
					Message: "at the webs that " + p.ref(r, from) + " leaves, the cutter is in the work over its whole width: " + l.Name + " {value} against {limit}", Fix: "less depth or feed for the first pass, or holes nearer to each other"})
				return
			}
		}
	}
	p.says(i, from, domain.Finding{Code: "webs-ahead", Severity: domain.Note, Field: "engagement.radial_width", Value: unit.Of(unit.Length, width), Limit: unit.Of(unit.Length, *e.Cut.Engagement.RadialWidthMM),
		Message: "at each web that " + p.ref(r, from) + " leaves, {value} is in the cut instead of {limit}; the limits hold", Fix: "listen at the webs"})
}
