package data

import (
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// loadClasses reads the tool geometry classes (classes.csv) and their properties
// (class_properties.csv), which stand class by class in the order of the classes.
func loadClasses() ([]tool.Class, error) {
	t, err := ReadTable(files, "classes.csv", "id", "name", "operations", "edge", "tool_material", "note")
	if err != nil {
		return nil, err
	}
	classes := make([]tool.Class, 0, len(t.Rows))
	at := map[string]int{}
	for _, r := range t.Rows {
		class := tool.Class{
			ID:           r.Unique("id"),
			Name:         r.Need("name"),
			Operations:   r.List("operations"),
			Edge:         tool.Edge(r.OneOf("edge", string(tool.Ground), string(tool.Honed), "")),
			ToolMaterial: r.OneOf("tool_material", tool.Materials...),
			Note:         r.Text("note"),
			Revision:     1,
		}
		if len(class.Operations) == 0 {
			r.Fail("operations", "a class does at least one operation")
		}
		at[class.ID] = len(classes)
		classes = append(classes, class)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	return classes, readClassProperties(classes, at)
}

// readClassProperties puts the properties into their classes.
func readClassProperties(classes []tool.Class, at map[string]int) error {
	t, err := ReadTable(files, "class_properties.csv", "class", "name", "code", "quantity", "default", "low", "high")
	if err != nil {
		return err
	}
	for _, r := range t.Rows {
		i, known := at[r.Need("class")]
		if !known {
			r.Fail("class", "%q is no class of classes.csv", r.Text("class"))
			continue
		}
		if _, twice := classes[i].Property(r.Need("name")); twice {
			r.Fail("name", "%q stands twice in the class", r.Text("name"))
		}
		quantity, known := unit.Named(r.Need("quantity"))
		if !known {
			r.Fail("quantity", "%q is no quantity", r.Text("quantity"))
		}
		span := r.Interval(quantity, "low", "high")
		if !span.Low.OK || !span.High.OK {
			r.Fail("low", "a property needs both ends of its allowed range")
		}
		preset := r.Opt("default")
		if preset.OK && !span.Holds(preset.V) {
			r.Fail("default", "%v is outside the allowed range", preset.V)
		}
		classes[i].Properties = append(classes[i].Properties, tool.Property{
			Name: r.Text("name"), Code: r.Text("code"), Quantity: quantity,
			Default: preset, Low: span.Low, High: span.High,
		})
	}
	return t.Err()
}
