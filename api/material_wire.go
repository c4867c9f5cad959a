package api

import (
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// materialToItem is a grade in a list.
func materialToItem(m *material.Material) wire.MaterialItem {
	out := wire.MaterialItem{
		ID:           m.ID,
		Name:         m.Name,
		Group:        string(m.Group),
		Subgroup:     m.Subgroup,
		Designations: designationsToWire(m.Designations),
		Conditions:   make([]string, len(m.Conditions)),
	}
	for i := range m.Conditions {
		out.Conditions[i] = m.Conditions[i].Name
	}
	return out
}

func designationsToWire(list []material.Designation) []wire.Designation {
	out := make([]wire.Designation, len(list))
	for i, d := range list {
		out[i] = wire.Designation{Standard: d.Standard, Value: d.Value}
	}
	return out
}

// records are the force, starting-value and life records that can serve a grade:
// its own first, then those of its subgroup and group.
type records struct {
	force    []*material.Force
	starting []*material.Starting
	life     []*material.Life
}

// materialToWire is one grade with all that is on record for it.
func materialToWire(m *material.Material, r records, system unit.System) *wire.MaterialRecord {
	out := &wire.MaterialRecord{
		ID:             m.ID,
		Name:           m.Name,
		Group:          string(m.Group),
		Subgroup:       m.Subgroup,
		Units:          system.String(),
		Designations:   designationsToWire(m.Designations),
		Conditions:     make([]wire.Condition, len(m.Conditions)),
		Physical:       make([]wire.PhysicalRecord, len(m.Physical)),
		ForceData:      make([]wire.ForceRecord, len(r.force)),
		StartingValues: make([]wire.StartingRecord, len(r.starting)),
		LifeData:       make([]wire.LifeRecord, len(r.life)),
		Cautions:       m.Cautions,
		Note:           m.Note,
	}
	if out.Cautions == nil {
		out.Cautions = []string{}
	}
	for i := range m.Conditions {
		out.Conditions[i] = conditionToWire(&m.Conditions[i])
	}
	for i := range m.Physical {
		out.Physical[i] = propertyToWire(&m.Physical[i], system)
	}
	for i, f := range r.force {
		out.ForceData[i] = forceToWire(f, system)
	}
	for i, s := range r.starting {
		out.StartingValues[i] = startingToWire(s, system)
	}
	for i, l := range r.life {
		out.LifeData[i] = lifeToWire(l)
	}
	if c := m.MinimumChip; c.GroundEdgeMM.OK || c.HonedInsertMM.OK {
		out.MinimumChip = &wire.MinimumChip{GroundEdge: given(c.GroundEdgeMM), HonedInsert: given(c.HonedInsertMM)}
	}
	return out
}

func conditionToWire(c *material.Condition) wire.Condition {
	out := wire.Condition{Name: c.Name, ID: c.ID, Provenance: provenanceToWire(&c.Provenance)}
	if c.Hardness.Scale != "" {
		out.Hardness = &wire.HardnessRange{Low: c.Hardness.Low, High: c.Hardness.High, Scale: string(c.Hardness.Scale)}
	}
	return out
}

func propertyToWire(p *material.Property, system unit.System) wire.PhysicalRecord {
	return wire.PhysicalRecord{
		ID:         p.ID,
		Name:       p.Name,
		Value:      wire.Amount(p.Value.Quantity.FromMetric(system, p.Value.Amount)),
		Unit:       p.Value.Quantity.Code(system),
		Provenance: provenanceToWire(&p.Provenance),
	}
}

func provenanceToWire(p *material.Provenance) wire.Provenance {
	return wire.Provenance{Basis: string(p.Basis), Source: p.Source, Place: p.Place, Note: p.Note}
}

func scopeToWire(s material.Scope) wire.Scope { return wire.Scope{Level: s.Level, Key: s.Key} }

func forceToWire(f *material.Force, system unit.System) wire.ForceRecord {
	return wire.ForceRecord{
		ID:                      f.ID,
		Scope:                   scopeToWire(f.Scope),
		Condition:               f.Condition,
		Process:                 f.Process,
		Method:                  string(f.Method),
		Family:                  f.Family,
		SpecificCuttingForce11:  given(f.SpecificCuttingForce11NPerMM2),
		ChipThicknessExponent:   given(f.ChipThicknessExp),
		FeedForce11:             given(f.FeedForce11NPerMM2),
		FeedForceExponent:       given(f.FeedForceExp),
		PassiveForce11:          given(f.PassiveForce11NPerMM2),
		PassiveForceExponent:    given(f.PassiveForceExp),
		ReferenceRake:           given(f.ReferenceRakeDeg),
		SpecificCuttingEnergy:   given(f.EnergyJPerMM3),
		EnergyChipThickness:     given(f.EnergyThicknessMM),
		EnergyThicknessExponent: given(f.EnergyThicknessExp),
		DrillWorkFactor:         given(f.DrillWorkFactor),
		Spread:                  given(f.SpreadRatio),
		Valid:                   validToWire(f.ChipThickness, f.Hardness, f.Speed, system),
		Provenance:              provenanceToWire(&f.Provenance),
	}
}

func startingToWire(s *material.Starting, system unit.System) wire.StartingRecord {
	out := wire.StartingRecord{
		ID:           s.ID,
		Scope:        scopeToWire(s.Scope),
		Condition:    s.Condition,
		Operations:   s.Operations,
		Classes:      s.Classes,
		ToolMaterial: s.ToolMaterial,
		Kind:         s.Kind,
		CuttingSpeed: spanToWire(s.Speed, unit.Speed, system),
		FeedKind:     string(s.FeedKind),
		DepthOfCut:   given(s.DepthMM),
		Valid:        validToWire(domain.Range{}, s.Hardness, domain.Range{}, system),
		Provenance:   provenanceToWire(&s.Provenance),
	}
	if out.Operations == nil {
		out.Operations = []string{}
	}
	if out.Classes == nil {
		out.Classes = []string{}
	}
	feed := unit.Length
	if s.FeedKind == material.DiameterPerTurn || s.FeedKind == material.DiameterPerTooth {
		feed = unit.None
	}
	out.Feed = spanToWire(s.Feed, feed, system)
	return out
}

func lifeToWire(l *material.Life) wire.LifeRecord {
	return wire.LifeRecord{
		ID:             l.ID,
		Scope:          scopeToWire(l.Scope),
		ToolMaterial:   l.ToolMaterial,
		TaylorExponent: given(l.TaylorExp),
		TaylorSpeed:    given(l.TaylorSpeedMPerMin),
		Process:        l.Process,
		FeedExponent:   given(l.FeedExp),
		DepthExponent:  given(l.DepthExp),
		ReferenceFeed:  given(l.ReferenceFeedMM),
		ReferenceDepth: given(l.ReferenceDepthMM),
		Criterion:      l.Criterion,
		Provenance:     provenanceToWire(&l.Provenance),
	}
}

// validToWire is a record's range of validity, nil when it states none.
func validToWire(chip, hardness, speed domain.Range, system unit.System) *wire.Valid {
	if !chip.Known() && !hardness.Known() && !speed.Known() {
		return nil
	}
	out := &wire.Valid{
		ChipThickness: spanToWire(chip, unit.Length, system),
		Hardness:      spanToWire(hardness, unit.None, system),
		CuttingSpeed:  spanToWire(speed, unit.Speed, system),
	}
	if out.Hardness != nil {
		out.Hardness.Unit = string(material.HBW)
	}
	return out
}

// spanToWire is a range of one quantity, nil when it says nothing.
func spanToWire(r domain.Range, q unit.Quantity, system unit.System) *wire.Span {
	if !r.Known() {
		return nil
	}
	return &wire.Span{Low: amount(r.Low, q, system), High: amount(r.High, q, system), Unit: q.Code(system)}
}

// amount is a number with its unit beside it, in the caller's units.
func amount(o unit.Opt, q unit.Quantity, system unit.System) *wire.Amount {
	if !o.OK {
		return nil
	}
	v := wire.Amount(q.FromMetric(system, o.V))
	return &v
}
