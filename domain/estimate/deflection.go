package estimate

import (
	"math"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/stiffness"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Deflection is how far tool and wall give way to the sharp edge; absent where something
// is not known.
type Deflection struct{ ToolMM, WallMM unit.Opt }

// SideForceN is the force across the axis of the tool, where it is largest over a turn: the
// peak of the tangential force with its normal share in milling, cutting and passive force
// of a bar. ok is false where nothing bends the tool aside.
//
// Range: a computed estimate. Errors: none. Source: resultant of ISO 3002-4 components;
// the normal share is common practice.
func (e *Estimate) SideForceN() (n float64, ok bool) {
	c, l := e.Cut, &e.Sharp
	switch {
	case !e.HasLoads || c.Operation.Name == "plunge-milling":
		return 0, false
	case c.Operation.Family == cut.MillingFamily:
		return 2000 * l.TorquePeakNm / e.Motion.DiameterMM * math.Hypot(1, force.NormalShareRatio), true
	case c.Operation.Name == "boring-internal":
		return math.Hypot(l.CuttingForceN, l.PassiveForceN.V), true
	case c.Operation.Name == "boring-rotating" && *c.Tool.EffectiveEdgesCount == 1:
		return l.CuttingForceN * math.Hypot(1, sharesOf(c, &e.Motion).PassiveRatio), true
	}
	return 0, false
}

// ShaftOf is the tool as a cantilever: an end mill carries with its core over the length of
// its edges, where that is known, and with its shank behind; a bar with its shank. ok is
// false where its length or diameter is not known.
//
// Range: milling cutters with a shank, bars. Errors: none. Source: convention of this
// service; the core is common practice.
func ShaftOf(c *cut.Cut) (s stiffness.Shaft, ok bool) {
	t := &c.Tool
	if t.ProtrudingLengthMM == nil {
		return s, false
	}
	s = stiffness.Shaft{LengthMM: *t.ProtrudingLengthMM, ModulusGPa: value(t.ElasticModulusGPa, modulus(c))}
	if c.Operation.Family != cut.MillingFamily {
		if t.ShankDiameterMM == nil {
			return s, false
		}
		s.RootDiameterMM, s.TipDiameterMM = *t.ShankDiameterMM, *t.ShankDiameterMM
		return s, true
	}
	if !solid(c) && t.ShankDiameterMM == nil {
		return s, false // an arbor is not as thick as its cutter
	}
	// the force acts half way along the edges in cut
	half := min(DepthMM(c), s.LengthMM) / 2
	d := *t.CuttingDiameterMM
	s.RootDiameterMM = value(t.ShankDiameterMM, d)
	s.TipDiameterMM, s.TipLengthMM = stiffness.CoreRatio*d, max(0, min(s.LengthMM, fluted(t))-half)
	s.LengthMM -= half
	return s, true
}

// fluted is how far a milling cutter is only as thick as its core: over its edges, else
// over its usable length, else all the way.
func fluted(t *tool.Tool) float64 {
	return value(t.MaxDepthOfCutMM, value(t.UsableLengthMM, *t.ProtrudingLengthMM))
}

// assumeShaft lists what was taken for granted about the tool as a cantilever.
func (e *Estimate) assumeShaft(s *stiffness.Shaft) {
	c, t := e.Cut, &e.Cut.Tool
	if t.ElasticModulusGPa == nil {
		e.assume("tool.elastic_modulus", unit.Modulus, s.ModulusGPa, "usual for the tool's body")
	}
	if c.Operation.Family != cut.MillingFamily {
		return
	}
	if t.ShankDiameterMM == nil {
		e.assume("tool.shank_diameter", unit.Length, s.RootDiameterMM, "as thick as the cutter")
	}
	if t.MaxDepthOfCutMM == nil {
		e.assume("tool.max_depth_of_cut", unit.Length, min(*t.ProtrudingLengthMM, fluted(t)), "how far flutes weaken the tool")
	}
}

// solid reports rotating tools that are one piece with their shank.
func solid(c *cut.Cut) bool {
	switch c.Tool.Class.ID {
	case "mill-face", "mill-high-feed", "boring-head", "drill-exchangeable-tip", "drill-indexable", "drill-gun":
		return false
	}
	return true
}

// modulus is that of the body: as it is named, else carbide for a solid tool of carbide.
func modulus(c *cut.Cut) float64 {
	carbide := c.Tool.Body == "carbide" || c.Tool.Body == "" && c.Operation.Family != cut.TurningFamily && solid(c) &&
		c.Tool.Material != "HSS" && strings.HasPrefix(c.Tool.Material, "H")
	if carbide {
		return stiffness.CarbideGPa
	}
	return stiffness.SteelGPa
}

// deflect bends tool and wall.
func (e *Estimate) deflect() {
	c := e.Cut
	side, ok := e.SideForceN()
	if ok {
		if shaft, known := ShaftOf(c); known {
			e.Deflection.ToolMM = unit.Some(shaft.DeflectionMM(side))
			e.assumeShaft(&shaft)
			e.uses(domain.Used{ID: "common-practice", Basis: domain.CommonPractice, UsedFor: "stiffness of the tool: core and modulus"})
		} else {
			e.unchecked("tool_deflection", "tool.protruding_length and tool.shank_diameter")
		}
	}
	w := c.Wall
	if w == nil {
		return
	}
	modulus, known := elasticModulus(c)
	switch {
	case c.Operation.Family != cut.MillingFamily:
		e.unchecked("wall_deflection", "a milling cut along the wall")
	case !ok:
		e.unchecked("wall_deflection", "a side force: a force record of this metal and a cut that pushes aside")
	case !known || w.HeightMM == nil || w.ThicknessMM == nil || w.WidthMM == nil:
		e.unchecked("wall_deflection", "wall.height, wall.thickness, wall.width and the metal's elastic modulus")
	default:
		wall := stiffness.Wall{HeightMM: *w.HeightMM, ThicknessMM: *w.ThicknessMM, WidthMM: *w.WidthMM, ModulusGPa: modulus}
		e.Deflection.WallMM = unit.Some(wall.DeflectionMM(side))
		if c.Target.ToleranceMM == nil {
			e.unchecked("wall_deflection", "target.tolerance to hold it against")
		}
	}
}

// elasticModulus is that of the work.
func elasticModulus(c *cut.Cut) (gpa float64, ok bool) {
	if c.Material.Grade == nil {
		return 0, false
	}
	for i := range c.Material.Grade.Physical {
		if p := &c.Material.Grade.Physical[i]; p.Name == "elastic_modulus" {
			return p.Value.Amount, true
		}
	}
	return 0, false
}
