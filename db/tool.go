package db

import (
	"fmt"

	"swarf/domain/tool"
	"swarf/domain/unit"
)

type classRow struct {
	ID           string    `json:"id"`
	Name         string    `json:"name"`
	Operations   list      `json:"operations"`
	Edge         tool.Edge `json:"edge"`
	ToolMaterial string    `json:"tool_material"`
	Note         string    `json:"note"`
}

type classPropertyRow struct {
	ClassID  string   `json:"class_id"`
	Position int      `json:"position"`
	Name     string   `json:"name"`
	Code     string   `json:"code"`
	Quantity string   `json:"quantity"`
	Default  unit.Opt `json:"default_value"`
	Low      unit.Opt `json:"low_value"`
	High     unit.Opt `json:"high_value"`
}

func (r *rows) addClass(c *tool.Class) {
	r.classes = append(r.classes, classRow{ID: c.ID, Name: c.Name, Operations: c.Operations, Edge: c.Edge, ToolMaterial: c.ToolMaterial, Note: c.Note})
	for i, p := range c.Properties {
		r.classProps = append(r.classProps, classPropertyRow{
			ClassID: c.ID, Position: i + 1, Name: p.Name, Code: p.Code, Quantity: p.Quantity.Name(),
			Default: p.Default, Low: p.Low, High: p.High,
		})
	}
}

// classList puts the tool classes together again.
func (r *rows) classList() ([]tool.Class, error) {
	list := make([]tool.Class, 0, len(r.classes))
	at := make(map[string]int, len(r.classes))
	for _, x := range r.classes {
		at[x.ID] = len(list)
		list = append(list, tool.Class{ID: x.ID, Name: x.Name, Operations: x.Operations.entries(), Edge: x.Edge, ToolMaterial: x.ToolMaterial, Note: x.Note})
	}
	for _, x := range r.classProps {
		i, there := at[x.ClassID]
		quantity, known := unit.Named(x.Quantity)
		if !there || !known {
			return nil, fmt.Errorf("tool class %s, %s: the class is not there, or quantity %q is not known", x.ClassID, x.Name, x.Quantity)
		}
		list[i].Properties = append(list[i].Properties, tool.Property{
			Name: x.Name, Code: x.Code, Quantity: quantity, Default: x.Default, Low: x.Low, High: x.High,
		})
	}
	return list, nil
}
