package api

import (
	"reflect"
	"slices"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// propertyCodes is the one vocabulary of tool properties that answers can show.
const propertyCodes = "iso13399"

// propertySymbols are the symbols of tool properties by readable name.
var propertySymbols = func() map[string]string {
	symbols := map[string]string{}
	for _, p := range wire.Properties(reflect.TypeFor[wire.Tool]()) {
		symbols[p.Name] = p.Codes[0]
	}
	return symbols
}()

// wantsCodes reads the parameter codes.
func (x *exchange) wantsCodes(faults *cut.Faults) bool {
	switch asked := x.query.text("codes"); {
	case asked == "":
		return false
	case !slices.Contains(x.route.query, "codes"):
		faults.Any(unknownParameter("codes", x.route.known()))
		return false
	case asked != propertyCodes:
		faults.Any(fault(domain.Invalid, "value-out-of-range", "codes", "there are no codes "+quoteClipped(asked), "say "+propertyCodes))
		return false
	}
	return true
}

// toolUsed lists what is known of a tool, readable name and symbol side by side.
func toolUsed(t *tool.Tool, system unit.System) *wire.ToolUsed {
	out := &wire.ToolUsed{Properties: []wire.PropertyUsed{}}
	if t.Class != nil {
		out.Class = t.Class.ID
	}
	for _, f := range tool.Fields {
		value := *f.Of(t)
		if value == nil {
			continue
		}
		p := wire.PropertyUsed{Name: f.Name, Code: codeOf(t.Class, f.Name), Value: wire.Amount(f.Quantity.FromMetric(system, *value))}
		if f.Quantity != unit.None {
			p.Unit = f.Quantity.Code(system)
		}
		out.Properties = append(out.Properties, p)
	}
	return out
}

// codeOf is the symbol of a property: the class's own, for a rake angle has two, or the
// first by which it may be sent.
func codeOf(class *tool.Class, name string) string {
	if class != nil {
		if p, ok := class.Property(name); ok && p.Code != "" {
			return p.Code
		}
	}
	return propertySymbols[name]
}
