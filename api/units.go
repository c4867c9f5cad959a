package api

import (
	"swarf/api/wire"
	"swarf/domain/unit"
)

// Where the code lists are kept that name units by address.
const (
	opcUnits  = "http://www.opcfoundation.org/UA/units/un/cefact"
	qudtUnits = "http://qudt.org/vocab/unit/"
)

// listUnits answers GET /v1/units: every unit that a number here can have, of both systems
// or, with units=, of one.
func listUnits(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	systems := []unit.System{unit.Metric, unit.Inch}
	if x.query.text("units") != "" {
		systems = []unit.System{x.system}
	}
	var all []wire.Unit
	for _, q := range unit.Quantities() {
		for _, s := range systems {
			all = append(all, unitToWire(q, s))
		}
	}
	found, next := slice(all, p)
	return x.conditional(&wire.UnitList{Items: found, NextCursor: x.next(p, next), DataRevision: x.snap.Revision, ModelVersion: x.s.ModelVersion})
}

func unitToWire(q unit.Quantity, s unit.System) wire.Unit {
	v := q.Vocabulary(s)
	out := wire.Unit{Quantity: q.Name(), System: s.String(), Label: q.Label(s), UCUM: q.Code(s), UNECE: v.UNECE, MTConnect: v.MTConnect}
	if v.UNECE != "" {
		out.OPCUA = &wire.OPCUnit{NamespaceURI: opcUnits, UnitID: unit.OPCUnitID(v.UNECE), DisplayName: orElse(q.Label(s), "1")}
	}
	if v.QUDT != "" {
		out.QUDT = qudtUnits + v.QUDT
	}
	return out
}
