package wire

import (
	"reflect"
	"strings"

	"swarf/domain/unit"
)

// Selection is the part of an answer that a caller asked for with `fields`. A nil
// selection is all of it.
type Selection struct {
	plan *plan
	root *choice
}

// choice says which members of an object are written.
type choice struct {
	keep  []bool
	inner []*choice // of a member that is not written whole
}

// alwaysKept are the members that an answer never goes without: what its numbers
// mean, which data made them, and whether the cut may run.
var alwaysKept = []string{"ref", "units", "unit_of", "data_revision", "model_version", "verdict", "id"}

// Select makes a selection of the dotted paths for an answer such as the given one;
// a list on the way is passed through (findings.code). For a list or a batch the
// paths are those of its items, and problems among them stay whole. A path that
// the answer's type does not have is a fault of the parameter `fields`.
func Select(paths []string, answer any) (*Selection, []InputFault) {
	t := reflect.TypeOf(answer)
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	p := planOf(t)
	if rows := p.rowsOf(); rows != nil {
		if rows.elem.kind == kindStruct {
			p = rows.elem.plan
		} else if p = rowPlan(reflect.Indirect(reflect.ValueOf(answer)), rows); p == nil {
			return nil, nil // nothing but problems
		}
	}
	s := &Selection{p, newChoice(p)}
	for _, name := range alwaysKept {
		if i, ok := p.byName[name]; ok {
			s.root.keep[i] = true
		}
	}
	var faults []InputFault
	for _, path := range paths {
		if fault := s.root.add(p, path); fault != nil {
			faults = append(faults, *fault)
		}
	}
	return s, faults
}

// rowPlan is the plan of the first row that is not a problem.
func rowPlan(f reflect.Value, rows *member) *plan {
	list := rows.of(f)
	for i := range list.Len() {
		if row := reflect.Indirect(list.Index(i).Elem()); row.IsValid() && row.Type() != reflect.TypeFor[Problem]() {
			return planOf(row.Type())
		}
	}
	return nil
}

func newChoice(p *plan) *choice {
	return &choice{make([]bool, len(p.members)), make([]*choice, len(p.members))}
}

// add chooses the member at the end of a path.
func (c *choice) add(p *plan, path string) *InputFault {
	whole := path
	for {
		name, rest, more := strings.Cut(path, ".")
		i, ok := p.byName[name]
		if !ok {
			fault := &InputFault{Unreadable, "fields", "unknown-field", "fields names " + quote(whole) + ", which the answer does not have", "remove it"}
			var names []string
			for i := range p.members {
				names = append(names, p.members[i].name)
			}
			if near := nearestName(name, names); near != "" {
				fault.Fix = "did you mean " + strings.TrimSuffix(whole, path) + near + "?"
			} else if len(names) > 0 {
				fault.Fix = "there are " + oneOf(names)
			}
			return fault
		}
		m := &p.members[i]
		if !more {
			c.keep[i], c.inner[i] = true, nil
			return nil
		}
		inner := m.plan
		if m.kind == kindList {
			inner = m.elem.plan
		}
		if inner == nil {
			return &InputFault{Unreadable, "fields", "unknown-field", "fields names " + quote(whole) + ", but " + name + " has no members", "ask for " + strings.TrimSuffix(strings.TrimSuffix(whole, rest), ".")}
		}
		if c.keep[i] && c.inner[i] == nil {
			return c.check(inner, rest, whole) // chosen whole already
		}
		if c.inner[i] == nil {
			c.keep[i], c.inner[i] = true, newChoice(inner)
		}
		c, p, path = c.inner[i], inner, rest
	}
}

// check looks whether a path exists within a member that is chosen whole.
func (c *choice) check(p *plan, rest, whole string) *InputFault {
	fault := newChoice(p).add(p, rest)
	if fault != nil {
		fault.Message = "fields names " + quote(whole) + ", which the answer does not have"
	}
	return fault
}

// AppendJSON writes the selected fields of an answer as JSON.
func (s *Selection) AppendJSON(dst []byte, v any, system unit.System) ([]byte, error) {
	e := encoders.Get().(*encoder)
	defer encoders.Put(e)
	e.reset(system, s)
	return e.whole(dst, v)
}

// take is what is chosen of the object that is about to be written; nil is all.
func (e *encoder) take(p *plan) *choice {
	chosen := e.pending
	e.pending = nil
	if chosen == nil && e.selection != nil && p == e.selection.plan {
		chosen = e.selection.root
	}
	return chosen
}
