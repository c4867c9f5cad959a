package wire

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// A member with the tag iso is a property of ISO 13399. Its symbols (DC, APMX, ...) name it
// as well on input, in bodies and in queries; answers name it readably. A property that is
// given under two of its names must have one value.

// Property is a member that ISO 13399 has a symbol for.
type Property struct {
	Name  string   // the readable name
	Codes []string // its symbols, the one to write first
}

// Properties lists the members of a shape that ISO 13399 has symbols for, in the order of
// the struct.
func Properties(shape reflect.Type) []Property {
	var list []Property
	p := planOf(shape)
	for i := range p.members {
		if m := &p.members[i]; m.codes != nil {
			list = append(list, Property{m.name, m.codes})
		}
	}
	return list
}

// code takes up the symbols of the member that is about to be added.
func (p *plan) code(m *member, tag string) {
	if tag == "" {
		return
	}
	if m.kind != kindFloat || !m.ptr {
		panic(fmt.Sprintf("wire: %s.%s has a symbol, but is no number that may be absent", p.typ, m.name))
	}
	if p.byCode == nil {
		p.byCode = map[string]int{}
	}
	m.codes = strings.Split(tag, ",")
	for _, symbol := range m.codes {
		if _, twice := p.byCode[symbol]; twice || strings.ToUpper(symbol) != symbol {
			panic(fmt.Sprintf("wire: %s.%s has the symbol %q, which is not its own or not in capitals", p.typ, m.name, symbol))
		}
		p.byCode[symbol] = len(p.members)
	}
}

// find looks a member up by its name or a symbol.
func (p *plan) find(name string) (int, bool) {
	i, known := p.byName[name]
	if !known {
		i, known = p.byCode[name]
	}
	return i, known
}

// nearestCode is the symbol that a name is but for capitals, or "".
func (p *plan) nearestCode(name string) string {
	if symbol := strings.ToUpper(name); len(name) <= 8 {
		if _, known := p.byCode[symbol]; known {
			return symbol
		}
	}
	return ""
}

// spellings are the names that members of an object came by, where one was a symbol.
type spellings map[int][]string

func (s spellings) with(i int, name string) spellings {
	if s == nil {
		s = spellings{}
	}
	s[i] = append(s[i], name)
	return s
}

// again reads the value of a property that was given already.
func (d *decoder) again(m *member, name string, s spellings, i int, v reflect.Value) spellings {
	if s[i] == nil {
		s = s.with(i, m.name)
	}
	if slices.Contains(s[i], name) {
		d.fault(Unreadable, "json-invalid", d.field(), name+" stands here twice", "keep one of them")
		d.skip()
		return s
	}
	before := s[i][0]
	s = s.with(i, name)
	faults, start := len(d.faults), d.at
	second := reflect.New(v.Type()).Elem()
	d.value(&m.node, m, m.quantity, second)
	if d.bad != nil || len(d.faults) > faults || v.IsNil() || *v.Interface().(*float64) == *second.Interface().(*float64) {
		return s
	}
	d.fault(Invalid, "fields-conflict", d.field(), twoValues(before, Decimal(m.quantity.FromMetric(d.scope.system, *v.Interface().(*float64))), name, d.s[start:d.at]), "give one of them, or the same value twice")
	return s
}

// symbols adds the names of a property by its symbols to those of a query.
func (f *flatNames) symbols(path string, m *member, bySuffix map[string][]string) {
	before := strings.TrimSuffix(path, m.name)
	for _, symbol := range m.codes {
		for suffix, more := before+symbol, true; more; {
			f.codes[suffix] = true
			bySuffix[suffix] = append(bySuffix[suffix], path)
			_, suffix, more = strings.Cut(suffix, ".")
		}
	}
}

// agree finds fault with a property that is given under two names with two values.
func (f *flatNames) agree(path, name, text, other, before string) *InputFault {
	m := f.members[path]
	value, fault := jsonValue(m, name, text)
	if fault != nil {
		fault.Field = path
		return fault
	}
	first, _ := jsonValue(m, other, before)
	a, read := readNumber(first)
	if b, _ := readNumber(value); read == 0 || a == b {
		return nil // what cannot be read has its fault already
	}
	return &InputFault{Invalid, path, "fields-conflict", twoValues(other, before, name, text), "give one of them, or the same value twice"}
}

// twoValues says that two names of one property have two values.
func twoValues(first, value, second, other string) string {
	return first + " (" + clip(value) + ") and " + second + " (" + clip(other) + ") are the same property with different values"
}
