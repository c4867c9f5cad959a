package recommend

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/kinematics"
	"swarf/domain/material"
	"swarf/domain/unit"

	"swarf/domain"
)

// step is a point of a rule given as a table.
type step struct{ at, factor float64 }

// along reads a table by straight lines, held at its ends.
func along(table []step, at float64) float64 {
	if at <= table[0].at {
		return table[0].factor
	}
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; at <= b.at {
			return a.factor + (b.factor-a.factor)*(at-a.at)/(b.at-a.at)
		}
	}
	return table[len(table)-1].factor
}

// Rules of the trade as tables. Common practice, no source.
var (
	depthSpeed   = []step{{2, 1}, {3, 0.90}, {4, 0.80}, {5, 0.70}, {6, 0.65}, {8, 0.60}} // over hole depth in diameters
	depthFeed    = []step{{2, 1}, {3, 0.90}, {4, 0.90}, {5, 0.80}, {8, 0.80}}
	lightWidth   = []step{{0.05, 1.5}, {0.10, 1.4}, {0.25, 1.15}, {0.5, 1}} // over ae/DC
	overhangArea = []step{{3, 1}, {4, 0.8}, {5, 0.6}, {6, 0.45}}            // over L/DC, on ap × ae
)

// adjust applies the habits of the trade to what may move, in the order engagement,
// coolant and depth, hardness.
func (p *proposal) adjust() {
	switch p.c.Operation.Family {
	case cut.MillingFamily:
		p.adjustMilling()
	case cut.HoleFamily:
		p.adjustHole()
	}
	switch p.c.Operation.Name {
	case "thread-turning":
		p.by("threading", "cutting_speed", 0.7, "a sharp point cuts with both flanks: 0.6 to 0.8 of turning")
	case "thread-forming":
		p.by("forming", "cutting_speed", 1.5, "1 to 2 times cutting, with a strong lubricant")
	}
	p.adjustDry()
	p.adjustHardness()
	p.adjustSkin()
}

// by multiplies speed or feed, unless the caller fixed it, and lists it.
func (p *proposal) by(name, actsOn string, factor float64, reason string) {
	switch {
	case factor == 1:
		return
	case actsOn == "cutting_speed" && !p.speedFixed:
		p.speed *= factor
	case actsOn == "feed" && !p.feedFixed:
		p.feed *= factor
	default:
		return
	}
	p.adjusted(name, actsOn, factor, reason)
}

func (p *proposal) adjustMilling() {
	c := p.c
	switch c.Operation.Name {
	case "plunge-milling":
		p.by("plunge", "cutting_speed", 0.8, "the whole end of the cutter is in the work")
		return
	case "ball-milling":
		return // speed belongs to the effective diameter, and the thickest chip is opened below
	case "chamfer-milling":
		p.by("chamfer", "feed", chamferFeedMM/p.feed, "0.03 to 0.08 mm per tooth: the edge runs out to a thin end")
		return
	}
	d, ae := *c.Tool.CuttingDiameterMM, estimate.WidthMM(c)
	if c.Operation.Name == "slot-milling" || ae > 0.98*d && c.Operation.Name == "side-milling" {
		p.by("full-slot", "cutting_speed", 0.8, "both walls cut and heat stays in the slot")
		p.by("full-slot", "feed", 0.75, "0.7 to 0.8 in a full slot")
		return
	}
	if !estimate.AlongWall(c) {
		return
	}
	if thin := kinematics.ThinChipRatio(kinematics.Immersion{DiameterMM: d, WidthMM: ae}); thin > 1 && !p.feedFixed {
		wanted := p.feed * min(thin, 2.3)
		if top := p.feedHigh(); top > 0 && wanted > top {
			p.say(capped("feed-capped", "parameters.feed_per_tooth", unit.Length, wanted, max(top, p.feed), "feed for the thin chip would be {value}; the record ends at {limit}"))
			wanted = max(top, p.feed)
		}
		p.by("thin-chip", "feed", wanted/p.feed, "on the largest chip: at this width it is thinner than the feed per tooth")
	}
	gain := along(lightWidth, ae/d) - 1
	if c.Material.Group == material.S {
		gain /= 2
	}
	p.by("light-width-speed", "cutting_speed", 1+gain, "a short arc lets the edge cool")
	p.adjustCircle()
}

// chamferFeedMM is the middle of 0.03 to 0.08 mm per tooth. Common practice, no source.
const chamferFeedMM = 0.055

// adjustCircle makes the feed of the cutter's centre that of the wall, where the circle is
// neither too tight for it nor the cutter's own.
func (p *proposal) adjustCircle() {
	en := &p.c.Engagement
	if en.EndDiameterMM == nil {
		return
	}
	name, reason := "outside-arc", "the centre's circle is wider than the wall's"
	if *en.Internal {
		name, reason = "inside-arc", "the centre's circle is narrower than the wall's"
	}
	ratio := kinematics.CentreFeedRatio(kinematics.Bend{CutterMM: *p.c.Tool.CuttingDiameterMM, RadiusMM: *en.EndDiameterMM / 2, Internal: *en.Internal})
	if ratio >= 0.2 && ratio <= 1.5 {
		p.by(name, "feed", ratio, reason)
	}
}

// feedHigh is the record's largest feed per tooth.
func (p *proposal) feedHigh() float64 {
	if p.record == nil {
		return 0
	}
	return p.recordFeed().High.Or(0)
}

func capped(code, field string, q unit.Quantity, wanted, given float64, message string) domain.Finding {
	return domain.Finding{Code: code, Severity: domain.Warning, Field: field, Value: unit.Of(q, wanted), Limit: unit.Of(q, given),
		Message: message, Fix: "what binds is named in bound_by and adjustments"}
}

func (p *proposal) adjustHole() {
	c := p.c
	if _, drill := estimate.BiteOf(c); !drill {
		return // reamers, countersinks and boring heads have no deep chip to wash out
	}
	through := c.Coolant.Delivery == "through-tool"
	ratio := estimate.HoleDepthMM(c) / *c.Tool.CuttingDiameterMM
	if c.Tool.Class.ID == "drill-twist-hss" {
		if !through {
			p.by("hole-depth", "cutting_speed", along(depthSpeed, ratio), "coolant from outside reaches a deep hole badly")
			p.by("hole-depth", "feed", along(depthFeed, ratio), "chips pack in a deep hole")
		}
		return
	}
	dryIron := c.Material.Group == material.K && c.Coolant.Delivery == "none"
	if !through && !dryIron {
		p.by("coolant", "cutting_speed", 0.775, "coolant from outside: 0.7 to 0.85")
		p.by("coolant", "feed", 0.9, "coolant from outside: 0.8 to 1.0")
	}
}

func (p *proposal) adjustDry() {
	dry := p.c.Coolant.Delivery == "none" || p.c.Coolant.Delivery == "air"
	if dry && p.c.Material.Group == material.M {
		p.by("coolant", "cutting_speed", 0.6, "dry in austenitic metal: 0.5 to 0.7")
	}
}

// adjustHardness slows down in harder steel and iron by a power, and in cold-worked
// austenitic metal a little; each only inside its bounds.
func (p *proposal) adjustHardness() {
	w := &p.c.Material
	if w.Hardness == nil || w.HardnessHBW == 0 || p.record == nil {
		return
	}
	if w.Subgroup == material.Austenitic && w.ConditionHighHBW > 0 && w.HardnessHBW > w.ConditionHighHBW {
		p.by("cold-work", "cutting_speed", 0.875, "harder than annealed means cold-worked: 0.8 to 0.95")
		return
	}
	base := 0.0
	switch r := p.record.Hardness; {
	case r.Known():
		base = middle(r)
	case w.ConditionHighHBW > 0:
		base = (w.ConditionLowHBW + w.ConditionHighHBW) / 2
	}
	steel := w.Group == material.P || w.Group == material.K || w.Group == material.H
	if base == 0 || !steel || !w.Softens() {
		return
	}
	ratio := min(1.3, max(0.8, w.HardnessHBW/base))
	p.by("hardness", "cutting_speed", math.Pow(ratio, -1.35), "speed falls with hardness to the power 1.0 to 1.7")
}

// adjustSkin slows down under a hard skin and keeps a chosen depth below it.
func (p *proposal) adjustSkin() {
	skin := p.c.Stock.SkinDepthMM
	if skin == nil || *skin <= 0 {
		return
	}
	p.by("skin", "cutting_speed", 0.75, "scale or cast skin: 0.7 to 0.8")
	if p.depth != nil && *p.depth < *skin+0.5 {
		p.adjusted("skin", "depth", (*skin+0.5) / *p.depth, "cut half a millimetre under the skin")
		*p.depth = *skin + 0.5
	}
}

// overhang makes a chosen depth or width smaller for a long tool.
func (p *proposal) overhang(ratio float64) {
	k := along(overhangArea, ratio)
	free := p.depth
	if free == nil {
		free = p.width
	}
	if k == 1 || free == nil {
		return
	}
	*free *= k
	p.adjusted("overhang", "depth", k, "a long tool springs: less in the cut")
}

// openChip raises the feed until the thickest chip is at its floor: a recommendation
// never starts with a rubbing edge.
func (p *proposal) openChip() {
	if p.feedFixed {
		return
	}
	least := finding.MinimumChipMM(p.c)
	if h := p.estimate().Chip.ThicknessMaxMM; h < least {
		p.by("chip-floor", "feed", least/h*(1+1e-9), "under the least chip the edge rubs")
		p.boundBy = "chip-floor"
	}
}
