package cut

import (
	"strings"

	"swarf/domain"
	"swarf/domain/unit"
)

// Purpose says what a cut is checked for: estimates need every parameter,
// recommendations choose those that are left out.
type Purpose uint8

// The purposes.
const (
	ToEstimate Purpose = iota
	ToRecommend
)

// Check completes a cut with its defaults and returns every fault of it: members
// that are missing, foreign, out of range or impossible together.
//
// Errors: domain.Errors with dotted fields, never nil-but-faulty.
func Check(c *Cut, purpose Purpose) domain.Errors {
	var f Faults
	if c.Operation != nil {
		checkMembers(c, purpose, &f)
	}
	checkTool(c, &f)
	checkParameters(c, purpose, &f)
	checkForceData(c.Force, &f)
	checkSurroundings(c, &f)
	if len(f.List) == 0 && c.Operation != nil && c.Tool.Class != nil {
		c.Operation.Check(c, &f)
	}
	return f.List
}

// hair is what two equal lengths may differ by, one of them turned from inches.
const hair = 1 + 1e-9

// inside reports a number outside its bounds.
func inside(f *Faults, parent, name string, q unit.Quantity, b bounds, v *float64) bool {
	if v == nil {
		return true
	}
	x := *v
	if x < b.low || x == b.low && b.openLow || x > b.high || x != x {
		limit := b.low
		msg := " is {value}; it must be at least {limit}"
		fix := "send a number from {limit} up"
		switch {
		case x > b.high:
			limit, msg, fix = b.high, " is {value}; more than {limit} cannot be meant", "check the unit; send at most {limit}"
		case b.openLow:
			msg, fix = " is {value}; it must be above {limit}", "send a number above {limit}"
		}
		f.Range(parent+name, name+msg, unit.Of(q, x), unit.Of(q, limit), fix)
		return false
	}
	return true
}

// chosen lists members that a recommendation may choose when they are left out.
var chosen = map[string]bool{"depth_of_cut": true, "axial_depth": true, "radial_width": true, "step_over": true, "tilt_angle": true, "passes": true}

func checkMembers(c *Cut, purpose Purpose, f *Faults) {
	o := c.Operation
	for i := range members {
		m := &members[i]
		v := m.of(&c.Engagement)
		if v == nil {
			continue
		}
		if !o.Has(m.name) {
			f.Unknown("engagement."+m.name, m.name+" is not a member of "+o.Name, "remove it; "+o.Name+" takes "+strings.Join(o.memberNames(), ", "))
			continue
		}
		inside(f, "engagement.", m.name, m.quantity, m.bounds, v)
	}
	for _, g := range flags {
		if g.given(&c.Engagement) && !o.Has(g.name) {
			f.Unknown("engagement."+g.name, g.name+" is not a member of "+o.Name, "remove it; "+o.Name+" takes "+strings.Join(o.memberNames(), ", "))
		}
	}
	for _, name := range o.Required {
		if !c.Engagement.has(name) && !(purpose == ToRecommend && chosen[name]) {
			f.Missing("engagement."+name, o.Name+" needs "+name)
		}
	}
	for _, list := range o.OneOf {
		found := false
		for _, name := range list {
			found = found || c.Engagement.has(name)
		}
		if !found {
			f.Alternative("engagement", o.Name+" needs one of "+strings.Join(list, ", "), "give one of "+strings.Join(list, ", "))
		}
	}
}

func (e *Engagement) has(name string) bool {
	for i := range members {
		if members[i].name == name {
			return members[i].of(e) != nil
		}
	}
	for _, g := range flags {
		if g.name == name {
			return g.given(e)
		}
	}
	return false
}

func (o *Operation) memberNames() []string {
	names := append([]string{}, o.Required...)
	for _, list := range o.OneOf {
		names = append(names, list...)
	}
	return append(names, o.Optional...)
}

func checkForceData(d *ForceData, f *Faults) {
	if d == nil {
		return
	}
	pair, mc, energy := d.SpecificCuttingForce11NPerMM2, d.ChipThicknessExp, d.SpecificEnergyJPerMM3
	switch {
	case energy != nil && (pair != nil || mc != nil):
		f.Conflict("force_data", "a force pair and a specific energy exclude each other")
	case pair != nil && mc == nil:
		f.Missing("force_data.chip_thickness_exponent", "specific_cutting_force_1_1 needs its chip_thickness_exponent beside it")
	case mc != nil && pair == nil:
		f.Missing("force_data.specific_cutting_force_1_1", "chip_thickness_exponent needs its specific_cutting_force_1_1 beside it")
	}
	inside(f, "force_data.", "specific_cutting_force_1_1", unit.SpecificForce, bounds{1, 20_000, false}, pair)
	inside(f, "force_data.", "chip_thickness_exponent", unit.None, bounds{0, 0.9, false}, mc)
	inside(f, "force_data.", "specific_cutting_energy", unit.SpecificEnergy, bounds{0.01, 50, false}, energy)
	inside(f, "force_data.", "wear_factor", unit.None, bounds{1, 5, false}, d.WearRatio)
	inside(f, "force_data.", "drill_work_factor", unit.None, bounds{100, 200_000, false}, d.DrillWorkFactor)
	inside(f, "force_data.", "spread", unit.None, bounds{0, 1, false}, d.SpreadRatio)
}

func checkSurroundings(c *Cut, f *Faults) {
	if c.Confidence < 0.5 || c.Confidence > 0.99 {
		f.Range("confidence", "confidence is {value}; it is a probability from 0.5 to 0.99", unit.Of(unit.None, c.Confidence), nil, "send a number from 0.5 to 0.99")
	}
	inside(f, "coolant.", "pressure", unit.Pressure, bounds{0, 2000, false}, c.Coolant.PressureBar)
	if c.Duty != nil {
		inside(f, "duty.", "cutting_minutes", unit.None, bounds{0, 100_000, true}, &c.Duty.CuttingMinutes)
		inside(f, "duty.", "cycle_minutes", unit.None, bounds{0, 100_000, true}, &c.Duty.CycleMinutes)
		if c.Duty.CycleMinutes > 0 && c.Duty.CuttingMinutes > c.Duty.CycleMinutes {
			f.Conflict("duty", "cutting_minutes is longer than cycle_minutes")
		}
	}
	inside(f, "target.", "tool_life", unit.Time, bounds{0, 100_000, true}, c.Target.ToolLifeMinutes)
	inside(f, "target.", "tolerance", unit.Length, bounds{0, 1000, true}, c.Target.ToleranceMM)
	inside(f, "target.", "ra", unit.Roughness, bounds{0, 10_000, true}, c.Target.RaUM)
	inside(f, "target.", "rz", unit.Roughness, bounds{0, 10_000, true}, c.Target.RzUM)
	if r := c.Rates; r != nil {
		perHour := r.MachineCostPerMin * 60
		inside(f, "rates.", "machine_rate", unit.None, bounds{0, 1e9, true}, &perHour)
		inside(f, "rates.", "edge_cost", unit.None, bounds{0, 1e9, false}, &r.EdgeCost)
		inside(f, "rates.", "change_time", unit.Time, bounds{0, 10_000, false}, &r.ChangeMinutes)
	}
	inside(f, "stock.", "skin_depth", unit.Length, sizeOrZero, c.Stock.SkinDepthMM)
	if d := c.Stock.Certificate; d != nil {
		inside(f, "stock.certificate.", "tensile_strength", unit.SpecificForce, bounds{50, 3500, false}, d.TensileStrengthNPerMM2)
		inside(f, "stock.certificate.", "elongation", unit.None, bounds{0, 100, false}, d.ElongationPercent)
	}
	if w := c.Wall; w != nil {
		inside(f, "wall.", "height", unit.Length, size, w.HeightMM)
		inside(f, "wall.", "thickness", unit.Length, size, w.ThicknessMM)
		inside(f, "wall.", "width", unit.Length, size, w.WidthMM)
	}
	if r := c.Rotary; r != nil {
		inside(f, "rotary.", "degrees_per_length", unit.AnglePerLength, bounds{0, 1e6, false}, r.DegPerMM)
		inside(f, "rotary.", "max_rate", unit.AngleRate, bounds{0, 1e6, true}, r.MaxRateDegPerMin)
	}
	inside(f, "control.", "speed_resolution", unit.Rotation, bounds{0, 1000, true}, c.Control.SpeedResolutionPerMin)
	inside(f, "control.", "feed_resolution", unit.FeedRate, bounds{0, 1000, true}, c.Control.FeedResolutionMMPerMin)
}
