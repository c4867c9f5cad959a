package api

import (
	"math"
	"slices"

	"swarf/api/wire"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// getSpread answers GET /v1/materials/{id}/spread: every record that could serve, which
// does and why, and how much the choice matters.
func getSpread(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	grade, ok := snap.Material(id)
	if !ok {
		return notFound("material", id, "/v1/materials")
	}
	out := &wire.MaterialSpread{ID: id, Units: x.system.String(), PlainChip: unit.Some(catalog.PlainChipMM), Life: []wire.LifeSpread{}, DataRevision: snap.Revision, ModelVersion: x.s.ModelVersion}
	if len(grade.Conditions) > 0 {
		out.Condition = grade.Conditions[0].Name
	}
	for _, process := range []string{"turning", "milling", "drilling"} {
		out.Force = append(out.Force, forceSpread(snap, grade, out.Condition, process))
		out.Life = append(out.Life, lifeSpreads(snap, grade, process)...)
	}
	for _, p := range snap.Pools() {
		out.Pools = append(out.Pools, wire.SpreadPool{Kind: p.Kind, Spread: above(p.SpreadRatio), Quantities: p.Quantities, LeftOut: p.Count, Held: p.HeldCount})
	}
	return x.conditional(out)
}

func forceSpread(snap *catalog.Snapshot, grade *material.Material, condition, process string) wire.ForceSpread {
	q := catalog.ForceQuery{Grade: grade, Condition: condition, Process: process}
	spread, sources := snap.SpreadOf(snap.ChooseForce(q))
	out := wire.ForceSpread{Process: process, Spread: above(spread), Sources: sources, Records: []wire.Competes{}}
	served := 0.0
	for i, p := range snap.OrderForce(q) {
		r := p.Force
		kc := catalog.PlainForceNPerMM2(r)
		if i == 0 {
			served = kc
		}
		out.Records = append(out.Records, wire.Competes{Record: r.ID, Serves: i == 0, LosesBy: p.LosesBy, Scope: scopeToWire(r.Scope), Method: string(r.Method), Process: r.Process, Condition: r.Condition,
			Source: r.Source, Basis: string(r.Basis), Place: r.Place, SpecificCuttingForce: above(kc), Ratio: above(kc / served)})
	}
	return out
}

// quarterHour is the life at which tool-life records are compared, in minutes.
const quarterHour = 15

func lifeSpreads(snap *catalog.Snapshot, grade *material.Material, process string) []wire.LifeSpread {
	var list []wire.LifeSpread
	for _, tool := range []string{"HSS", "HW", "HC", "HT", "CA"} {
		choice := snap.ChooseLife(catalog.LifeQuery{Grade: grade, Process: process, ToolMaterial: tool})
		if choice.Served == nil {
			continue
		}
		speed := func(l *material.Life) float64 {
			return l.TaylorSpeedMPerMin.V / math.Pow(quarterHour, l.TaylorExp.V)
		}
		one := wire.LifeSpread{Process: process, ToolMaterial: tool}
		for i, l := range slices.Concat([]*material.Life{choice.Served}, choice.Competing) {
			one.Records = append(one.Records, wire.LifeCompete{Record: l.ID, Serves: i == 0, Source: l.Source, Basis: string(l.Basis), QuarterHour: unit.Some(speed(l)),
				Ratio: unit.Some(speed(l) / speed(choice.Served)), TaylorExponent: l.TaylorExp})
		}
		list = append(list, one)
	}
	return list
}
