package wire

import (
	"fmt"
	"reflect"
	"sync"

	"swarf/domain/unit"
)

// AppendJSON writes a struct of this package's kind as a JSON object, its numbers
// converted from metric to the system:
//
//   - unit.Opt is a computed number: converted, rounded to 6 significant digits,
//     left out when absent;
//   - Amount is in the caller's units already: rounded likewise;
//   - float64 is a stored number: its digits as they are, or to 13 significant
//     digits when its unit was converted.
//
// No number has an exponent. Lists are [] when empty. The member unit_of is filled
// with the code of every member with a quantity that was written inside the same
// object, once; objects inside it write no unit_of of their own. A member `units`
// that is not empty is written as the system. A number that is not finite is an
// error that names its path.
func AppendJSON(dst []byte, v any, system unit.System) ([]byte, error) {
	return (*Selection)(nil).AppendJSON(dst, v, system)
}

// whole writes a whole answer.
func (e *encoder) whole(dst []byte, v any) ([]byte, error) {
	value := reflect.ValueOf(v)
	if value.Kind() == reflect.Pointer {
		value = value.Elem()
	}
	out := e.object(dst, planOf(value.Type()), memoryOf(value), unit.None)
	if e.err != nil {
		return dst, fmt.Errorf("wire: %s %w", e.path, e.err)
	}
	return out, nil
}

// encoder is the state of one encoding.
type encoder struct {
	system unit.System
	open   bool      // a unit_of waits for names
	seen   []uint64  // ids of the names it has
	names  []*member // the names it has
	units  []byte    // the text of unit_of
	err    error
	path   string // of the value behind err

	selection *Selection
	pending   *choice // for the object that comes next
}

var encoders = sync.Pool{New: func() any { return &encoder{} }}

func (e *encoder) reset(system unit.System, s *Selection) {
	e.system, e.open, e.err, e.path = system, false, nil, ""
	e.selection, e.pending = s, nil
	e.forget()
}

// forget empties unit_of.
func (e *encoder) forget() {
	e.names = e.names[:0]
	clear(e.seen)
}

// note puts the member's name into unit_of.
func (e *encoder) note(m *member) {
	at, bit := m.id/64, uint64(1)<<(m.id%64)
	for at >= len(e.seen) {
		e.seen = append(e.seen, 0)
	}
	if e.seen[at]&bit == 0 {
		e.seen[at] |= bit
		e.names = append(e.names, m)
	}
}

// object writes an object. Inherited is the quantity of the member that holds it.
func (e *encoder) object(dst []byte, p *plan, v memory, inherited unit.Quantity) []byte {
	start := len(dst)
	marker := -1
	chosen := e.take(p)
	for i := range p.members {
		m := &p.members[i]
		if chosen != nil && !chosen.keep[i] {
			continue
		}
		f := v.field(m)
		if m.ptr {
			if f = f.pointed(); m.omit && f.isNil() {
				continue
			}
		}
		before := len(dst)
		switch m.kind {
		case kindOpt:
			if m.ptr && f.isNil() {
				continue
			}
			o := f.opt()
			if !o.OK {
				continue
			}
			dst = append(dst, m.lead...)
			q := m.quantity
			if m.inherit {
				q = inherited
			}
			dst = e.computed(dst, o.V, q)
		case kindUnitOf:
			if !e.open {
				e.open, marker = true, len(dst)
			}
			continue
		case kindString:
			if m.ptr && f.isNil() {
				dst = append(append(dst, m.lead...), "null"...)
				continue
			}
			s := f.text()
			if s == "" && m.omit && !m.ptr {
				continue
			}
			if i == p.units && s != "" {
				s = e.system.String()
			}
			dst = append(dst, m.lead...)
			dst = appendString(dst, s)
		default:
			if m.omit && !m.ptr && m.isEmpty(f) {
				continue
			}
			dst = append(dst, m.lead...)
			q := m.quantity
			if m.inherit {
				q = inherited
			}
			if chosen != nil {
				e.pending = chosen.inner[i]
			}
			dst = e.bare(dst, &m.node, f, q)
			e.pending = nil
		}
		if e.err != nil {
			e.within(m.name)
			return dst[:before]
		}
		if m.measured && e.open {
			e.note(m)
		}
	}
	if marker >= 0 {
		dst = e.fill(dst, marker)
	}
	if len(dst) == start {
		return append(dst, '{', '}')
	}
	dst[start] = '{' // over the first comma
	return append(dst, '}')
}

// isEmpty says whether a member that is no pointer and may be left out is.
func (m *member) isEmpty(f memory) bool {
	switch m.kind {
	case kindList:
		return f.length() == 0
	case kindRaw, kindString:
		return f.text() == ""
	case kindBool:
		return !f.flag()
	case kindFloat, kindAmount:
		return f.float() == 0
	}
	return f.value(m.typ).IsZero()
}

// fill puts unit_of at its place, now that the names are known.
func (e *encoder) fill(dst []byte, at int) []byte {
	e.open = false
	if len(e.names) == 0 {
		return dst
	}
	e.units = append(e.units[:0], `,"unit_of":`...)
	first := len(e.units)
	for _, m := range e.names {
		e.units = append(e.units, m.entry[e.system]...)
	}
	e.units[first] = '{'
	e.units = append(e.units, '}')
	e.forget()
	return insert(dst, at, e.units)
}

// insert puts text into a buffer at a place.
func insert(dst []byte, at int, text []byte) []byte {
	end := len(dst)
	dst = append(dst, text...)
	copy(dst[at+len(text):], dst[at:end])
	copy(dst[at:], text)
	return dst
}
