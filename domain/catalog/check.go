package catalog

import (
	"fmt"
	"slices"
	"strings"

	"swarf/domain/cut"
	"swarf/domain/material"
)

// Levels of a record's scope.
const (
	materialLevel = "material"
	subgroupLevel = "subgroup"
	groupLevel    = "group"
)

// checker collects the faults of the data.
type checker struct {
	s      *Snapshot
	faults []error
	seen   map[string]bool // record ids
	grades map[string]*material.Material
}

// check holds the data against itself.
func (s *Snapshot) check() []error {
	c := &checker{s: s, seen: map[string]bool{}, grades: map[string]*material.Material{}}
	for kind, ids := range map[string][]string{"source": s.sources.twice, "tool class": s.classes.twice, "machine": s.machines.twice} {
		for _, id := range ids {
			c.fail("%s %s stands twice", kind, id)
		}
	}
	for _, m := range s.materials {
		if c.grades[m.ID] != nil {
			c.fail("material %s stands twice", m.ID)
		}
		c.grades[m.ID] = m
		c.grade(m)
	}
	d := &s.data
	for i := range d.Force {
		c.record("force", d.Force[i].Provenance, d.Force[i].Scope, d.Force[i].Condition)
	}
	for i := range d.Starting {
		r := &d.Starting[i]
		c.record("starting value", r.Provenance, r.Scope, r.Condition)
		c.operations("record "+r.ID, r.Operations)
		for _, class := range r.Classes {
			if _, ok := s.Class(class); !ok {
				c.fail("record %s: no tool class %s", r.ID, class)
			}
		}
	}
	for i := range d.Life {
		c.record("tool life", d.Life[i].Provenance, d.Life[i].Scope, "")
	}
	for i := range d.Classes {
		c.operations("tool class "+d.Classes[i].ID, d.Classes[i].Operations)
	}
	for i := range d.Hardness {
		c.source("hardness table", d.Hardness[i].Source)
	}
	for _, text := range s.names.clashes {
		c.fail("%s", text)
	}
	slices.SortStableFunc(c.faults, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
	return c.faults
}

func (c *checker) fail(format string, args ...any) {
	c.faults = append(c.faults, fmt.Errorf(format, args...))
}

func (c *checker) source(of, id string) {
	if _, ok := c.s.Source(id); !ok {
		c.fail("%s: no source %q", of, id)
	}
}

func (c *checker) operations(of string, names []string) {
	for _, name := range names {
		if !cut.Known(name) {
			c.fail("%s: no operation %s", of, name)
		}
	}
}

func (c *checker) grade(m *material.Material) {
	if m.ID == "" || !slices.Contains(material.Groups, m.Group) {
		c.fail("material %q: group %q is none of ISO 513", m.ID, m.Group)
	}
	names := map[string]bool{}
	for _, k := range m.Conditions {
		if names[k.Name] {
			c.fail("material %s: condition %s stands twice", m.ID, k.Name)
		}
		names[k.Name] = true
		c.source("condition "+k.ID, k.Source)
	}
	for _, p := range m.Physical {
		c.source("property "+p.ID, p.Source)
	}
}

// record checks what every record has: an id of its own, its source, what it is
// about, and that the grade has the condition it names.
func (c *checker) record(kind string, p material.Provenance, scope material.Scope, condition string) {
	of := kind + " record " + p.ID
	if p.ID == "" || c.seen[p.ID] {
		c.fail("%s: the id is empty or stands twice", of)
	}
	c.seen[p.ID] = true
	c.source(of, p.Source)
	switch scope.Level {
	case materialLevel:
		m := c.grades[scope.Key]
		if m == nil {
			c.fail("%s: no material %q", of, scope.Key)
		} else if _, ok := m.Condition(condition); condition != "" && !ok {
			c.fail("%s: %s has no condition %q", of, m.ID, condition)
		}
	case subgroupLevel:
		group, subgroup, _ := strings.Cut(scope.Key, "/")
		if subgroup == "" || !slices.Contains(material.Groups, material.Group(group)) {
			c.fail("%s: no subgroup %q", of, scope.Key)
		}
	case groupLevel:
		if !slices.Contains(material.Groups, material.Group(scope.Key)) {
			c.fail("%s: no group %q", of, scope.Key)
		}
	default:
		c.fail("%s: no level %q", of, scope.Level)
	}
}
