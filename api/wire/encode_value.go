package wire

import (
	"fmt"
	"reflect"
	"strconv"

	"swarf/domain/unit"
)

// computed writes a number of the answer.
func (e *encoder) computed(dst []byte, x float64, q unit.Quantity) []byte {
	if q != unit.None && e.system != unit.Metric {
		x = q.FromMetric(e.system, x)
	}
	if !finite(x) {
		e.notFinite(x)
		return dst
	}
	return appendComputed(dst, x)
}

// stored writes a number as it is on record.
func (e *encoder) stored(dst []byte, x float64, q unit.Quantity) []byte {
	if !finite(x) {
		e.notFinite(x)
		return dst
	}
	if q == unit.None || e.system == unit.Metric || q.Code(unit.Metric) == q.Code(e.system) {
		return appendStored(dst, x)
	}
	x = q.FromMetric(e.system, x)
	if !finite(x) {
		e.notFinite(x)
		return dst
	}
	return appendSigned(dst, x, convertedDigits)
}

// value writes a value of any kind, behind a pointer or not.
func (e *encoder) value(dst []byte, n *node, f reflect.Value, q unit.Quantity) []byte {
	if n.ptr && f.Kind() == reflect.Pointer {
		f = f.Elem()
	}
	if !f.IsValid() {
		return append(dst, "null"...)
	}
	return e.bare(dst, n, memoryOf(f), q)
}

// bare writes what stands at a place; nothing there is null.
func (e *encoder) bare(dst []byte, n *node, f memory, q unit.Quantity) []byte {
	if f.isNil() {
		return append(dst, "null"...)
	}
	switch n.kind {
	case kindString:
		return appendString(dst, f.text())
	case kindBool:
		return strconv.AppendBool(dst, f.flag())
	case kindInt:
		return strconv.AppendInt(dst, f.value(n.typ).Int(), 10)
	case kindFloat:
		return e.stored(dst, f.float(), q)
	case kindAmount:
		x := f.float()
		if !finite(x) {
			e.notFinite(x)
			return dst
		}
		return appendComputed(dst, x)
	case kindOpt:
		o := f.opt()
		if !o.OK {
			return append(dst, "null"...)
		}
		return e.computed(dst, o.V, q)
	case kindAny:
		return e.any(dst, f.value(n.typ))
	case kindMachine:
		return e.machine(dst, f.value(n.typ))
	case kindRaw:
		return append(dst, f.text()...)
	case kindStruct:
		return e.object(dst, n.plan, f, q)
	case kindList:
		return e.list(dst, n, f, q)
	}
	return append(dst, "null"...)
}

// list writes a list.
func (e *encoder) list(dst []byte, n *node, f memory, q unit.Quantity) []byte {
	start := len(dst)
	chosen := e.pending
	size := n.elem.size
	for i := range f.length() {
		dst = append(dst, ',')
		e.pending = chosen
		at := f.element(i, size)
		if n.elem.ptr {
			at = at.pointed()
		}
		dst = e.bare(dst, n.elem, at, q)
		if e.err != nil {
			e.within("[" + strconv.Itoa(i) + "]")
			return dst
		}
	}
	if len(dst) == start {
		return append(dst, '[', ']')
	}
	dst[start] = '['
	return append(dst, ']')
}

// any writes what a member of no fixed type holds. A struct behind a pointer is
// written as an object.
func (e *encoder) any(dst []byte, f reflect.Value) []byte {
	switch x := f.Interface().(type) {
	case nil:
		return append(dst, "null"...)
	case string:
		return appendString(dst, x)
	case bool:
		return strconv.AppendBool(dst, x)
	case int:
		return strconv.AppendInt(dst, int64(x), 10)
	case float64: // its unit stands beside it
		if !finite(x) {
			e.notFinite(x)
			return dst
		}
		if x == float64(int64(x)) {
			return appendStored(dst, x)
		}
		return appendSigned(dst, x, convertedDigits)
	case Amount:
		if !finite(float64(x)) {
			e.notFinite(float64(x))
			return dst
		}
		return appendComputed(dst, float64(x))
	}
	f = f.Elem()
	if f.Kind() == reflect.Pointer && !f.IsNil() {
		f = f.Elem()
	}
	if f.Kind() != reflect.Struct {
		e.err = fmt.Errorf("is a %s, which has no form on the wire", f.Type())
		return dst
	}
	return e.object(dst, planOf(f.Type()), memoryOf(f), unit.None)
}

// machine writes the id, or the object with its units.
func (e *encoder) machine(dst []byte, f reflect.Value) []byte {
	m := f.Interface().(MachineRef)
	if m.Inline == nil {
		return appendString(dst, m.ID)
	}
	inline := *m.Inline
	inline.Units = e.system.String()
	return e.object(dst, planOf(reflect.TypeFor[Machine]()), memoryOf(reflect.ValueOf(&inline).Elem()), unit.None)
}

func (e *encoder) notFinite(x float64) {
	e.err = fmt.Errorf("is %v, not a finite number", x)
}

// within puts the name of what holds the bad value before its path.
func (e *encoder) within(name string) {
	if e.path != "" && e.path[0] != '[' {
		name += "."
	}
	e.path = name + e.path
}
