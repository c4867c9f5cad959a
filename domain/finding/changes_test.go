package finding_test

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// stainless makes a cut's work austenitic, annealed, named with its condition.
func stainless(c *cut.Cut) {
	annealed := &material.Condition{Name: "annealed", Hardness: material.HardnessRange{Low: 130, High: 215, Scale: material.HBW}}
	c.Material.Group, c.Material.Subgroup = material.M, material.Austenitic
	c.Material.Grade = &material.Material{ID: "a", Group: material.M, Subgroup: material.Austenitic}
	c.Material.Condition = annealed
}

func magnesium(c *cut.Cut) {
	c.Material.Group, c.Material.Subgroup = material.N, material.Magnesium
	c.Material.Grade = &material.Material{ID: "mg", Group: material.N, Subgroup: material.Magnesium, Cautions: []string{"combustible-fines"}}
}

func class(id string, edge tool.Edge, operations ...string) *tool.Class {
	return &tool.Class{ID: id, Edge: edge, Operations: operations, ToolMaterial: "HC"}
}

func on(m *machine.Machine, more ...func(*machine.Machine)) func(*cut.Cut) {
	for _, change := range more {
		change(m)
	}
	return func(c *cut.Cut) { c.Machine = m }
}

// demandNm is the torque of a sample, to set machines by.
func demandNm(make func() *cut.Cut) float64 { return estimate.Of(make()).Sharp.TorqueNm }

func both(changes ...func(*cut.Cut)) func(*cut.Cut) {
	return func(c *cut.Cut) {
		for _, change := range changes {
			change(c)
		}
	}
}

func indexable(c *cut.Cut) {
	c.Tool.Class = class("drill-indexable", tool.Honed, "drilling")
	c.Tool.PointAngleDeg, c.Tool.EffectiveEdgesCount = n(180), n(1)
}

func lathe(m *machine.Machine) { m.Process = machine.Turning }

// plainPower makes a machine that only power limits, for S1 and 1.3 times that for S6-40.
func plainPower(kw float64) *machine.Machine {
	m := spindle(kw/0.9, 5000, 20000)
	m.Spindle.IdlePowerKW = 0
	m.Spindle.Gears = m.Spindle.Gears[1:]
	return m
}

// rival is a competing record whose force is so many times that of the sample's.
func rival(times float64) *material.Force {
	r := *work().Force.Served
	r.ID, r.SpecificCuttingForce11NPerMM2 = "rival", unit.Some(1800*times)
	return &r
}

// starting gives the cut a starting record for its speed.
func starting(low, high float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Material.Starting.Served = &material.Starting{Speed: domain.Range{Low: unit.Some(low), High: unit.Some(high)}}
	}
}

// reaming opens a hole of a diameter to 12 mm.
func reaming(start float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation, c.Tool.Class = operation("reaming"), class("reamer", tool.Ground, "reaming")
		c.Engagement.StartDiameterMM = n(start)
	}
}

// boring opens a hole of a diameter to 12 mm with one edge.
func boring(start float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation, c.Tool.Class = operation("boring-rotating"), class("boring-head", tool.Honed, "boring-rotating")
		c.Tool.CuttingEdgeAngleDeg, c.Tool.EffectiveEdgesCount = n(90), n(1)
		c.Engagement.StartDiameterMM = n(start)
	}
}

// grooving plunges so deep with a blade that reaches 10 mm, 50 mm for parting.
func grooving(name string, depth float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation, c.Tool.Class = operation(name), class("turning-"+name, tool.Honed, name)
		c.Tool.CuttingEdgeAngleDeg, c.Tool.CornerRadiusMM, c.Tool.MaxCuttingDepthMM = n(90), nil, n(10)
		if name == "parting" {
			c.Tool.MaxCuttingDepthMM = n(50)
		}
		c.Engagement = cut.Engagement{WorkDiameterMM: n(80), WidthMM: n(3), DepthMM: n(depth)}
	}
}

func faceGroove(first float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		grooving("grooving", 5)(c)
		c.Engagement.Direction, c.Engagement.WorkDiameterMM, c.Tool.GrooveDiameterMinMM = "axial", n(first), n(80)
	}
}

func facing(c *cut.Cut) { c.Operation = operation("facing") }

// threadMill cuts an internal thread of a diameter with the 12 mm cutter.
func threadMill(diameter float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		yes := true
		c.Operation, c.Tool.Class = operation("thread-milling"), class("mill-thread", tool.Ground, "thread-milling")
		c.Engagement = cut.Engagement{StartDiameterMM: n(diameter - 2), EndDiameterMM: n(diameter), Internal: &yes, PitchMM: n(2)}
	}
}

// chain drills a slot with the 12 mm drill at a pitch.
func chain(pitch float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation = operation("chain-drilling")
		c.Engagement = cut.Engagement{SlotWidthMM: n(14), SlotLengthMM: n(60), SlotDepthMM: n(20), PitchMM: n(pitch), WallAllowanceMM: n(1), FloorAllowanceMM: n(0)}
	}
}

// bore goes round inside 57 mm on a helix of a pitch, with a tool that goes down so steep.
func bore(pitch, steepest float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		yes := true
		c.Operation, c.Tool.Class = operation("circular-milling"), class("mill-end", tool.Ground, "circular-milling")
		c.Tool.MaxRampAngleDeg = n(steepest)
		c.Engagement = cut.Engagement{StartDiameterMM: n(50), EndDiameterMM: n(57), Internal: &yes, PitchMM: n(pitch)}
	}
}

// plunge feeds the 12 mm cutter, which has no edge at its axis, down a band so wide.
func plunge(width float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		no := false
		c.Operation, c.Tool.Class, c.Tool.CentreCutting = operation("plunge-milling"), class("mill-end", tool.Ground, "plunge-milling"), &no
		c.Engagement = cut.Engagement{AxialDepthMM: n(30), RadialWidthMM: n(width)}
	}
}

// ball runs a ball of 10 mm, 0.2 mm deep, at a tilt.
func ball(tilt float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation, c.Tool.Class = operation("ball-milling"), class("mill-ball", tool.Ground, "ball-milling")
		c.Tool.CuttingDiameterMM = n(10)
		c.Engagement = cut.Engagement{AxialDepthMM: n(0.2), StepOverMM: n(0.3), TiltAngleDeg: n(tilt)}
	}
}

// chamfer takes a corner off with the 12 mm cutter.
func chamfer(width float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Operation, c.Tool.Class = operation("chamfer-milling"), class("mill-chamfer", tool.Ground, "chamfer-milling")
		c.Tool.CuttingEdgeAngleDeg = n(45)
		c.Engagement = cut.Engagement{ChamferWidthMM: n(width), ChamferAngleDeg: n(45)}
	}
}

// corner leads the 12 mm cutter through an inside corner of the wall.
func corner(radius float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Engagement.PathRadiusMM = n(radius) }
}

// rotary turns an axis by a degree per millimetre, at most so fast.
func rotary(rate float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Rotary = &cut.Rotary{DegPerMM: n(1), MaxRateDegPerMin: n(rate)} }
}

// Threads: M10x1.5 tapped and formed, and one of pitch 3 turned in passes.
func tapped() *cut.Cut       { return cuttest.Of("tapping") }
func formed() *cut.Cut       { return cuttest.Of("thread-forming") }
func turnedThread() *cut.Cut { return cuttest.Of("thread-turning") }

func hole(diameter float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Engagement.HoleDiameterMM = n(diameter) }
}

func passes(count float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Engagement.PassesCount = n(count) }
}

func inStep(yes bool) func(*machine.Machine) {
	return func(m *machine.Machine) { m.SynchronousTapping = &yes }
}

// stuckOut holds the 12 mm cutter at a length and asks for 0.1 mm.
func stuckOut(length float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Tool.ProtrudingLengthMM, c.Target.ToleranceMM = n(length), n(0.1) }
}

// wall is 3 mm thick, so high, of steel, and wanted to 0.1 mm.
func wall(height float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Material.Grade.Physical = []material.Property{{Name: "elastic_modulus", Value: unit.Measure{Amount: 210, Quantity: unit.Modulus}}}
		c.Wall = &cut.Wall{HeightMM: n(height), ThicknessMM: n(3), WidthMM: n(20)}
		c.Target.ToleranceMM = n(0.1)
	}
}

// gripped holds the 80 mm bar with a chuck of three jaws.
func gripped(static float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.WorkHolding = &machine.WorkHolding{StaticGripN: unit.Some(static), FrictionRatio: unit.Some(0.2), GripDiameterMM: unit.Some(80), SafetyRatio: unit.Some(2),
			JawsCount: unit.Some(3), JawMassKg: unit.Some(2), JawRadiusMM: unit.Some(70)}
	}
}

// assumed says that a member of the tool is the class's default.
func assumed(field string) func(*cut.Cut) {
	return func(c *cut.Cut) { c.Assumed = append(c.Assumed, domain.Assumption{Field: field}) }
}

// chuck turns at most so fast.
func chuck(speed float64) func(*cut.Cut) {
	return func(c *cut.Cut) { c.WorkHolding.MaxSpeedPerMin = unit.Some(speed) }
}

// bar is 10 mm thick, made of a body, and stands out so far.
func bar(body string, length float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Tool.Body, c.Tool.ShankDiameterMM, c.Tool.ProtrudingLengthMM = body, n(10), n(length)
	}
}

func boredInside(c *cut.Cut) {
	c.Operation, c.Tool.Class = operation("boring-internal"), class("turning-internal", tool.Honed, "boring-internal")
}

// gunDrill stands out so far.
func gunDrill(length float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Tool.Class = class("drill-gun", tool.Ground, "drilling")
		c.Tool.CuttingDiameterMM, c.Tool.EffectiveEdgesCount, c.Tool.PointAngleDeg = n(6), n(1), n(130)
		c.Tool.ProtrudingLengthMM, c.Parameters.FeedPerRevolutionMM = n(length), n(0.02)
	}
}

func nickel(c *cut.Cut) { c.Material.Group, c.Material.Subgroup = material.S, material.Nickel }

// brassDrill has a rake in brass.
func brassDrill(rake float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Material.Group, c.Material.Subgroup, c.Tool.RakeAngleDeg = material.N, "brass", n(rake)
	}
}

// unsafeForce makes a better record than the served one withdrawn, or none.
func unsafeForce(withdrawn bool) func(*cut.Cut) {
	return func(c *cut.Cut) {
		if withdrawn {
			c.Material.Force.Withdrawn = &material.Force{Provenance: material.Provenance{ID: "kc-own", Curation: &material.Curation{State: material.Withdrawn, Safety: true, Reason: "burst cutter"}}}
		}
	}
}

func unsafeStart(withdrawn bool) func(*cut.Cut) {
	return func(c *cut.Cut) {
		if withdrawn {
			c.Material.Starting.Withdrawn = &material.Starting{Provenance: material.Provenance{ID: "start-own", Curation: &material.Curation{State: material.Withdrawn, Safety: true, Reason: "burst cutter"}}}
		}
	}
}

// curated makes the served record a shop's own, with a life behind it.
func curated(life material.Curation) func(*cut.Cut) {
	return func(c *cut.Cut) {
		own := *c.Material.Force.Served
		own.Basis, own.Curation = domain.Shop, &life
		c.Material.Force.Served = &own
	}
}
