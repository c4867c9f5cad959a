package api

import (
	"iter"
	"slices"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// materialSheets are the tables of sources and grades.
func materialSheets() []catalogSheet {
	return []catalogSheet{
		sheetOf("sources", "where numbers come from", "id title kind", ties[wire.SourceRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.SourceRow] {
				return each(snap.Sources(), sourceRow)
			},
			find: func(snap *catalog.Snapshot, r *wire.SourceRow) *wire.SourceRow {
				return found(snap.Source, r.ID, sourceRow)
			},
			key: func(r *wire.SourceRow) string { return r.ID }, take: (*importer).source,
		}),
		sheetOf("materials", "grades, by ISO 513 group and subgroup", "id name group subgroup", ties[wire.MaterialRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.MaterialRow] {
				return each(snap.Materials(), gradeRow)
			},
			find: func(snap *catalog.Snapshot, r *wire.MaterialRow) *wire.MaterialRow {
				return found(snap.Material, r.ID, gradeRow)
			},
			key: func(r *wire.MaterialRow) string { return r.ID }, take: (*importer).material,
		}),
		sheetOf("designations", "what a grade is called in a standard", "material standard value", ties[wire.DesignationRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.DesignationRow] {
				return parts(snap.Materials(), designationRows)
			},
			find: func(snap *catalog.Snapshot, r *wire.DesignationRow) *wire.DesignationRow {
				return part(snap, r.Material, designationRows, func(o *wire.DesignationRow) bool { return *o == *r })
			},
			key:  func(r *wire.DesignationRow) string { return r.Material + "|" + r.Standard + "|" + r.Value },
			take: (*importer).designation,
		}),
		sheetOf("conditions", "states in which a grade is machined, with their hardness", "material name basis source", ties[wire.ConditionRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.ConditionRow] {
				return parts(snap.Materials(), conditionRows)
			},
			find: func(snap *catalog.Snapshot, r *wire.ConditionRow) *wire.ConditionRow {
				return part(snap, r.Material, conditionRows, func(o *wire.ConditionRow) bool { return o.Name == r.Name })
			},
			key:  func(r *wire.ConditionRow) string { return r.Material + "|" + r.Name },
			take: (*importer).condition,
		}),
		sheetOf("properties", "physical properties of a grade, each with its unit", "material name value unit basis source", ties[wire.PropertyRow]{
			all: func(snap *catalog.Snapshot, system unit.System) iter.Seq[*wire.PropertyRow] {
				return parts(snap.Materials(), func(m *material.Material) []wire.PropertyRow { return propertyRows(m, system) })
			},
			find: func(snap *catalog.Snapshot, r *wire.PropertyRow) *wire.PropertyRow {
				return part(snap, r.Material, func(m *material.Material) []wire.PropertyRow { return propertyRows(m, unit.Metric) },
					func(o *wire.PropertyRow) bool { return o.Name == r.Name && o.Source == r.Source })
			},
			key: func(r *wire.PropertyRow) string { return r.Material + "|" + r.Name + "|" + r.Source },
			metric: func(r *wire.PropertyRow) {
				if q, known := material.PropertyQuantity(r.Name); known {
					turn(q, &r.Unit, &r.Value)
				}
			},
			take: (*importer).property,
		}),
		sheetOf("hardness", "the table by which hardness scales of steel are converted", "", ties[wire.HardnessTableRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.HardnessTableRow] {
				table := snap.Data().Hardness
				return func(yield func(*wire.HardnessTableRow) bool) {
					for _, h := range table {
						row := wire.HardnessTableRow{HV: filled(h.HV), HBW: filled(h.HBW), HRC: filled(h.HRC), HRB: filled(h.HRB), TensileStrength: filled(h.TensileStrengthNPerMM2), Source: h.Source}
						if !yield(&row) {
							return
						}
					}
				}
			},
		}),
	}
}

// each turns records into rows.
func each[T, R any](list []*T, row func(*T) *R) iter.Seq[*R] {
	return func(yield func(*R) bool) {
		for _, one := range list {
			if !yield(row(one)) {
				return
			}
		}
	}
}

// found looks a record up and turns it into its row, nil when there is none.
func found[T, R any](find func(string) (*T, bool), id string, row func(*T) *R) *R {
	one, ok := find(id)
	if !ok {
		return nil
	}
	return row(one)
}

// parts turns what belongs to records into rows.
func parts[T, R any](list []*T, rows func(*T) []R) iter.Seq[*R] {
	return func(yield func(*R) bool) {
		for _, one := range list {
			list := rows(one)
			for i := range list {
				if !yield(&list[i]) {
					return
				}
			}
		}
	}
}

// part looks up what belongs to a grade.
func part[R any](snap *catalog.Snapshot, id string, rows func(*material.Material) []R, is func(*R) bool) *R {
	m, ok := snap.Material(id)
	if !ok {
		return nil
	}
	list := rows(m)
	if i := slices.IndexFunc(list, func(r R) bool { return is(&r) }); i >= 0 {
		return &list[i]
	}
	return nil
}

// filled is a stored number in which zero says that there is none.
func filled(v float64) *float64 { return given(above(v)) }

func sourceRow(s *domain.Source) *wire.SourceRow {
	return &wire.SourceRow{ID: s.ID, Author: s.Author, Title: s.Title, Year: s.Year, Place: s.Place, Address: s.Address, Kind: s.Kind, Access: s.Access, Reviewed: s.Reviewed, Note: s.Note}
}

func gradeRow(m *material.Material) *wire.MaterialRow {
	out := &wire.MaterialRow{ID: m.ID, Name: m.Name, Group: string(m.Group), Subgroup: m.Subgroup, Cautions: m.Cautions, Note: m.Note}
	if c := m.MinimumChip; c.GroundEdgeMM.OK || c.HonedInsertMM.OK {
		out.MinimumChip = &wire.MinimumChip{GroundEdge: given(c.GroundEdgeMM), HonedInsert: given(c.HonedInsertMM)}
	}
	return out
}

func designationRows(m *material.Material) []wire.DesignationRow {
	rows := make([]wire.DesignationRow, len(m.Designations))
	for i, d := range designationsToWire(m.Designations) {
		rows[i] = wire.DesignationRow{Material: m.ID, Designation: d}
	}
	return rows
}

func conditionRows(m *material.Material) []wire.ConditionRow {
	rows := make([]wire.ConditionRow, len(m.Conditions))
	for i := range m.Conditions {
		rows[i] = wire.ConditionRow{Material: m.ID, Condition: conditionToWire(&m.Conditions[i])}
	}
	return rows
}

func propertyRows(m *material.Material, system unit.System) []wire.PropertyRow {
	rows := make([]wire.PropertyRow, len(m.Physical))
	for i := range m.Physical {
		rows[i] = wire.PropertyRow{Material: m.ID, PhysicalRecord: propertyToWire(&m.Physical[i], system)}
	}
	return rows
}

// source takes up a source.
func (im *importer) source(r *wire.SourceRow, l *line) {
	l.plainID("id", r.ID)
	c := l.checker()
	s := &domain.Source{ID: r.ID, Author: c.text("author", r.Author, longestNote), Title: c.text("title", r.Title, longestNote), Year: c.text("year", r.Year, longestName),
		Place: c.text("place", r.Place, longestNote), Address: c.text("address", r.Address, longestNote), Kind: c.text("kind", r.Kind, longestName), Access: c.text("access", r.Access, longestName), Note: c.text("note", r.Note, longestNote), Reviewed: c.day("reviewed", r.Reviewed)}
	l.end(c, func() { im.sources.put(r.ID, s) })
}

// material takes up a grade; what belongs to it stays.
func (im *importer) material(r *wire.MaterialRow, l *line) {
	l.plainID("id", r.ID)
	c := l.checker()
	m, _ := im.grade(r.ID)
	if m == nil {
		m = &material.Material{ID: r.ID}
	}
	m.Name, m.Group, m.Subgroup, m.Cautions, m.Note = c.text("name", r.Name, longestName), material.Group(r.Group), c.text("subgroup", r.Subgroup, longestName), r.Cautions, c.text("note", r.Note, longestNote)
	m.MinimumChip = material.MinimumChip{}
	if chip := r.MinimumChip; chip != nil {
		m.MinimumChip.GroundEdgeMM = c.opt("minimum_chip.ground_edge", chip.GroundEdge, bound{unit.Length, mostChipMM, false})
		m.MinimumChip.HonedInsertMM = c.opt("minimum_chip.honed_insert", chip.HonedInsert, bound{unit.Length, mostChipMM, false})
	}
	for _, code := range r.Cautions {
		c.word("cautions", code, material.Cautions...)
	}
	l.end(c, func() { im.grades.put(r.ID, m); im.subgroups[string(m.Group)+"/"+m.Subgroup] = true })
}

// designation takes up a name of a grade.
func (im *importer) designation(r *wire.DesignationRow, l *line) {
	c := l.checker()
	m := im.owner(r.Material, l)
	c.word("standard", r.Standard, material.Standards...)
	d := material.Designation{Standard: r.Standard, Value: c.text("value", r.Value, longestName)}
	l.end(c, func() { m.Designations = append(m.Designations, d); im.grades.put(m.ID, m) })
}

// condition takes up a state of a grade, in its place when it is there.
func (im *importer) condition(r *wire.ConditionRow, l *line) {
	c := l.checker()
	m := im.owner(r.Material, l)
	k := material.Condition{Name: c.text("name", r.Name, longestName), Provenance: im.provenance(c, r.ID, &r.Provenance)}
	if h := r.Hardness; h != nil {
		k.Hardness = material.HardnessRange{Low: h.Low, High: h.High, Scale: material.Scale(c.word("hardness.scale", h.Scale, "HBW", "HRC", "HRB", "HV"))}
		if h.Scale == "" {
			c.faults.Missing("hardness.scale", "HBW, HRC, HRB or HV")
		}
		for _, end := range []struct {
			field string
			v     float64
		}{{"hardness.low", h.Low}, {"hardness.high", h.High}} {
			c.need(end.field, "the range of hardness", pointer(end.v), bound{unit.None, mostHardness, false})
		}
		if h.Low > h.High {
			c.faults.Range("hardness.low", "the range goes from {value} to {limit}", unit.Of(unit.None, h.Low), unit.Of(unit.None, h.High), "low comes first")
		}
	}
	l.end(c, func() {
		place(&m.Conditions, k, func(o *material.Condition) bool { return o.Name == k.Name })
		im.grades.put(m.ID, m)
	})
}

// mostHardness is beyond every scale of metals. Common practice, no source.
const mostHardness = 2_000

// property takes up a physical property of a grade, one a name and source.
func (im *importer) property(r *wire.PropertyRow, l *line) {
	c := l.checker()
	m := im.owner(r.Material, l)
	p := material.Property{Name: r.Name, Provenance: im.provenance(c, r.ID, &r.Provenance)}
	quantity, known := material.PropertyQuantity(r.Name)
	if !known {
		c.word("name", r.Name, material.PropertyNames()...)
	} else {
		v, ok := c.inUnit("value", float64(r.Value), r.Unit, quantity)
		if ok && !(v > 0) {
			c.faults.Range("value", "{value} cannot be", unit.Of(quantity, v), nil, "send a number above zero")
		}
		p.Quantity, p.Value = quantity, *unit.Of(quantity, v)
	}
	l.end(c, func() {
		place(&m.Physical, p, func(o *material.Property) bool { return o.Name == p.Name && o.Source == p.Source })
		im.grades.put(m.ID, m)
	})
}

// place puts one where its like stands, else at the end.
func place[T any](list *[]T, one T, is func(*T) bool) {
	if i := slices.IndexFunc(*list, func(o T) bool { return is(&o) }); i >= 0 {
		(*list)[i] = one
		return
	}
	*list = append(*list, one)
}

// turn turns numbers with a unit beside them to metric when it is that of inches.
func turn(q unit.Quantity, code *string, numbers ...*wire.Amount) {
	if *code != q.Code(unit.Inch) || *code == q.Code(unit.Metric) {
		return
	}
	*code = q.Code(unit.Metric)
	for _, v := range numbers {
		if v != nil {
			*v = wire.Amount(checker{inch: true}.settled(q.ToMetric(unit.Inch, float64(*v))))
		}
	}
}

// turnSpan is turn for a range, which may be absent.
func turnSpan(q unit.Quantity, s *wire.Span) {
	if s != nil {
		turn(q, &s.Unit, s.Low, s.High)
	}
}

// inUnit takes a number when the unit beside it measures the quantity; turn came before.
func (c checker) inUnit(field string, v float64, code string, q unit.Quantity) (float64, bool) {
	if code == q.Code(unit.Metric) {
		return v, true
	}
	c.faults.Any(fault(domain.Invalid, "value-out-of-range", unitBeside(field), "the unit "+quoteClipped(code)+" does not measure this", "write "+strings.Join(slices.Compact([]string{q.Code(unit.Metric), q.Code(unit.Inch)}), " or ")))
	return 0, false
}

// unitBeside is the column of the unit of a number.
func unitBeside(field string) string {
	if at := strings.LastIndexByte(field, '.'); at >= 0 {
		return field[:at] + ".unit"
	}
	return "unit"
}

// owner is the grade that a row belongs to, on record or in a row before.
func (im *importer) owner(id string, l *line) *material.Material {
	m, known := im.grade(id)
	if !known {
		fix := "add it to the sheet materials first"
		if m, err := im.snap.FindGrade(id); err == nil {
			fix = "write its id, " + m.ID
		}
		l.fault(fault(domain.Invalid, "material-unknown", "material", "there is no grade with the id "+quoteClipped(id), fix))
		return &material.Material{}
	}
	return m
}

// provenance is where a number comes from: a basis and a source on record or in a row
// before.
func (im *importer) provenance(c checker, id string, w *wire.Provenance) material.Provenance {
	r := recordReader{checker: c, snap: im}
	p := r.provenance(w)
	p.ID = id
	return p
}
