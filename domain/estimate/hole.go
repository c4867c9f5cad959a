package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/kinematics"
	"swarf/domain/material"
)

// Habits of drilling. Common practice, no source.
const (
	approachMM   = 1.0  // clear of the face before feed starts
	clearMM      = 1.0  // past the far side
	reapproachMM = 0.75 // above the last depth, middle of 0.5 to 1
	exitRatio    = 0.5  // of the feed from break-through
)

// entryFeed is the share of the feed at entry and the travel that a face which is
// not square adds.
type entryFeed struct{ ratio, sidewaysMM float64 }

// flatEntry is the share of the feed on a square face, middles of the usual ranges:
// exchangeable tip 0.5, solid carbide and indexable 0.7 to 1.0, flat bottom 0.5 to
// 0.8, high-speed steel full. Common practice, no source.
var flatEntry = map[string]float64{
	"drill-exchangeable-tip": 0.5, "drill-solid-carbide": 0.85, "drill-indexable": 0.85,
	"drill-flat-bottom": 0.65, "drill-twist-hss": 1, "drill-gun": 0.5,
}

// slopedEntry is the share on a slope or a curved wall: flat bottom 0.3 to 0.5 (0.3
// to 0.6 on a wall), others half. Common practice, no source.
func slopedEntry(class string, wall bool) float64 {
	if class == "drill-flat-bottom" {
		if wall {
			return 0.45
		}
		return 0.4
	}
	return 0.5
}

func entryOf(c *cut.Cut) entryFeed {
	class, d := c.Tool.Class.ID, *c.Tool.CuttingDiameterMM
	e := entryFeed{ratio: flatEntry[class]}
	if e.ratio == 0 {
		e.ratio = 1
	}
	if slope := value(c.Engagement.FaceSlopeDeg, 0); slope > 0 {
		e.ratio = min(e.ratio, slopedEntry(class, false))
		e.sidewaysMM += kinematics.SlopeEntryMM(kinematics.Slope{DiameterMM: d, SlopeDeg: slope})
	}
	if r := value(c.Engagement.WallRadiusMM, 0); r != 0 {
		e.ratio = min(e.ratio, slopedEntry(class, true))
		e.sidewaysMM += kinematics.WallEntryMM(kinematics.Wall{DiameterMM: d, RadiusMM: r})
	}
	return e
}

// Bite is how deep a drill goes without coolant through the spindle, in diameters:
// in one step, and at all before a person must decide.
type Bite struct{ OneRatio, HoldRatio float64 }

// biteTable is by class for work-hardening metals and for others.
var biteTable = map[string][2]Bite{
	"drill-indexable":        {{1, 2}, {2, 3}},
	"drill-flat-bottom":      {{1, 2}, {2, 3}},
	"drill-exchangeable-tip": {{2, 3}, {3, 5}},
	"drill-solid-carbide":    {{2, 3}, {3, 5}},
	"drill-twist-hss":        {{1.5, 8}, {3, 8}},
	"drill-gun":              {{0, 0}, {0, 0}},
}

// BiteOf returns the depths of a drill class without through-tool coolant.
//
// Range: drill classes. Errors: none; ok is false for other classes.
// Source: common practice, no source.
func BiteOf(c *cut.Cut) (b Bite, ok bool) {
	row, ok := biteTable[c.Tool.Class.ID]
	if c.Material.WorkHardens() {
		return row[0], ok
	}
	return row[1], ok
}

// pecksOf splits a hole that is deeper than one bite, when the coolant does not come
// through the tool: the first step one bite, the next up to a diameter and
// shrinking to half of one; out in full except in short-chip iron.
func pecksOf(c *cut.Cut) []Peck {
	bite, ok := BiteOf(c)
	d, depth := *c.Tool.CuttingDiameterMM, HoleDepthMM(c)
	asked := c.Engagement.Retract
	if !ok || asked == "none" || c.Coolant.Delivery == "through-tool" && asked == "" {
		return nil
	}
	if bite.OneRatio == 0 || depth <= bite.OneRatio*d*(1+1e-9) && asked == "" {
		return nil
	}
	retract := asked
	if retract == "" {
		retract = "full"
		if c.Material.Group == material.K {
			retract = "chip-break"
		}
	}
	var pecks []Peck
	step, next := bite.OneRatio*d, min(bite.OneRatio, 1)*d
	for at := 0.0; at < depth-1e-9 && len(pecks) < mostPecks; {
		at += step
		if depth-at < 0.1*d { // no crumb for the last step
			at = depth
		}
		pecks = append(pecks, Peck{ToDepthMM: at, Retract: retract, ReapproachAtMM: reapproachMM})
		step, next = next, max(0.5*d, next*0.9)
	}
	pecks[len(pecks)-1] = Peck{ToDepthMM: depth, Retract: "full"}
	return pecks
}

// mostPecks bounds the plan of a hole hundreds of diameters deep.
const mostPecks = 200
