package finding

import (
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// hrc45 is 45 HRC in Brinell, the highest hardness for high-speed steel.
//
// Source: conversion of carbon and alloy steel, ISO 18265 (recalled), about 421 HBW.
const hrc45HBW = 421

// overhangs are the highest ratios of overhang to diameter of boring bars, by what they
// are made of. Common practice, no source.
var overhangs = map[string]float64{"": 4, "steel": 4, "carbide": 6, "damped": 10}

// tool judges reach, depth, overhang, run-out and substrate of the tool.
func (j *judge) tool() {
	t := &j.c.Tool
	en := &j.c.Engagement
	if limit, ok := given(t.MaxDepthOfCutMM); ok {
		depth := en.AxialDepthMM
		switch {
		case j.c.Operation.Family == cut.TurningFamily:
			depth = en.DepthOfCutMM
		case j.c.Operation.Name == "plunge-milling": // the end cuts, however deep
			depth = nil
		case en.ChamferWidthMM != nil:
			ap := estimate.DepthMM(j.c)
			depth = &ap
		}
		if ap, ok := given(depth); ok && over(ap, limit) {
			j.says("depth-of-cut-beyond-edge", domain.Refusal, "tool.max_depth_of_cut", unit.Length, ap, limit,
				"depth {value} is more than the edge's {limit}", "more levels, or a longer edge")
		}
	}
	j.overhang()
	if r, ok := given(t.RunoutMM); ok && (j.c.Operation.Family == cut.MillingFamily || j.c.Operation.Family == cut.HoleFamily) && over(r, 0.3*j.e.Motion.FeedPerToothMM) {
		j.says("runout-high", domain.Warning, "tool.runout", unit.Length, r, 0.3*j.e.Motion.FeedPerToothMM,
			"one tooth carries {value} more than its share; {limit} is the most for this feed", "set the tool true, or feed more")
	}
	j.ramp()
	j.pull()
	j.threadMill()
	j.substrate()
}

// threadMillRatio is the largest cutter for an internal thread, over its diameter.
// Common practice, no source.
const threadMillRatio = 0.7

// threadMill holds a cutter that comes close to the thread it cuts inside.
func (j *judge) threadMill() {
	en := &j.c.Engagement
	if j.c.Operation.Name != "thread-milling" || !*en.Internal {
		return
	}
	if ratio := *j.c.Tool.CuttingDiameterMM / *en.EndDiameterMM; over(ratio, threadMillRatio) {
		j.says("thread-mill-too-large", domain.Hold, "tool.cutting_diameter", unit.None, ratio, threadMillRatio,
			"the cutter is {value} of the thread's diameter; past {limit} it spoils the profile", "a smaller cutter")
	}
}

func (j *judge) overhang() {
	t := &j.c.Tool
	d, okD := given(t.CuttingDiameterMM)
	limit := 6.0
	switch {
	case j.c.Operation.Name == "boring-internal" || j.c.Operation.Name == "boring-rotating":
		if s, ok := given(t.ShankDiameterMM); ok {
			d, okD = s, true
		}
		limit = overhangs[t.Body]
	case t.Class.ID != "mill-end" && t.Class.ID != "mill-ball":
		return
	}
	l, ok := given(t.ProtrudingLengthMM)
	if !ok || !okD {
		j.e.Unchecked = append(j.e.Unchecked, domain.Unchecked{Check: "overhang", Needs: "tool.protruding_length and its diameter"})
		return
	}
	if over(l/d, limit) {
		j.says("overhang-beyond-practice", domain.Hold, "tool.protruding_length", unit.None, l/d, limit,
			"the tool stands out {value} diameters; {limit} is the end of practice", "shorter, thicker, or damped")
	}
}

// pull warns of helical tools that can creep out of a plain holder.
func (j *judge) pull() {
	t := &j.c.Tool
	if j.c.Operation.Family != cut.MillingFamily || j.c.Operation.Name == "plunge-milling" || t.SecureHolder != nil && *t.SecureHolder {
		return
	}
	helix, _ := given(t.FluteHelixAngleDeg)
	ap, _ := given(j.c.Engagement.AxialDepthMM)
	if d, ok := given(t.CuttingDiameterMM); ok && helix > 0 && over(ap, 1.5*d) {
		j.says("tool-pull-out-risk", domain.Warning, "tool.secure_holder", unit.Length, ap, 1.5*d,
			"a helical edge {value} deep pulls the tool out of a plain holder; past {limit} it should be held against it", "a holder that locks the tool along its axis")
	}
}

// substrate refuses tool materials that the work destroys.
func (j *judge) substrate() {
	m, w := j.c.Tool.Material, &j.c.Material
	ferrous := w.Group == material.P || w.Group == material.M || w.Group == material.K || w.Group == material.H
	field := "tool.tool_material"
	switch {
	case (m == "DP" || m == "DM") && ferrous:
		j.tells("tool-material-unfit", domain.Refusal, field, "diamond dissolves in iron and steel at cutting heat", "coated carbide, or boron nitride in hard work")
	case m == "HSS" && tooHardForHSS(w):
		j.says("tool-material-unfit", domain.Refusal, field, unit.None, w.HardnessHBW, hrc45HBW,
			"high-speed steel does not cut work over 45 HRC", "carbide, or boron nitride")
	case slices.Contains([]string{"CA", "CM", "CN"}, m) && (w.Subgroup == material.Titanium || w.Subgroup == material.Aluminium || w.Subgroup == "aluminium-cast"):
		j.tells("tool-material-unfit", domain.Refusal, field, "uncoated ceramic reacts with titanium and aluminium", "carbide, or diamond in aluminium")
	}
}

func tooHardForHSS(w *cut.Work) bool {
	if h := w.Hardness; h != nil && h.Scale == material.HRC {
		return h.Value > 45
	}
	return w.HardnessHBW > hrc45HBW || w.Group == material.H && w.HardnessHBW == 0
}
