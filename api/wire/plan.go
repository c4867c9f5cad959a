package wire

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"swarf/domain/unit"
)

// kind is how a value is read and written.
type kind uint8

const (
	kindString  kind = iota
	kindBool         // true or false
	kindInt          // a whole number, written as it is
	kindFloat        // a stored number: converted, its digits kept
	kindAmount       // a computed number that is in the caller's units already
	kindOpt          // a computed number that may be absent
	kindAny          // a word, a number, a truth value, or a struct behind a pointer
	kindUnitOf       // the place of the map from member to UCUM code
	kindMachine      // a machine: its id or the object
	kindRaw          // JSON text, neither read nor changed
	kindStruct       // an object
	kindList         // a list
)

// node says how one Go type is read and written.
type node struct {
	kind kind
	ptr  bool         // a pointer to what kind says
	typ  reflect.Type // without the pointer
	size uintptr      // of a value of the Go type, pointer or not
	elem *node        // of a list
	plan *plan        // of a struct
}

// member is one member of an object.
type member struct {
	node
	name     string
	codes    []string // ISO 13399 symbols that name it as well on input
	lead     string   // ,"name":
	index    []int    // of the field, through the structs it is embedded in
	offset   uintptr  // of the field from the start of the outermost struct
	omit     bool     // left out when empty
	ignored  bool     // accepted on input, and not looked at
	dotted   bool     // a query must name the parent too
	own      bool     // a query must name it before its members
	short    string   // the trade's letter, by which a query may call it besides
	measured bool     // has a quantity
	inherit  bool     // has the quantity of the member that holds its object
	quantity unit.Quantity
	id       int       // of the pair of name and quantity, over all types
	entry    [2]string // ,"name":"code" by unit system
	words    []string  // the allowed ones; nil when any
}

// of finds the member's field in its struct.
func (m *member) of(v reflect.Value) reflect.Value { return v.FieldByIndex(m.index) }

// needsUnits says whether a number of the quantity makes a body state its units.
func needsUnits(q unit.Quantity) bool {
	switch q {
	case unit.None, unit.Angle, unit.Time, unit.Seconds, unit.Rotation:
		return false
	}
	return true
}

// plan is how one struct is read and written: worked out once per type.
type plan struct {
	typ     reflect.Type
	members []member
	byName  map[string]int
	byCode  map[string]int // ISO 13399 symbol → member; nil where none has one
	units   int            // the member `units`, or -1
	marker  bool           // has a place for unit_of
}

// mostMembers is what the decoder can keep count of.
const mostMembers = 128

var plans = struct {
	sync.RWMutex
	byType map[reflect.Type]*plan
	ids    map[string]int // "name quantity" → id
}{byType: map[reflect.Type]*plan{}, ids: map[string]int{}}

// planOf returns the plan of a struct type. A type or tag that the codec does not
// know panics: it is a mistake in the code, and the tests of this package compile
// every shape.
func planOf(t reflect.Type) *plan {
	plans.RLock()
	p := plans.byType[t]
	plans.RUnlock()
	if p != nil {
		return p
	}
	plans.Lock()
	defer plans.Unlock()
	return compile(t)
}

// compile makes the plan of a type and of those it holds. The caller holds the lock.
func compile(t reflect.Type) *plan {
	if p := plans.byType[t]; p != nil {
		return p
	}
	if t.Kind() != reflect.Struct {
		panic(fmt.Sprintf("wire: %s is not a struct", t))
	}
	p := &plan{typ: t, units: -1, byName: map[string]int{}}
	plans.byType[t] = p // first, for types that hold themselves
	p.add(t, nil, 0)
	if len(p.members) > mostMembers {
		panic(fmt.Sprintf("wire: %s has more than %d members", t, mostMembers))
	}
	return p
}

// add takes up the fields of a struct, and those of a struct embedded in it.
func (p *plan) add(t reflect.Type, outer []int, offset uintptr) {
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(slices.Clone(outer), i)
		tag, tagged := f.Tag.Lookup("json")
		switch {
		case tag == "-":
			continue
		case f.Anonymous && !tagged && f.Type.Kind() == reflect.Struct:
			p.add(f.Type, index, offset+f.Offset)
			continue
		case !f.IsExported():
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if name == "" {
			panic(fmt.Sprintf("wire: %s.%s has no name in its json tag", p.typ, f.Name))
		}
		if _, twice := p.byName[name]; twice {
			panic(fmt.Sprintf("wire: %s has the member %s twice", p.typ, name))
		}
		m := member{node: nodeOf(f.Type), name: name, index: index, offset: offset + f.Offset}
		m.lead = `,"` + name + `":`
		m.omit = options == "omitempty" || options == "omitzero"
		m.ignored = f.Tag.Get("ignored") == "true" || m.kind == kindUnitOf
		m.dotted, m.own = f.Tag.Get("flat") == "dotted", f.Tag.Get("flat") == "own"
		m.short = f.Tag.Get("short")
		if words := f.Tag.Get("enum"); words != "" {
			m.words = strings.Split(words, ",")
		}
		m.measure(f.Tag.Get("q"), p.typ)
		p.code(&m, f.Tag.Get("iso"))
		p.byName[name] = len(p.members)
		if name == "units" && m.kind == kindString {
			p.units = len(p.members)
		}
		p.marker = p.marker || m.kind == kindUnitOf
		p.members = append(p.members, m)
	}
}

// measure reads the q tag.
func (m *member) measure(tag string, t reflect.Type) {
	switch tag {
	case "":
		return
	case "inherit":
		m.inherit = true
		return
	}
	q, ok := unit.Named(tag)
	if !ok {
		panic(fmt.Sprintf("wire: %s.%s has the unknown quantity %q", t, m.name, tag))
	}
	if q == unit.None {
		return
	}
	m.measured, m.quantity = true, q
	pair := m.name + " " + tag
	id, known := plans.ids[pair]
	if !known {
		id = len(plans.ids)
		plans.ids[pair] = id
	}
	m.id = id
	for _, s := range []unit.System{unit.Metric, unit.Inch} {
		m.entry[s] = `,"` + m.name + `":"` + q.Code(s) + `"`
	}
}

var (
	optType     = reflect.TypeFor[unit.Opt]()
	amountType  = reflect.TypeFor[Amount]()
	unitOfType  = reflect.TypeFor[UnitOf]()
	machineType = reflect.TypeFor[MachineRef]()
	rawType     = reflect.TypeFor[Raw]()
)

func nodeOf(t reflect.Type) node {
	n := node{typ: t, size: t.Size()}
	if t.Kind() == reflect.Pointer {
		n.ptr, n.typ = true, t.Elem()
		t = n.typ
	}
	switch t {
	case optType:
		n.kind = kindOpt
		return n
	case amountType:
		n.kind = kindAmount
		return n
	case unitOfType:
		n.kind = kindUnitOf
		return n
	case machineType:
		n.kind = kindMachine
		n.plan = compile(reflect.TypeFor[Machine]())
		return n
	case rawType:
		n.kind = kindRaw
		return n
	}
	switch t.Kind() {
	case reflect.String:
		n.kind = kindString
	case reflect.Bool:
		n.kind = kindBool
	case reflect.Int, reflect.Int64:
		n.kind = kindInt
	case reflect.Float64:
		n.kind = kindFloat
	case reflect.Interface:
		n.kind = kindAny
	case reflect.Struct:
		n.kind = kindStruct
		n.plan = compile(t)
	case reflect.Slice:
		n.kind = kindList
		elem := nodeOf(t.Elem())
		n.elem = &elem
	default:
		panic(fmt.Sprintf("wire: a member cannot be a %s", t))
	}
	return n
}
