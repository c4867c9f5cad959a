package catalog

import (
	"iter"
	"slices"
	"strings"

	"swarf/domain/cut"
	"swarf/domain/material"
)

// shelf holds what applies to one grade, subgroup or group, in layers: its own records
// and those of the wider scopes, with what was chosen from them so far.
type shelf struct {
	grade  *material.Material  // nil for a subgroup or a group
	states []state             // of the grade's conditions, in their order
	layers [len(widths)]*layer // the grade's own, its subgroup's, its group's; nil where there are none

	chosenForce    memo[forceKey, cut.ForceChoice]
	chosenStarting memo[startingKey, cut.StartingChoice]
	chosenDrilling memo[string, *material.Force]
	chosenLife     memo[lifeKey, cut.LifeChoice]
}

// layer is the records of one scope in any state, in the order of ids.
type layer struct {
	force    []material.Force
	starting []material.Starting
	life     []material.Life
	by       map[string][]*material.Starting // starting values by operation, where there are many
}

// fewRecords are looked through faster than they are found in an index.
const fewRecords = 8

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

// counts reports a record that chooses: one in force, or one whose withdrawal must be told.
func counts(p *material.Provenance) bool { return p.Serves() || p.Unsafe() }

// allForce goes through the force records of all layers, the nearest first. A plastic
// has its own alone: one polymer says nothing of another.
func (sh *shelf) allForce(yield func(forceOn) bool) {
	for width, l := range sh.layers {
		if l == nil || width > 0 && sh.grade != nil && sh.grade.Group == material.O {
			continue
		}
		for i := range l.force {
			if counts(&l.force[i].Provenance) && !yield(forceOn{&l.force[i], width}) {
				return
			}
		}
	}
}

// startingFor goes through the starting values of all layers for an operation.
func (sh *shelf) startingFor(operation string) iter.Seq[startingOn] {
	return func(yield func(startingOn) bool) {
		for width, l := range sh.layers {
			if l == nil {
				continue
			}
			for _, r := range l.by[operation] {
				if !yield(startingOn{r, width}) {
					return
				}
			}
			for i := range l.starting {
				if l.by == nil && counts(&l.starting[i].Provenance) && slices.Contains(l.starting[i].Operations, operation) && !yield(startingOn{&l.starting[i], width}) {
					return
				}
			}
		}
	}
}

// allLife goes through the tool-life records of all layers, the nearest first.
func (sh *shelf) allLife(yield func(lifeOn) bool) {
	for width, l := range sh.layers {
		if l == nil {
			continue
		}
		for i := range l.life {
			if counts(&l.life[i].Provenance) && !yield(lifeOn{&l.life[i], width}) {
				return
			}
		}
	}
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

// shelve lays every record on the shelves it applies to. The records stand by scope,
// so that those of one lie together.
func (s *Snapshot) shelve() {
	layers := map[material.Scope]*layer{}
	of := func(scope material.Scope) *layer {
		if layers[scope] == nil {
			layers[scope] = &layer{}
		}
		return layers[scope]
	}
	runs(s.data.Force, func(r *material.Force) material.Scope { return r.Scope }, func(scope material.Scope, run []material.Force) { of(scope).force = run })
	runs(s.data.Starting, func(r *material.Starting) material.Scope { return r.Scope }, func(scope material.Scope, run []material.Starting) { of(scope).starting = run })
	runs(s.data.Life, func(r *material.Life) material.Scope { return r.Scope }, func(scope material.Scope, run []material.Life) { of(scope).life = run })
	s.subgroups, s.groups = map[string]*shelf{}, map[material.Group]*shelf{}
	for _, g := range material.Groups {
		s.groups[g] = &shelf{layers: [...]*layer{2: layers[material.Scope{Level: groupLevel, Key: string(g)}]}}
	}
	for scope, l := range layers {
		l.index()
		if scope.Level == subgroupLevel {
			group, _, _ := strings.Cut(scope.Key, "/")
			s.subgroups[scope.Key] = &shelf{layers: [...]*layer{1: l, 2: layers[material.Scope{Level: groupLevel, Key: group}]}}
		}
	}
	s.shelves, s.ids = make([]shelf, len(s.materials)), make(map[string]int32, len(s.materials))
	states := 0
	for _, m := range s.materials {
		states += len(m.Conditions)
	}
	room := make([]state, 0, states)
	for at, m := range s.materials {
		sh := &s.shelves[at]
		sh.grade, s.ids[m.ID] = m, int32(at)
		for width, scope := range scopesOf(m) {
			sh.layers[width] = layers[scope]
		}
		if own := sh.layers[0]; own != nil {
			m.Force = serving(own.force, func(r *material.Force) *material.Provenance { return &r.Provenance })
			m.Starting = serving(own.starting, func(r *material.Starting) *material.Provenance { return &r.Provenance })
			m.Life = serving(own.life, func(r *material.Life) *material.Provenance { return &r.Provenance })
		}
		from := len(room)
		for i := range m.Conditions {
			room = append(room, s.stateOf(m, &m.Conditions[i]))
		}
		sh.states = slices.Clip(room[from:])
	}
}

// serving is the records in force: the run itself where all are.
func serving[R any](run []R, of func(*R) *material.Provenance) []R {
	ended := func(r R) bool { return !of(&r).Serves() }
	if !slices.ContainsFunc(run, ended) {
		return run
	}
	return slices.DeleteFunc(slices.Clone(run), ended)
}

// scopesOf are the scopes whose records can serve a grade, the nearest first.
func scopesOf(m *material.Material) [len(widths)]material.Scope {
	return [...]material.Scope{
		{Level: materialLevel, Key: m.ID},
		{Level: subgroupLevel, Key: string(m.Group) + "/" + m.Subgroup},
		{Level: groupLevel, Key: string(m.Group)},
	}
}

// index sorts many starting values by operation.
func (l *layer) index() {
	if len(l.starting) <= fewRecords {
		return
	}
	l.by = map[string][]*material.Starting{}
	for i := range l.starting {
		if !counts(&l.starting[i].Provenance) {
			continue
		}
		for _, operation := range l.starting[i].Operations {
			l.by[operation] = append(l.by[operation], &l.starting[i])
		}
	}
}

// runs cuts records that stand by scope into those of each.
func runs[R any](records []R, of func(*R) material.Scope, do func(material.Scope, []R)) {
	for from := 0; from < len(records); {
		scope, to := of(&records[from]), from+1
		for to < len(records) && of(&records[to]) == scope {
			to++
		}
		do(scope, records[from:to:to])
		from = to
	}
}

// shelf finds where the records of a grade, else of a subgroup, else of a group lie.
func (s *Snapshot) shelf(grade *material.Material, group material.Group, subgroup string) *shelf {
	if grade != nil {
		if at, there := s.ids[grade.ID]; there {
			return &s.shelves[at]
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
		return s.onBrinell(material.ConversionOf(m.Group, m.Subgroup), material.Hardness{Value: value, Scale: r.Scale})
	}
	st := state{middle: on((r.Low + r.High) / 2)}
	low, high := on(r.Low), on(r.High)
	if low.hbw > 0 && high.hbw > 0 && !low.orMore && !high.orMore {
		st.lowHBW, st.highHBW = low.hbw, high.hbw
	}
	return st
}

// onBrinell reads a hardness in HBW by the table that the metal goes by; without one
// it stays unknown on another scale.
func (s *Snapshot) onBrinell(by material.Conversion, h material.Hardness) hardness {
	if h.Scale == material.HBW {
		return hardness{hbw: h.Value}
	}
	if by == material.NoTable {
		return hardness{}
	}
	if hbw, err := material.AusteniticHBW(h); err == nil && by == material.OfAustenitic {
		return hardness{hbw: hbw}
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
