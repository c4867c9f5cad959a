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
	refused  *memo[string, *domain.Error] // words that stand for several grades

	materials []*material.Material // by id
	ids       map[string]int32     // where each stands
	shelves   []shelf              // of the materials
	compared  []float64            // their specific cutting forces, where they are compared
	subgroups map[string]*shelf    // by "M/austenitic"
	groups    map[material.Group]*shelf

	classes  index[tool.Class]
	machines index[machine.Machine]
	sources  index[domain.Source]
	uses     map[string][]use
	records  []recordAt // by id
	pools    pools
	cuts     index[StoredCut]
}

// New indexes the data, which it leaves as it is and which must not change afterwards.
// It reports every fault of it at
// once: names that stand twice, references to what is not there, one designation on
// two grades.
func New(d Data) (*Snapshot, error) {
	d = inOrder(d)
	s := &Snapshot{Revision: d.Revision, data: d, refused: new(memo[string, *domain.Error])}
	var faults []error
	var err error
	if s.hardness, err = material.NewHardnessTable(d.Hardness); err != nil {
		faults = append(faults, err)
		s.hardness = &material.HardnessTable{}
	}
	s.classes = indexed(d.Classes, func(c *tool.Class) string { return c.ID })
	s.machines = indexed(d.Machines, func(m *machine.Machine) string { return m.ID })
	s.sources = indexed(d.Sources, func(x *domain.Source) string { return x.ID })
	for i := range d.Materials {
		s.materials = append(s.materials, &d.Materials[i])
	}
	slices.SortStableFunc(s.materials, func(a, b *material.Material) int { return strings.Compare(a.ID, b.ID) })
	s.names = namesOf(s.materials)
	faults = append(faults, s.check()...)
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	s.pools = poolsOf(&s.data)
	s.shelve()
	s.compare()
	s.uses = usesOf(&d)
	s.records = placesOf(&s.data)
	s.cuts = indexed(d.Cuts, func(c *StoredCut) string { return c.ID })
	return s, nil
}

// WithMachines is the snapshot of a later revision in which nothing but machines changed:
// it shares the rest, so that a write of a machine is not paid for with all of the data.
// It reports machines that stand twice.
func (s *Snapshot) WithMachines(revision int64, list []machine.Machine) (*Snapshot, error) {
	next := *s
	next.Revision, next.data.Revision, next.data.Machines = revision, revision, list
	next.machines = indexed(list, func(m *machine.Machine) string { return m.ID })
	if twice := next.machines.twice; len(twice) > 0 {
		return nil, errors.New("machine " + strings.Join(twice, ", ") + " stands twice")
	}
	return &next, nil
}

// Data is what the snapshot was made of, records by scope and id and apart from their
// grades.
func (s *Snapshot) Data() Data { return inOrder(s.data) }

// ScopeRecords are the records of one scope in any state, by id.
type ScopeRecords struct {
	Force    []material.Force
	Starting []material.Starting
	Life     []material.Life
}

// RecordsFor lists what can serve a grade: its own records, its subgroup's, its group's.
func (s *Snapshot) RecordsFor(m *material.Material) [len(widths)]ScopeRecords {
	var all [len(widths)]ScopeRecords
	for width, l := range s.shelf(m, "", "").layers {
		if l != nil {
			all[width] = ScopeRecords{l.force, l.starting, l.life}
		}
	}
	return all
}

// HardnessTable converts between hardness scales.
func (s *Snapshot) HardnessTable() *material.HardnessTable { return s.hardness }

// Materials lists the grades by id.
func (s *Snapshot) Materials() []*material.Material { return slices.Clip(s.materials) }

// Material finds a grade by its id.
func (s *Snapshot) Material(id string) (*material.Material, bool) {
	if at, there := s.ids[id]; there {
		return s.materials[at], true
	}
	return nil, false
}

// Subgroup reports a subgroup that has grades, such as M/austenitic.
func (s *Snapshot) Subgroup(key string) bool {
	group, subgroup, _ := strings.Cut(key, "/")
	return s.subgroups[key] != nil || slices.ContainsFunc(s.materials, func(m *material.Material) bool { return string(m.Group) == group && m.Subgroup == subgroup })
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
