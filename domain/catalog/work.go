package catalog

import (
	"fmt"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
)

// WorkQuery is the material of a request and what it is cut with, as far as records
// are chosen by it.
type WorkQuery struct {
	Grade, Group string // one of them
	Condition    string // empty: the grade's first
	Hardness     *HardnessQuery
	Certificate  *CertificateQuery
	Operation    string
	Process      string // turning, milling, drilling; empty: the operation's
	Class        string
	ToolMaterial string // empty: the class's
	Finish       bool
}

// ResolveWork finds the grade or group, its condition and hardness, and chooses the
// records for the cut. It reports every fault at once; the work is then incomplete.
func (s *Snapshot) ResolveWork(q WorkQuery) (cut.Work, domain.Errors) {
	var w cut.Work
	var faults domain.Errors
	fault := func(e *domain.Error) {
		if e != nil {
			faults = append(faults, e)
		}
	}
	switch {
	case q.Grade != "" && q.Group != "":
		fault(&domain.Error{Kind: domain.Invalid, Field: "material.group", Code: "fields-conflict",
			Msg: "grade and group exclude each other", Fix: "keep one; the grade says more"})
	case q.Grade == "" && q.Group == "":
		fault(&domain.Error{Kind: domain.Unreadable, Field: "material.grade", Code: "field-missing",
			Msg: "no grade is named", Fix: "add any designation of the grade, or material.group for a what-if"})
	}
	if q.Grade != "" {
		m, err := s.FindGrade(q.Grade)
		if err != nil {
			err.Field = "material.grade"
			fault(err)
		} else {
			w.Grade, w.Group, w.Subgroup = m, m.Group, m.Subgroup
			fault(conditionOf(&w, q.Condition))
		}
	} else if q.Group != "" {
		fault(s.groupOf(&w, q))
	}
	faults = append(faults, readHardness(&w, q)...)
	if len(faults) > 0 {
		return w, faults
	}
	s.choose(&w, q, s.brinell(&w))
	return w, nil
}

// choose fills what the catalogue knows about the work.
func (s *Snapshot) choose(w *cut.Work, q WorkQuery, given hardness) {
	sh := s.shelf(w.Grade, w.Group, w.Subgroup)
	condition := q.Condition
	if w.Condition != nil {
		condition = w.Condition.Name
		st := sh.states[sh.condition(condition)]
		w.ConditionLowHBW, w.ConditionHighHBW = st.lowHBW, st.highHBW
	}
	h := sh.hardness(given, condition)
	if w.Hardness != nil {
		h = given
	}
	if !h.orMore {
		w.HardnessHBW = h.hbw
	}
	process := q.Process
	if process == "" {
		process = processOf(q.Operation)
	}
	ask := ForceQuery{Grade: w.Grade, Group: w.Group, Subgroup: w.Subgroup, Condition: condition,
		HardnessHBW: given.hbw, OrHarder: given.orMore, Process: process}
	w.Force = s.ChooseForce(ask)
	if process == "drilling" {
		w.DrillWork = s.ChooseDrillWork(ask)
	}
	w.Starting = s.ChooseStarting(StartingQuery{Grade: w.Grade, Group: w.Group, Subgroup: w.Subgroup, Condition: condition,
		HardnessHBW: given.hbw, OrHarder: given.orMore, Operation: q.Operation, Class: q.Class, ToolMaterial: q.ToolMaterial, Finish: q.Finish})
	if process != "turning" || continuous[q.Operation] {
		w.Life = s.ChooseLife(LifeQuery{Grade: w.Grade, Group: w.Group, Subgroup: w.Subgroup, Process: process, ToolMaterial: q.ToolMaterial, Class: q.Class})
	}
}

// continuous are the operations whose edges last as tests of turning tell: a groove or a
// thread works another edge.
var continuous = map[string]bool{"turning": true, "facing": true, "boring-internal": true}

// processOf is the process that an operation belongs to, empty when it is unknown.
func processOf(operation string) string {
	o, ok := cut.Find(operation)
	if !ok {
		return ""
	}
	if o.Family == cut.HoleFamily {
		return "drilling"
	}
	return string(o.Family)
}

// conditionOf sets the condition of a grade: the named one, else its first.
func conditionOf(w *cut.Work, name string) *domain.Error {
	m := w.Grade
	if name == "" {
		if len(m.Conditions) > 0 {
			w.Condition = &m.Conditions[0]
		}
		return nil
	}
	var ok bool
	if w.Condition, ok = m.Condition(name); ok {
		w.ConditionGiven = true
		return nil
	}
	w.Condition = nil
	return conditionUnknown(m.ID, name, m.Conditions)
}

func conditionUnknown(of, name string, known []material.Condition) *domain.Error {
	var names []string
	for i := range known {
		if !slices.Contains(names, known[i].Name) {
			names = append(names, known[i].Name)
		}
	}
	fix := "leave it out: none is on file"
	if len(names) > 0 {
		fix = "one of " + strings.Join(names, ", ")
	}
	return &domain.Error{Kind: domain.Invalid, Field: "material.condition", Code: "condition-unknown",
		Msg: fmt.Sprintf("%s has no condition %s", of, quoted(name)), Fix: fix}
}

// groupOf sets the group of a what-if. A condition must be one of some grade of it.
func (s *Snapshot) groupOf(w *cut.Work, q WorkQuery) *domain.Error {
	group := material.Group(strings.ToUpper(strings.TrimSpace(q.Group)))
	if !slices.Contains(material.Groups, group) {
		letters := make([]string, len(material.Groups))
		for i, g := range material.Groups {
			letters[i] = string(g)
		}
		return &domain.Error{Kind: domain.Invalid, Field: "material.group", Code: "value-out-of-range",
			Msg: fmt.Sprintf("no group %s", quoted(q.Group)),
			Fix: "one of " + strings.Join(letters, ", ") + " (ISO 513; O for what it does not cover)"}
	}
	w.Group = group
	if q.Condition == "" {
		return nil
	}
	var known []material.Condition
	for _, m := range s.materials {
		if m.Group != group {
			continue
		}
		if _, ok := m.Condition(q.Condition); ok {
			w.ConditionGiven = true
			return nil
		}
		known = append(known, m.Conditions...)
	}
	return conditionUnknown("group "+string(group), q.Condition, known)
}
