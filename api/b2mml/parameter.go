package b2mml

import (
	"fmt"

	"swarf/api/wire"
	"swarf/domain/unit"
)

// The code lists that units are taken from. Agency 6 is UN/ECE in the list of agencies of
// UN/EDIFACT (data element 3055).
const (
	recommendation20 = "UNECERec20"
	unece            = "6"
	ucum             = "UCUM"
)

// parameter makes a parameter of a value of an answer.
func parameter(l wire.Leaf, system unit.System) Parameter {
	p := Parameter{ID: l.Path, Value: Value{Text: l.Value, Type: "double"}}
	switch {
	case l.Text:
		p.Value.Type = "string"
	case l.Value == "true" || l.Value == "false":
		p.Value.Type = "boolean"
	case l.Unit != unit.None:
		p.Value.Unit = unitOf(l.Unit, system)
	}
	return p
}

// unitOf is the unit of a quantity in the best list that has it.
func unitOf(q unit.Quantity, system unit.System) *Code {
	if code := q.Vocabulary(system).UNECE; code != "" {
		return &Code{recommendation20, unece, code}
	}
	return &Code{List: ucum, Word: q.Code(system)}
}

// duration is minutes as a duration of XML Schema.
func duration(minutes unit.Opt) string {
	if !minutes.OK {
		return ""
	}
	return fmt.Sprintf("PT%.3fS", minutes.V*60)
}
