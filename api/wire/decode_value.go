package wire

import (
	"reflect"

	"swarf/domain/unit"
)

// value reads one value into a field or a place of a list.
func (d *decoder) value(n *node, m *member, q unit.Quantity, v reflect.Value) {
	if d.at >= len(d.s) {
		d.bad = &flaw{len(d.s), "the text ends where a value belongs"}
		return
	}
	c := d.s[d.at]
	switch n.kind {
	case kindFloat, kindAmount, kindOpt, kindInt:
		if c == '-' || isDigit(c) {
			d.number(n, m, q, v)
			return
		}
	case kindString:
		if c == '"' {
			d.text(n, m, v)
			return
		}
	case kindBool:
		if c == 't' || c == 'f' {
			d.truth(n, v)
			return
		}
	case kindStruct:
		if c == '{' {
			if n.ptr {
				v.Set(reflect.New(n.typ))
				v = v.Elem()
			}
			d.object(n.plan, v, q, false, false)
			return
		}
	case kindList:
		if c == '[' {
			d.list(n, q, v)
			return
		}
	case kindMachine:
		if c == '"' || c == '{' {
			d.machine(n, v)
			return
		}
	case kindRaw:
		start := d.at
		d.skip()
		if d.bad == nil {
			v.SetString(d.s[start:d.at])
		}
		return
	case kindAny:
		if c != 'n' && c != '{' && c != '[' {
			d.any(v)
			return
		}
	}
	start := d.at
	d.skip()
	if d.bad == nil {
		d.wrongType(n, d.s[start:d.at])
	}
}

// smallest is below whatever is made or measured, in any unit; quotients of numbers above it
// are finite.
const smallest = 1e-9

// number reads a number and converts it.
func (d *decoder) number(n *node, m *member, q unit.Quantity, v reflect.Value) {
	x, length := readNumber(d.s[d.at:])
	if length == 0 {
		d.bad = &flaw{d.at, noValue(d.s, d.at)}
		return
	}
	start := d.at
	d.at += length
	if !finite(x) {
		d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" is "+clip(d.s[start:d.at])+", more than can be computed with", "send a number of an ordinary size")
		return
	}
	if n.kind == kindInt {
		if x != float64(int64(x)) || x > 1<<53 || x < -1<<53 {
			d.fault(Unreadable, "wrong-type", d.field(), d.leaf()+" is "+clip(d.s[start:d.at])+", not a whole number", "send a whole number")
			return
		}
		if n.ptr {
			v.Set(reflect.New(n.typ))
			v = v.Elem()
		}
		v.SetInt(int64(x))
		return
	}
	if q != unit.None {
		if d.scope.state == unitsKnown {
			x = q.ToMetric(d.scope.system, x)
		} else if needsUnits(q) {
			d.scope.wanted = true
		}
		if !finite(x) {
			d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" is "+clip(d.s[start:d.at])+", more than can be computed with", "send a number of an ordinary size")
			return
		}
	}
	if x != 0 && x > -smallest && x < smallest {
		d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" is "+clip(d.s[start:d.at])+", less than can be computed with", "send zero, or a number of an ordinary size")
		return
	}
	switch {
	case n.kind == kindOpt:
		if n.ptr {
			v.Set(reflect.New(n.typ))
			v = v.Elem()
		}
		v.Field(0).SetFloat(x)
		v.Field(1).SetBool(true)
	case !n.ptr:
		v.SetFloat(x)
	case n.kind == kindFloat:
		*v.Addr().Interface().(**float64) = d.keep(x)
	default:
		amount := Amount(x)
		v.Set(reflect.ValueOf(&amount))
	}
}

// keep stores a number beside others, so that each needs no allocation of its own.
func (d *decoder) keep(x float64) *float64 {
	if len(d.floats) == cap(d.floats) {
		d.floats = make([]float64, 0, 16) // the pointers into the full one stay good
	}
	d.floats = append(d.floats, x)
	return &d.floats[len(d.floats)-1]
}

// truth reads true or false.
func (d *decoder) truth(n *node, v reflect.Value) {
	is := d.s[d.at] == 't'
	d.skip()
	if d.bad != nil {
		return
	}
	if !n.ptr {
		v.SetBool(is)
		return
	}
	if len(d.truths) == cap(d.truths) {
		d.truths = make([]bool, 0, 8)
	}
	d.truths = append(d.truths, is)
	*v.Addr().Interface().(**bool) = &d.truths[len(d.truths)-1]
}
