package api

import (
	"swarf/api/wire"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// listToolClasses answers GET /v1/tool-classes.
func listToolClasses(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	found, next := slice(x.snap.Classes(), p)
	out := wire.ToolClassList{
		Units:        x.system.String(),
		Items:        make([]wire.ToolClass, len(found)),
		NextCursor:   x.next(p, next),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
	}
	for i, c := range found {
		out.Items[i] = classToWire(c, x.system)
	}
	return x.conditional(&out)
}

// getToolClass answers GET /v1/tool-classes/{id}.
func getToolClass(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	c, ok := snap.Class(id)
	if !ok {
		return notFound("tool class", id, "/v1/tool-classes")
	}
	out := classToWire(c, x.system)
	out.Units, out.DataRevision, out.ModelVersion = x.system.String(), c.Revision, x.s.ModelVersion
	return x.conditional(&out)
}

func classToWire(c *tool.Class, system unit.System) wire.ToolClass {
	out := wire.ToolClass{
		ID:         c.ID,
		Name:       c.Name,
		Operations: c.Operations,
		Edge:       string(c.Edge),
		Properties: make([]wire.ToolProperty, len(c.Properties)),
		Note:       c.Note,
	}
	if out.Operations == nil {
		out.Operations = []string{}
	}
	for i := range c.Properties {
		out.Properties[i] = toolPropertyToWire(&c.Properties[i], system)
	}
	return out
}

func toolPropertyToWire(p *tool.Property, system unit.System) wire.ToolProperty {
	return wire.ToolProperty{
		Name:    p.Name,
		Code:    p.Code,
		Unit:    p.Quantity.Code(system),
		Default: amount(p.Default, p.Quantity, system),
		Low:     amount(p.Low, p.Quantity, system),
		High:    amount(p.High, p.Quantity, system),
	}
}
