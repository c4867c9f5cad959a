package b2mml

import (
	"fmt"
	"strings"

	"swarf/api/wire"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// usual are the members of an answer that a work master carries unless the caller names
// others: what to set, what it loads and how long it takes. Findings stand in the description.
var usual = []string{"units", "data_revision", "model_version", "verdict", "operation", "bound_by", "engagement", "parameters",
	"loads.cutting_force", "loads.feed_force", "loads.passive_force", "loads.torque", "loads.torque_peak", "loads.cutting_power", "loads.removal_rate",
	"loads_worn.torque", "loads_worn.cutting_power", "machine.rating", "machine.gear", "machine.motor_power", "time.cutting", "time.total", "finish", "tool_life", "cost"}

// OfAnswer makes a work master of the answer to one cut. Selected is what the caller asked for
// with fields, nil for what is usual.
func OfAnswer(a *wire.Answer, selected *wire.Selection, system unit.System) (*WorkMaster, error) {
	return ofAnswer(a, a.Ref, selected, system)
}

func ofAnswer(a *wire.Answer, id string, selected *wire.Selection, system unit.System) (*WorkMaster, error) {
	if selected == nil {
		var bad []wire.InputFault
		if selected, bad = wire.Select(usual, a); len(bad) > 0 {
			return nil, fmt.Errorf("b2mml: %v", bad)
		}
	}
	leaves, err := selected.Leaves(a, system)
	if err != nil {
		return nil, err
	}
	m := &WorkMaster{ID: id, Version: version(a.DataRevision), Description: warnings(a.Verdict, a.Findings), Material: material(&a.Material)}
	if m.ID == "" {
		m.ID = a.Operation
	}
	for _, l := range leaves {
		m.Parameters = append(m.Parameters, parameter(l, system))
	}
	m.Parameters = append(m.Parameters, toolOf(a.Tool, system)...)
	if a.Machine != nil && a.Machine.ID != "" {
		m.Equipment = []EquipmentSpecification{{ID: "machine", EquipmentID: a.Machine.ID}}
	}
	if a.Time != nil {
		m.Duration = duration(a.Time.Total)
	}
	return m, nil
}

// OfPlan makes a work master of a routing, a child for each cut. Selected is what the caller
// asked for of the routing as a whole.
func OfPlan(p *wire.Plan, selected *wire.Selection, system unit.System) (*WorkMaster, error) {
	m := &WorkMaster{ID: "plan", Version: version(p.DataRevision)}
	var findings []wire.Finding
	for i := range p.Findings {
		findings = append(findings, p.Findings[i].Finding)
	}
	m.Description = warnings(p.Verdict, findings)
	if selected == nil {
		var bad []wire.InputFault
		if selected, bad = wire.Select([]string{"purpose", "machines", "edges", "unchecked"}, p); len(bad) > 0 {
			return nil, fmt.Errorf("b2mml: %v", bad)
		}
	}
	leaves, err := selected.Leaves(p, system)
	if err != nil {
		return nil, err
	}
	for _, l := range leaves {
		m.Parameters = append(m.Parameters, parameter(l, system))
	}
	for i := range p.Cuts {
		c := &p.Cuts[i]
		child, err := ofAnswer(c.Answer, fmt.Sprint(c.Ref), nil, system)
		if err != nil {
			return nil, err
		}
		if c.Machine != nil {
			child.Equipment = []EquipmentSpecification{{ID: "machine", EquipmentID: fmt.Sprint(c.Machine)}}
		}
		child.Parameters = append(child.Parameters, Parameter{ID: "count", Value: Value{Text: wire.Decimal(c.Count), Type: "double"}})
		if c.Setup != "" {
			child.Parameters = append(child.Parameters, Parameter{ID: "setup", Value: Value{Text: c.Setup, Type: "string"}})
		}
		child.Duration = ""
		if c.Time != nil {
			child.Duration = duration(c.Time.Total)
		}
		m.Children = append(m.Children, child)
	}
	return m, nil
}

// toolOf lists the tool, by readable names; what a name is in ISO 13399 stands beside it.
func toolOf(t *wire.ToolUsed, system unit.System) []Parameter {
	if t == nil {
		return nil
	}
	list := []Parameter{{ID: "tool.class", Value: Value{Text: t.Class, Type: "string"}}}
	for _, p := range t.Properties {
		q, _ := tool.PropertyQuantity(p.Name)
		one := parameter(wire.Leaf{Path: "tool." + p.Name, Value: wire.Decimal(float64(p.Value)), Unit: q}, system)
		if p.Code != "" {
			one.Description = "ISO 13399: " + p.Code
		}
		list = append(list, one)
	}
	return list
}

// version is the revision of the data, so that a work master says what it was made from.
func version(revision int64) string {
	if revision == 0 {
		return ""
	}
	return fmt.Sprintf("data revision %d", revision)
}

// warnings puts the verdict and what stands against it where a person sees them first. The
// numbers are starting values; a skilled person decides.
func warnings(verdict string, findings []wire.Finding) []string {
	list := []string{"Verdict: " + verdict + ". Starting values; a skilled person decides, and the limits of machine, tool and clamping come first."}
	for _, f := range findings {
		if f.Severity == "refusal" || f.Severity == "hold" || f.Severity == "warning" {
			text := f.Severity + " " + f.Code + ": " + f.Message
			if f.Fix != "" {
				text += " (" + f.Fix + ")"
			}
			list = append(list, text)
		}
	}
	return list
}

// material names the work material, by its id or, for a what-if answer, its group of ISO 513.
func material(m *wire.WorkMaterial) []MaterialSpecification {
	s := MaterialSpecification{ID: "work-material", DefinitionID: m.ID}
	if m.ID == "" {
		s.ClassID = m.Group
	}
	if m.Name != "" {
		s.Description = append(s.Description, strings.TrimSpace(m.Name+" "+m.Condition))
	}
	return []MaterialSpecification{s}
}
