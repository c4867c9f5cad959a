package api

import (
	"slices"
	"strings"

	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// mostRowFaults is how many faults a report lists; the rest are counted.
const mostRowFaults = 1_000

// importer takes up rows, one by one, on top of a snapshot. What it took up is what would
// be written; nothing is, when any row has a fault.
type importer struct {
	snap *catalog.Snapshot
	by   Author

	sources   overlay[domain.Source]
	grades    overlay[material.Material]
	classes   overlay[tool.Class]
	machines  overlay[wire.Machine]
	records   []catalog.Record
	subgroups map[string]bool
	lines     map[string]int // of machines, by id: where their faults belong

	layouts map[string]*layout
	seen    map[string]map[string]int // sheet, key: row
	counts  map[string]*wire.ImportCount
	faults  []wire.RowFault
	wrong   int // faults in all
}

// overlay is what is new or changed, in the order in which it came.
type overlay[T any] struct {
	byID  map[string]*T
	order []string
}

func (o *overlay[T]) put(id string, one *T) {
	if o.byID == nil {
		o.byID = map[string]*T{}
	}
	if o.byID[id] == nil {
		o.order = append(o.order, id)
	}
	o.byID[id] = one
}

func newImporter(snap *catalog.Snapshot, by Author) *importer {
	return &importer{snap: snap, by: by, subgroups: map[string]bool{}, lines: map[string]int{}, layouts: map[string]*layout{}, seen: map[string]map[string]int{}, counts: map[string]*wire.ImportCount{}}
}

// Source, Material, Subgroup and Class find what is on record or in a row before.

func (im *importer) Source(id string) (*domain.Source, bool) {
	if s := im.sources.byID[id]; s != nil {
		return s, true
	}
	return im.snap.Source(id)
}

func (im *importer) Material(id string) (*material.Material, bool) {
	if m := im.grades.byID[id]; m != nil {
		return m, true
	}
	return im.snap.Material(id)
}

func (im *importer) Subgroup(key string) bool {
	known, asked := im.subgroups[key]
	if !asked {
		known = im.snap.Subgroup(key)
		im.subgroups[key] = known
	}
	return known
}

func (im *importer) Class(id string) (*tool.Class, bool) {
	if c := im.classes.byID[id]; c != nil {
		return c, true
	}
	return im.snap.Class(id)
}

// grade is a grade that may be changed: one taken up before, or a copy of the one on
// record.
func (im *importer) grade(id string) (*material.Material, bool) {
	if m := im.grades.byID[id]; m != nil {
		return m, true
	}
	m, ok := im.snap.Material(id)
	if !ok {
		return nil, false
	}
	own := *m
	own.Force, own.Starting, own.Life = nil, nil, nil
	own.Designations, own.Conditions, own.Physical = slices.Clone(m.Designations), slices.Clone(m.Conditions), slices.Clone(m.Physical)
	return &own, true
}

// row takes up one row.
func (im *importer) row(s *catalogSheet, r tabular.Row) {
	count := im.counts[s.name]
	if count == nil {
		count = &wire.ImportCount{Sheet: s.name}
		im.counts[s.name] = count
	}
	count.Rows++
	if s.take == nil {
		count.Passed++
		return
	}
	l := &line{im: im, sheet: s, row: r}
	s.take(im, l)
	switch {
	case l.faulty:
		count.Faulty++
	case l.same:
		count.Unchanged++
	case l.known:
		count.Changed++
	default:
		count.Added++
	}
}

// finish judges what only the whole can tell: machines with their ratings, and that the
// data holds together.
func (im *importer) finish() (*Import, error) {
	out := &Import{Revision: im.snap.Revision}
	for _, id := range im.machines.order {
		own := &cut.Faults{}
		m := machineFromWire(im.machines.byID[id], "", own)
		for _, e := range own.List {
			im.fault("machines", im.lines[id], e.Field, e)
		}
		out.Machines = append(out.Machines, *m)
	}
	if im.wrong > 0 {
		return out, nil
	}
	for _, id := range im.sources.order {
		out.Sources = append(out.Sources, *im.sources.byID[id])
	}
	for _, id := range im.grades.order {
		out.Materials = append(out.Materials, *im.grades.byID[id])
	}
	for _, id := range im.classes.order {
		out.Classes = append(out.Classes, *im.classes.byID[id])
	}
	out.Records = im.records
	if out.Empty() {
		return out, nil
	}
	if _, err := catalog.New(out.On(im.snap.Data())); err != nil {
		for text := range strings.SplitSeq(err.Error(), "\n") {
			im.fault("", 0, "", fault(domain.Invalid, "value-out-of-range", "", text, "mend the rows that say so"))
		}
	}
	return out, nil
}

// report is what a caller is told.
func (im *importer) report() *wire.ImportReport {
	out := &wire.ImportReport{Sheets: []wire.ImportCount{}, Items: im.faults, FaultCount: im.wrong, DataRevision: im.snap.Revision, Drafts: len(im.records)}
	for _, name := range sheetNames() {
		if c := im.counts[name]; c != nil {
			out.Sheets = append(out.Sheets, *c)
		}
	}
	if out.Items == nil {
		out.Items = []wire.RowFault{}
	}
	return out
}

// fault notes a fault of a row.
func (im *importer) fault(sheet string, row int, column string, e *domain.Error) {
	im.wrong++
	if len(im.faults) < mostRowFaults {
		im.faults = append(im.faults, wire.RowFault{Sheet: sheet, Row: row, Column: column, Code: e.Code, Message: fillText(e.Msg, e, unit.Metric), Fix: fillText(e.Fix, e, unit.Metric)})
	}
}

// Import is what an import writes: whole nouns as they are to be, and records as drafts.
type Import struct {
	Revision  int64 // of the data that it was made on
	Sources   []domain.Source
	Materials []material.Material
	Classes   []tool.Class
	Machines  []machine.Machine
	Records   []catalog.Record
}

// Empty reports an import that writes nothing.
func (i *Import) Empty() bool {
	return len(i.Sources)+len(i.Materials)+len(i.Classes)+len(i.Machines)+len(i.Records) == 0
}

// On is the data with the import in it.
func (i *Import) On(d catalog.Data) catalog.Data {
	d.Sources = overlaid(d.Sources, i.Sources, func(s *domain.Source) string { return s.ID })
	d.Materials = overlaid(d.Materials, i.Materials, func(m *material.Material) string { return m.ID })
	d.Classes = overlaid(d.Classes, i.Classes, func(c *tool.Class) string { return c.ID })
	d.Machines = overlaid(d.Machines, i.Machines, func(m *machine.Machine) string { return m.ID })
	d.Force, d.Starting, d.Life = slices.Clone(d.Force), slices.Clone(d.Starting), slices.Clone(d.Life)
	for _, r := range i.Records {
		switch {
		case r.Force != nil:
			d.Force = append(d.Force, *r.Force)
		case r.Starting != nil:
			d.Starting = append(d.Starting, *r.Starting)
		case r.Life != nil:
			d.Life = append(d.Life, *r.Life)
		}
	}
	return d
}

// overlaid is a list with others in the places of those of the same id, or at its end.
func overlaid[T any](list, others []T, id func(*T) string) []T {
	if len(others) == 0 {
		return list
	}
	list = slices.Clone(list)
	at := make(map[string]int, len(list))
	for i := range list {
		at[id(&list[i])] = i
	}
	for i := range others {
		if place, there := at[id(&others[i])]; there {
			list[place] = others[i]
		} else {
			list = append(list, others[i])
		}
	}
	return list
}
