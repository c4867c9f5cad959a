package cut

import (
	"swarf/domain"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

func checkParameters(c *Cut, purpose Purpose, f *Faults) {
	p := &c.Parameters
	inside(f, "parameters.", "cutting_speed", unit.Speed, bounds{0, 20_000, true}, p.CuttingSpeedMPerMin)
	inside(f, "parameters.", "spindle_speed", unit.Rotation, bounds{0, 500_000, true}, p.SpindleSpeedPerMin)
	inside(f, "parameters.", "feed_per_revolution", unit.Length, bounds{0, 50, true}, p.FeedPerRevolutionMM)
	inside(f, "parameters.", "feed_per_tooth", unit.Length, bounds{0, 20, true}, p.FeedPerToothMM)
	inside(f, "parameters.", "feed_rate", unit.FeedRate, bounds{0, 500_000, true}, p.FeedRateMMPerMin)
	speeds := count(p.CuttingSpeedMPerMin, p.SpindleSpeedPerMin)
	feeds := count(p.FeedPerRevolutionMM, p.FeedPerToothMM, p.FeedRateMMPerMin)
	if speeds > 1 {
		f.Conflict("parameters", "cutting_speed and spindle_speed are both given; one of them is wrong")
	}
	if feeds > 1 {
		f.Conflict("parameters", "more than one of feed_per_revolution, feed_per_tooth and feed_rate is given")
	}
	if purpose != ToEstimate {
		return
	}
	if speeds == 0 {
		f.Alternative("parameters", "no speed is given", "give cutting_speed or spindle_speed")
	}
	if feeds == 0 && !(c.Operation != nil && c.Operation.FeedIsPitch) {
		f.Alternative("parameters", "no feed is given", "give feed_per_revolution, feed_per_tooth or feed_rate")
	}
}

func count(values ...*float64) int {
	n := 0
	for _, v := range values {
		if v != nil {
			n++
		}
	}
	return n
}

// needs lists, by family, the tool members a computation cannot do without.
var needs = map[Family][]string{
	TurningFamily: {"effective_edges", "cutting_edge_angle"},
	MillingFamily: {"cutting_diameter", "effective_edges", "cutting_edge_angle", "flute_helix_angle"},
	HoleFamily:    {"cutting_diameter", "effective_edges", "point_angle"},
}

// toolNeeds are the tool members an operation cannot do without: a boring head has a
// cutting edge angle where drills have a point; thread and chamfer mills are taken as
// straight, a plunge cuts with the end, and a ball has every angle.
func (o *Operation) toolNeeds() []string {
	switch o.Name {
	case "boring-rotating", "thread-milling", "chamfer-milling", "plunge-milling":
		return []string{"cutting_diameter", "effective_edges", "cutting_edge_angle"}
	case "ball-milling":
		return []string{"cutting_diameter", "effective_edges"}
	case "tapping", "thread-forming":
		return nil // the tap is the thread's, flutes and lead are the usual ones
	}
	return needs[o.Family]
}

func checkTool(c *Cut, f *Faults) {
	t := &c.Tool
	for i := range tool.Fields {
		field := &tool.Fields[i]
		v := *field.Of(t)
		if v == nil {
			continue
		}
		b := toolBounds(field)
		if t.Class != nil {
			if p, ok := t.Class.Property(field.Name); ok {
				b = b.within(p)
			}
		}
		inside(f, "tool.", field.Name, field.Quantity, b, v)
	}
	if z := t.EffectiveEdgesCount; z != nil && *z >= 1 && *z != float64(int(*z)) {
		f.Range("tool.effective_edges", "effective_edges is {value}; edges are whole", unit.Of(unit.None, *z), nil, "send a whole number")
	}
	if t.Class == nil || c.Operation == nil {
		return // the fault is told where class and operation were looked up
	}
	if !t.Class.Does(c.Operation.Name) {
		f.Any(&domain.Error{Kind: domain.Invalid, Field: "tool.class", Code: "tool-class-unfit",
			Msg: t.Class.ID + " does not do " + c.Operation.Name, Fix: "use a class that does " + c.Operation.Name})
		return
	}
	edgeFromChamfer(c)
	for _, name := range c.Operation.toolNeeds() {
		complete(c, name, f)
	}
	if t.Material == "" {
		t.Material = t.Class.ToolMaterial
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "tool.tool_material", Text: t.Material, Why: "usual for the tool class"})
	}
}

// within narrows bounds to what a class allows.
func (b bounds) within(p *tool.Property) bounds {
	if p.Low.OK {
		b.low, b.openLow = p.Low.V, false
	}
	if p.High.OK {
		b.high = p.High.V
	}
	return b
}

// complete lays the class's default under a member that was left out.
func complete(c *Cut, name string, f *Faults) {
	for i := range tool.Fields {
		field := &tool.Fields[i]
		if field.Name != name {
			continue
		}
		v := field.Of(&c.Tool)
		if *v != nil {
			return
		}
		p, ok := c.Tool.Class.Property(name)
		if !ok || !p.Default.OK {
			f.Missing("tool."+name, c.Operation.Name+" needs "+name+" and "+c.Tool.Class.ID+" has no default for it")
			return
		}
		*v = &p.Default.V // the class is never written to
		c.Assumed = append(c.Assumed, domain.Assumption{Field: field.Path, Number: unit.Of(field.Quantity, p.Default.V), Why: "default of the tool class, common practice"})
		return
	}
}

// toolBounds are what a tool's number can mean at all; a class narrows them.
func toolBounds(f *tool.Field) bounds {
	switch f.Name {
	case "effective_edges":
		return bounds{1, 200, false}
	case "rake_angle":
		return bounds{-60, 60, false}
	case "flute_helix_angle":
		return bounds{0, 80, false}
	case "runout", "corner_radius":
		return sizeOrZero
	case "chisel_ratio":
		return bounds{0, 0.5, true}
	case "max_spindle_speed":
		return bounds{0, 500_000, true}
	}
	switch f.Quantity {
	case unit.Angle:
		return wide
	case unit.Modulus:
		return bounds{1, 2000, false}
	case unit.Torque:
		return bounds{0, 1e6, true}
	}
	return size
}
