package api

import (
	"strconv"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// tables name the conversion tables.
var tables = map[material.Conversion]string{material.OfSteel: "steel", material.NearSteel: "near-steel", material.OfAustenitic: "austenitic", material.NoTable: "none"}

// convertHardness answers GET /v1/hardness-conversions: one hardness, or one tensile
// strength, of a grade on every scale that a table on file reads for it.
func convertHardness(x *exchange) error {
	snap, err := x.now()
	if err != nil {
		return err
	}
	var faults domain.Errors
	grade := x.query.text("grade")
	var m *material.Material
	if grade == "" {
		faults = append(faults, fault(domain.Unreadable, "field-missing", "grade", "whose hardness?", "add any designation of the grade: each metal has its own table, or none"))
	} else if found, bad := snap.FindGrade(grade); bad != nil {
		bad.Field = "grade"
		faults = append(faults, bad)
	} else {
		m = found
	}
	h, strength, bad := x.hardnessAsked()
	if faults = append(faults, bad...); len(faults) > 0 {
		return faults
	}
	read := snap.Convert(m, h, strength)
	out := &wire.HardnessConversion{Units: x.system.String(), Material: wire.WorkMaterial{ID: m.ID, Name: m.Name, Group: string(m.Group), Hardness: hardnessToWire(h)},
		Table: tables[read.By], Conversions: make([]wire.HardnessReading, len(read.Read)), TensileStrength: read.TensileStrengthNPerMM2,
		Unchecked: uncheckedOf(read.Unread), DataRevision: snap.Revision, ModelVersion: x.s.ModelVersion}
	for i, r := range read.Read {
		out.Conversions[i] = wire.HardnessReading{Scale: string(r.Scale), Value: unit.Some(r.Value), Approximate: r.Approximate, Basis: string(r.Basis), Sources: append([]string{}, r.Sources...)}
	}
	return x.conditional(out)
}

// hardnessAsked reads value and scale, or tensile_strength.
func (x *exchange) hardnessAsked() (*material.Hardness, *float64, domain.Errors) {
	var faults domain.Errors
	number := func(name string) *float64 {
		text := x.query.text(name)
		if text == "" {
			return nil
		}
		v, ok := wire.ReadNumber(text)
		if !ok {
			faults = append(faults, fault(domain.Unreadable, "wrong-type", name, name+" is "+strconv.Quote(clip(text))+", where a number belongs", "send a number without unit"))
			return nil
		}
		return &v
	}
	q := catalog.HardnessQuery{Value: number("value"), Scale: x.query.text("scale")}
	strength := number("tensile_strength")
	asked := x.query.text("value") != "" || q.Scale != ""
	switch {
	case len(faults) > 0:
	case strength != nil && asked:
		faults = append(faults, fault(domain.Invalid, "fields-conflict", "tensile_strength", "a hardness and a tensile strength exclude each other", "keep one"))
	case strength != nil:
		metric := unit.SpecificForce.ToMetric(x.system, *strength)
		if strength = &metric; metric <= 0 || metric > 5000 {
			f := fault(domain.Invalid, "value-out-of-range", "tensile_strength", "a tensile strength of {value} must lie above 0 and not above {limit}", "check the unit")
			f.Value, f.Limit = unit.Of(unit.SpecificForce, metric), unit.Of(unit.SpecificForce, 5000)
			faults = append(faults, f)
		}
	case !asked:
		faults = append(faults, fault(domain.Unreadable, "alternative-missing", "value", "neither a hardness nor a tensile strength is given", "add value and scale, or tensile_strength"))
	default:
		h, bad := q.Read("value")
		if bad == nil {
			return h, nil, nil
		}
		switch bad.Field { // parameters stand alone
		case "value.value":
			bad.Field = "value"
		case "value.scale", "value":
			bad.Field = "scale"
		}
		faults = append(faults, bad)
	}
	return nil, strength, faults
}
