package api

import (
	"iter"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// toolSheets are the tables of tool classes.
func toolSheets() []catalogSheet {
	return []catalogSheet{
		sheetOf("tools", "tool geometry classes: what each does, and of what its edge is", "id name operations tool_material", ties[wire.ToolRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.ToolRow] {
				return each(snap.Classes(), toolRow)
			},
			find: func(snap *catalog.Snapshot, r *wire.ToolRow) *wire.ToolRow { return found(snap.Class, r.ID, toolRow) },
			key:  func(r *wire.ToolRow) string { return r.ID }, take: (*importer).tool,
		}),
		sheetOf("tool-properties", "properties of tool classes: what is taken when a request leaves them out, and what they may be", "class name quantity unit low high", ties[wire.ToolPropertyRow]{
			all: func(snap *catalog.Snapshot, system unit.System) iter.Seq[*wire.ToolPropertyRow] {
				return parts(snap.Classes(), func(c *tool.Class) []wire.ToolPropertyRow { return toolPropertyRows(c, system) })
			},
			find: func(snap *catalog.Snapshot, r *wire.ToolPropertyRow) *wire.ToolPropertyRow {
				c, ok := snap.Class(r.Class)
				if !ok {
					return nil
				}
				for _, row := range toolPropertyRows(c, unit.Metric) {
					if row.Name == r.Name {
						return &row
					}
				}
				return nil
			},
			key: func(r *wire.ToolPropertyRow) string { return r.Class + "|" + r.Name },
			metric: func(r *wire.ToolPropertyRow) {
				if q, known := unit.Named(r.Quantity); known {
					turn(q, &r.Unit, r.Low, r.High, r.Default)
				}
			},
			take: (*importer).toolProperty,
		}),
	}
}

func toolRow(c *tool.Class) *wire.ToolRow {
	return &wire.ToolRow{ID: c.ID, Name: c.Name, Operations: c.Operations, Edge: string(c.Edge), ToolMaterial: c.ToolMaterial, Note: c.Note}
}

func toolPropertyRows(c *tool.Class, system unit.System) []wire.ToolPropertyRow {
	rows := make([]wire.ToolPropertyRow, len(c.Properties))
	for i := range c.Properties {
		p := &c.Properties[i]
		rows[i] = wire.ToolPropertyRow{Class: c.ID, Quantity: p.Quantity.Name(), ToolProperty: toolPropertyToWire(p, system)}
	}
	return rows
}

// class is a class that may be changed: one taken up before, or a copy of the one on
// record.
func (im *importer) class(id string) *tool.Class {
	if c := im.classes.byID[id]; c != nil {
		return c
	}
	own := tool.Class{ID: id}
	if c, ok := im.snap.Class(id); ok {
		own = *c
		own.Properties = append([]tool.Property(nil), c.Properties...)
	}
	return &own
}

// tool takes up a tool class; its properties stay.
func (im *importer) tool(r *wire.ToolRow, l *line) {
	l.plainID("id", r.ID)
	c := l.checker()
	class := im.class(r.ID)
	class.Name, class.Operations, class.Edge, class.Note = c.text("name", r.Name, longestName), r.Operations, tool.Edge(r.Edge), c.text("note", r.Note, longestNote)
	class.ToolMaterial = c.word("tool_material", r.ToolMaterial, tool.Materials...)
	for _, name := range r.Operations {
		if _, ok := cut.Find(name); !ok {
			c.faults.Any(fault(domain.Invalid, "operation-unknown", "operations", "there is no operation "+quoteClipped(name), "take some of "+strings.Join(cut.Names(), ", ")))
		}
	}
	l.end(c, func() { im.classes.put(r.ID, class) })
}

// toolProperty takes up a property of a class, in its place when it is there. A request
// can give only properties that tools have on the wire.
func (im *importer) toolProperty(r *wire.ToolPropertyRow, l *line) {
	if _, known := im.Class(r.Class); !known {
		l.fault(fault(domain.Invalid, "tool-class-unknown", "class", "there is no tool class "+quoteClipped(r.Class), "add it to the sheet tools first"))
		return
	}
	c := l.checker()
	quantity, known := unit.Named(r.Quantity)
	if !known {
		l.fault(fault(domain.Invalid, "value-out-of-range", "quantity", quoteClipped(r.Quantity)+" is no quantity", "write length, angle, none or another that the export has"))
		return
	}
	own, isOwn := tool.PropertyQuantity(r.Name)
	if !isOwn {
		l.fault(fault(domain.Invalid, "value-out-of-range", "name", "tools have no property "+quoteClipped(r.Name), "take the name of a member of tool"))
		return
	}
	if own != quantity {
		l.fault(fault(domain.Invalid, "fields-conflict", "quantity", r.Name+" is a "+own.Name(), "write "+own.Name()))
		return
	}
	p := tool.Property{Name: r.Name, Code: c.text("code", r.Code, longestName), Quantity: quantity}
	for _, end := range []struct {
		field string
		v     *wire.Amount
		into  *unit.Opt
	}{{"low", r.Low, &p.Low}, {"high", r.High, &p.High}, {"default", r.Default, &p.Default}} {
		if end.v != nil {
			if v, ok := c.inUnit(end.field, float64(*end.v), r.Unit, quantity); ok {
				*end.into = unit.Some(v)
			}
		}
	}
	outOfOrder := func(field string, v, limit unit.Opt, fix string) {
		if v.OK && limit.OK && v.V > limit.V {
			c.faults.Range(field, "{value} is above {limit}", unit.Of(quantity, v.V), unit.Of(quantity, limit.V), fix)
		}
	}
	outOfOrder("low", p.Low, p.High, "low comes first")
	outOfOrder("default", p.Default, p.High, "stay up to high")
	outOfOrder("low", p.Low, p.Default, "begin at or below the default")
	l.end(c, func() {
		class := im.class(r.Class)
		place(&class.Properties, p, func(o *tool.Property) bool { return o.Name == p.Name })
		im.classes.put(r.Class, class)
	})
}
