package wire

import (
	"fmt"
	"reflect"
	"strconv"

	"swarf/domain/unit"
)

// walker visits the values of an answer one by one, in the order of the struct,
// for the forms that are flat: text and CSV. It writes each value as JSON does,
// strings without quotes.
type walker struct {
	encoder
	path  []byte // of the value: members joined by dots, places in brackets
	order []byte // the same as numbers, so that paths sort in the order of the struct
	value []byte
	leaf  func(q unit.Quantity, text bool)
	mark  func() // here unit_of stands
	fill  func() // its names are known
}

// start walks over a whole answer.
func (w *walker) start(v any) error {
	f := reflect.ValueOf(v)
	if f.Kind() == reflect.Pointer {
		f = f.Elem()
	}
	w.object(planOf(f.Type()), f, unit.None)
	if w.err != nil {
		return fmt.Errorf("wire: %s %w", w.path, w.err)
	}
	return nil
}

// object visits the members of an object. After an error the path stays where the
// error is.
func (w *walker) object(p *plan, v reflect.Value, inherited unit.Quantity) {
	chosen := w.take(p)
	marked := false
	for i := range p.members {
		m := &p.members[i]
		if chosen != nil && !chosen.keep[i] {
			continue
		}
		f := m.of(v)
		if m.kind == kindUnitOf {
			if !w.open && w.mark != nil {
				w.open, marked = true, true
				w.mark()
			}
			continue
		}
		if m.ptr && f.IsNil() || m.omit && !m.ptr && m.kind != kindOpt && m.isEmpty(memoryOf(f)) {
			continue
		}
		q := m.quantity
		if m.inherit {
			q = inherited
		}
		long, deep := len(w.path), len(w.order)
		if long > 0 {
			w.path = append(w.path, '.')
		}
		w.path = append(w.path, m.name...)
		w.order = append(w.order, byte(i>>8), byte(i))
		if i == p.units && f.String() != "" {
			f = reflect.ValueOf(w.system.String())
		}
		if chosen != nil {
			w.pending = chosen.inner[i]
		}
		written := w.any(&m.node, f, q)
		w.pending = nil
		if w.err != nil {
			return
		}
		w.path, w.order = w.path[:long], w.order[:deep]
		if m.measured && w.open && written {
			w.note(m)
		}
	}
	if marked {
		w.open = false
		w.fill()
		w.forget()
	}
}

// any visits a value of any kind; written says that there was one.
func (w *walker) any(n *node, f reflect.Value, q unit.Quantity) (written bool) {
	if n.ptr && f.Kind() == reflect.Pointer {
		if f.IsNil() {
			return false
		}
		f = f.Elem()
	}
	switch n.kind {
	case kindOpt:
		if !memoryOf(f).opt().OK {
			return false
		}
	case kindString, kindRaw:
		w.value = append(w.value[:0], f.String()...)
		w.leaf(q, true)
		return true
	case kindStruct:
		w.object(n.plan, f, q)
		return true
	case kindList:
		w.list(n, f, q)
		return true
	case kindMachine:
		m := f.Interface().(MachineRef)
		if m.Inline != nil {
			w.object(n.plan, reflect.ValueOf(m.Inline).Elem(), unit.None)
			return true
		}
		w.value = append(w.value[:0], m.ID...)
		w.leaf(q, true)
		return true
	case kindAny:
		if f.IsNil() {
			return false
		}
		inner := f.Elem()
		if inner.Kind() == reflect.Pointer && !inner.IsNil() {
			inner = inner.Elem()
		}
		if inner.Kind() == reflect.Struct {
			w.object(planOf(inner.Type()), inner, unit.None)
			return true
		}
		if inner.Kind() == reflect.String {
			w.value = append(w.value[:0], inner.String()...)
			w.leaf(q, true)
			return true
		}
	}
	w.value = w.bare(w.value[:0], n, memoryOf(f), q)
	if w.err == nil {
		w.leaf(q, false)
	}
	return true
}

// list visits the values of a list.
func (w *walker) list(n *node, f reflect.Value, q unit.Quantity) {
	chosen := w.pending
	long, deep := len(w.path), len(w.order)
	for i := range f.Len() {
		w.path = append(w.path, '[')
		w.path = strconv.AppendInt(w.path, int64(i), 10)
		w.path = append(w.path, ']')
		w.order = append(w.order, byte(i>>8), byte(i))
		w.pending = chosen
		w.any(n.elem, f.Index(i), q)
		if w.err != nil {
			return
		}
		w.path, w.order = w.path[:long], w.order[:deep]
	}
}
