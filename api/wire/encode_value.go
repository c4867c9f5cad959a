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

// value writes a value of any kind.
func (e *encoder) value(dst []byte, n *node, f reflect.Value, q unit.Quantity) []byte {
	if n.ptr {
		if f.IsNil() {
			return append(dst, "null"...)
		}
		f = f.Elem()
	}
	return e.bare(dst, n, f, q)
}

// bare writes a value that stands behind no pointer.
func (e *encoder) bare(dst []byte, n *node, f reflect.Value, q unit.Quantity) []byte {
	switch n.kind {
	case kindString:
		return appendString(dst, f.String())
	case kindBool:
		return strconv.AppendBool(dst, f.Bool())
	case kindInt:
		return strconv.AppendInt(dst, f.Int(), 10)
	case kindFloat:
		return e.stored(dst, f.Float(), q)
	case kindAmount:
		x := f.Float()
		if !finite(x) {
			e.notFinite(x)
			return dst
		}
		return appendComputed(dst, x)
	case kindOpt:
		o := optOf(f)
		if !o.OK {
			return append(dst, "null"...)
		}
		return e.computed(dst, o.V, q)
	case kindAny:
		return e.any(dst, f)
	case kindMachine:
		return e.machine(dst, f)
	case kindRaw:
		return append(dst, f.String()...)
	case kindStruct:
		return e.object(dst, n.plan, f, q)
	case kindList:
		return e.list(dst, n, f, q)
	}
	return append(dst, "null"...)
}

// list writes a list.
func (e *encoder) list(dst []byte, n *node, f reflect.Value, q unit.Quantity) []byte {
	start := len(dst)
	chosen := e.pending
	for i := range f.Len() {
		dst = append(dst, ',')
		e.pending = chosen
		dst = e.value(dst, n.elem, f.Index(i), q)
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
	return e.object(dst, planOf(f.Type()), f, unit.None)
}

// machine writes the id, or the object with its units.
func (e *encoder) machine(dst []byte, f reflect.Value) []byte {
	m := f.Interface().(MachineRef)
	if m.Inline == nil {
		return appendString(dst, m.ID)
	}
	inline := *m.Inline
	inline.Units = e.system.String()
	return e.object(dst, planOf(reflect.TypeFor[Machine]()), reflect.ValueOf(&inline).Elem(), unit.None)
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
