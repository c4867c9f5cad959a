package catalog

import (
	"strings"

	"swarf/domain/cut"
	"swarf/domain/material"
)

// shelf holds every record that applies to one grade, subgroup or group: its own and
// those of the wider scopes, with what was chosen from them so far.
type shelf struct {
	grade    *material.Material // nil for a subgroup or a group
	states   []state            // of the grade's conditions, in their order
	force    []forceOn
	starting map[string][]startingOn // by operation
	life     []lifeOn

	chosenForce    memo[forceKey, cut.ForceChoice]
	chosenStarting memo[startingKey, cut.StartingChoice]
	chosenDrilling memo[string, *material.Force]
	chosenLife     memo[lifeKey, cut.LifeChoice]
}

// forceOn and startingOn are records with how far their scope is from the shelf: 0
// the grade itself, 1 its subgroup, 2 its group.
type forceOn struct {
	*material.Force
	width int
}

type startingOn struct {
	*material.Starting
	width int
}

// state is a condition's hardness on the scale of the records.
type state struct {
	lowHBW, highHBW float64 // 0 when it cannot be said
	middle          hardness
}

// hardness is how hard the work is, as far as records ask: the zero value is
// unknown; orMore says that it lies above hbw, where Brinell has ended.
type hardness struct {
	hbw    float64
	orMore bool
}

// widths name the scopes as a fall-back.
var widths = [...]string{"", subgroupLevel, groupLevel}

// shelve lays every record on the shelves it applies to.
func (s *Snapshot) shelve() {
	s.grades, s.subgroups, s.groups = map[string]*shelf{}, map[string]*shelf{}, map[material.Group]*shelf{}
	scopes := map[material.Scope]*shelf{} // records by their own scope
	own := func(scope material.Scope) *shelf {
		if scopes[scope] == nil {
			scopes[scope] = &shelf{starting: map[string][]startingOn{}}
		}
		return scopes[scope]
	}
	for i := range s.data.Force {
		r := &s.data.Force[i]
		if !r.Serves() && !r.Unsafe() {
			continue
		}
		sh := own(r.Scope)
		sh.force = append(sh.force, forceOn{Force: r})
	}
	for i := range s.data.Starting {
		r := &s.data.Starting[i]
		if !r.Serves() && !r.Unsafe() {
			continue
		}
		sh := own(r.Scope)
		for _, operation := range r.Operations {
			sh.starting[operation] = append(sh.starting[operation], startingOn{Starting: r})
		}
	}
	for i := range s.data.Life {
		if r := &s.data.Life[i]; r.Serves() || r.Unsafe() {
			sh := own(r.Scope)
			sh.life = append(sh.life, lifeOn{Life: r})
		}
	}
	for _, g := range material.Groups {
		s.groups[g] = gather(scopes, "", "", string(g))
	}
	for scope := range scopes {
		if scope.Level == subgroupLevel {
			group, _, _ := strings.Cut(scope.Key, "/")
			s.subgroups[scope.Key] = gather(scopes, "", scope.Key, group)
		}
	}
	for _, m := range s.materials {
		sh := gather(scopes, m.ID, string(m.Group)+"/"+m.Subgroup, string(m.Group))
		sh.grade = m
		for i := range m.Conditions {
			sh.states = append(sh.states, s.stateOf(m, &m.Conditions[i]))
		}
		s.grades[m.ID] = sh
	}
}

// gather makes the shelf of a grade, a subgroup (no grade) or a group (neither).
func gather(scopes map[material.Scope]*shelf, grade, subgroup, group string) *shelf {
	sh := &shelf{starting: map[string][]startingOn{}}
	for width, scope := range []material.Scope{{Level: materialLevel, Key: grade}, {Level: subgroupLevel, Key: subgroup}, {Level: groupLevel, Key: group}} {
		own := scopes[scope]
		if own == nil {
			continue
		}
		for _, r := range own.force {
			sh.force = append(sh.force, forceOn{r.Force, width})
		}
		for _, r := range own.life {
			sh.life = append(sh.life, lifeOn{r.Life, width})
		}
		for operation, records := range own.starting {
			for _, r := range records {
				sh.starting[operation] = append(sh.starting[operation], startingOn{r.Starting, width})
			}
		}
	}
	return sh
}

// shelf finds where the records of a grade, else of a subgroup, else of a group lie.
func (s *Snapshot) shelf(grade *material.Material, group material.Group, subgroup string) *shelf {
	if grade != nil {
		if sh := s.grades[grade.ID]; sh != nil {
			return sh
		}
		group, subgroup = grade.Group, grade.Subgroup
	}
	if subgroup != "" {
		if sh := s.subgroups[string(group)+"/"+subgroup]; sh != nil {
			return sh
		}
	}
	if sh := s.groups[group]; sh != nil {
		return sh
	}
	return &shelf{}
}

// condition finds a condition of the shelf's grade by name, -1 when it has none such.
func (sh *shelf) condition(name string) int {
	if sh.grade != nil {
		for i := range sh.grade.Conditions {
			if sh.grade.Conditions[i].Name == name {
				return i
			}
		}
	}
	return -1
}

// hardness is what is known of the work: the given one, else the middle of the
// condition's range.
func (sh *shelf) hardness(given hardness, condition string) hardness {
	if given.hbw > 0 {
		return given
	}
	if i := sh.condition(condition); i >= 0 {
		return sh.states[i].middle
	}
	return hardness{}
}

// stateOf reads a condition's range on the scale of the records.
func (s *Snapshot) stateOf(m *material.Material, c *material.Condition) state {
	r := c.Hardness
	if r.High <= 0 {
		return state{}
	}
	on := func(value float64) hardness {
		return s.onBrinell(m.Group, material.Hardness{Value: value, Scale: r.Scale})
	}
	st := state{middle: on((r.Low + r.High) / 2)}
	low, high := on(r.Low), on(r.High)
	if low.hbw > 0 && high.hbw > 0 && !low.orMore && !high.orMore {
		st.lowHBW, st.highHBW = low.hbw, high.hbw
	}
	return st
}

// onBrinell reads a hardness in HBW. The conversion table is for steel: iron and the
// metals with steel-like hardness follow it closely enough to choose a record by,
// light and copper alloys do not, so theirs stays unknown on another scale.
func (s *Snapshot) onBrinell(group material.Group, h material.Hardness) hardness {
	if h.Scale == material.HBW {
		return hardness{hbw: h.Value}
	}
	if group == material.N || group == material.O {
		return hardness{}
	}
	if hbw, err := s.hardness.ToHBW(h); err == nil {
		return hardness{hbw: hbw}
	}
	if top := s.hardness.Highest(h.Scale, material.HBW); top.Value > 0 && h.Value > top.Value {
		hbw, _ := s.hardness.ToHBW(top)
		return hardness{hbw, true}
	}
	return hardness{}
}

// outside says how far a record's range is from the hardness, as a ratio: 1 inside,
// or where either is unknown.
func (h hardness) outside(low, high float64) float64 {
	switch {
	case h.hbw <= 0:
		return 1
	case low > 0 && h.hbw < low && !h.orMore:
		return low / h.hbw
	case high > 0 && h.hbw > high:
		return h.hbw / high
	}
	return 1
}
