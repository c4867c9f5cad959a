package catalog

import (
	"errors"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
)

// Snapshot is all reference and shop data at one revision. It never changes, and
// what it returns must not be changed either.
type Snapshot struct {
	Revision int64

	data     Data
	hardness *material.HardnessTable
	names    names

	materials []*material.Material
	grades    map[string]*shelf // by material id
	subgroups map[string]*shelf // by "M/austenitic"
	groups    map[material.Group]*shelf

	classes  index[tool.Class]
	machines index[machine.Machine]
	sources  index[domain.Source]
	uses     map[string][]SourceUse
	records  index[Record]
	pools    pools
	cuts     index[StoredCut]
}

// New indexes the data. It reports every fault of it at once: names that stand
// twice, references to what is not there, one designation on two grades.
func New(d Data) (*Snapshot, error) {
	d = inOrder(d)
	s := &Snapshot{Revision: d.Revision, data: d}
	var faults []error
	var err error
	if s.hardness, err = material.NewHardnessTable(d.Hardness); err != nil {
		faults = append(faults, err)
		s.hardness = &material.HardnessTable{}
	}
	s.classes = indexed(d.Classes, func(c *tool.Class) string { return c.ID })
	s.machines = indexed(d.Machines, func(m *machine.Machine) string { return m.ID })
	s.sources = indexed(d.Sources, func(x *domain.Source) string { return x.ID })
	s.attach()
	s.names = namesOf(s.materials)
	faults = append(faults, s.check()...)
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	s.pools = poolsOf(&s.data)
	s.shelve()
	s.uses = usesOf(&d)
	s.records = indexed(recordsOf(&s.data), func(r *Record) string { return r.ID })
	s.cuts = indexed(d.Cuts, func(c *StoredCut) string { return c.ID })
	return s, nil
}

// inOrder sorts the records by id, so that an answer does not depend on where the
// data came from.
func inOrder(d Data) Data {
	d.Force, d.Starting, d.Life = slices.Clone(d.Force), slices.Clone(d.Starting), slices.Clone(d.Life)
	slices.SortStableFunc(d.Force, func(a, b material.Force) int { return strings.Compare(a.ID, b.ID) })
	slices.SortStableFunc(d.Starting, func(a, b material.Starting) int { return strings.Compare(a.ID, b.ID) })
	slices.SortStableFunc(d.Life, func(a, b material.Life) int { return strings.Compare(a.ID, b.ID) })
	return d
}

// attach copies the materials and gives each the records about it alone.
func (s *Snapshot) attach() {
	grades := slices.Clone(s.data.Materials)
	at := map[string]*material.Material{}
	for i := range grades {
		m := &grades[i]
		m.Force, m.Starting, m.Life = nil, nil, nil
		at[m.ID] = m
		s.materials = append(s.materials, m)
	}
	slices.SortStableFunc(s.materials, func(a, b *material.Material) int { return strings.Compare(a.ID, b.ID) })
	for _, r := range s.data.Force {
		if m := at[r.Key]; m != nil && r.Level == materialLevel && r.Serves() {
			m.Force = append(m.Force, r)
		}
	}
	for _, r := range s.data.Starting {
		if m := at[r.Key]; m != nil && r.Level == materialLevel && r.Serves() {
			m.Starting = append(m.Starting, r)
		}
	}
	for _, r := range s.data.Life {
		if m := at[r.Key]; m != nil && r.Level == materialLevel && r.Serves() {
			m.Life = append(m.Life, r)
		}
	}
}

// Data is what the snapshot was made of.
func (s *Snapshot) Data() Data { return s.data }

// HardnessTable converts between hardness scales.
func (s *Snapshot) HardnessTable() *material.HardnessTable { return s.hardness }

// Materials lists the grades by id.
func (s *Snapshot) Materials() []*material.Material { return slices.Clip(s.materials) }

// Material finds a grade by its id.
func (s *Snapshot) Material(id string) (*material.Material, bool) {
	if sh := s.grades[id]; sh != nil {
		return sh.grade, true
	}
	return nil, false
}

// Classes lists the tool classes by id.
func (s *Snapshot) Classes() []*tool.Class { return s.classes.sorted }

// Class finds a tool class.
func (s *Snapshot) Class(id string) (*tool.Class, bool) { return s.classes.find(id) }

// NearestClasses lists the tool classes whose ids are closest to an unknown one.
func (s *Snapshot) NearestClasses(id string) []string { return nearest(id, s.classes.ids) }

// Machines lists the machines by id.
func (s *Snapshot) Machines() []*machine.Machine { return s.machines.sorted }

// Machine finds a machine.
func (s *Snapshot) Machine(id string) (*machine.Machine, bool) { return s.machines.find(id) }

// NearestMachines lists the machines whose ids are closest to an unknown one.
func (s *Snapshot) NearestMachines(id string) []string { return nearest(id, s.machines.ids) }

// Sources lists the sources by id.
func (s *Snapshot) Sources() []*domain.Source { return s.sources.sorted }

// Source finds a source.
func (s *Snapshot) Source(id string) (*domain.Source, bool) { return s.sources.find(id) }

// Records lists every force, starting-value and life record by id, drafts and ended ones
// too.
func (s *Snapshot) Records() []*Record { return s.records.sorted }

// Record finds a record in any state.
func (s *Snapshot) Record(id string) (*Record, bool) { return s.records.find(id) }

// Cuts lists the cuts that are kept, by id.
func (s *Snapshot) Cuts() []*StoredCut { return s.cuts.sorted }

// Cut finds a cut that is kept.
func (s *Snapshot) Cut(id string) (*StoredCut, bool) { return s.cuts.find(id) }

// index finds records by id and lists them.
type index[T any] struct {
	all, sorted []*T // in the order of the data, by id
	ids         []string
	byID        map[string]*T
	twice       []string // ids that stand more than once
}

func (x *index[T]) find(id string) (*T, bool) {
	record, ok := x.byID[id]
	return record, ok
}

func indexed[T any](records []T, idOf func(*T) string) index[T] {
	x := index[T]{byID: make(map[string]*T, len(records))}
	for i := range records {
		r := &records[i]
		id := idOf(r)
		if _, there := x.byID[id]; there {
			x.twice = append(x.twice, id)
		}
		x.byID[id] = r
		x.all = append(x.all, r)
		x.ids = append(x.ids, id)
	}
	x.all, x.ids = slices.Clip(x.all), slices.Clip(x.ids)
	x.sorted = slices.Clone(x.all)
	slices.SortStableFunc(x.sorted, func(a, b *T) int { return strings.Compare(idOf(a), idOf(b)) })
	return x
}
