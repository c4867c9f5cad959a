package wire

import (
	"reflect"
	"strconv"
	"strings"

	"swarf/domain/unit"
)

// text reads a string, one of the allowed words if there are such.
func (d *decoder) text(n *node, m *member, v reflect.Value) {
	s, ok := d.readText()
	if !ok {
		return
	}
	if m != nil && m.words != nil {
		found := false
		for _, w := range m.words {
			if w == s {
				found = true
				break
			}
		}
		if !found {
			d.notAWord(m, s)
			return
		}
	}
	if n.ptr {
		v.Set(reflect.New(n.typ))
		v = v.Elem()
	}
	v.SetString(s)
}

// readText reads a string and judges its characters; ok is false when it is
// unfit, which has been reported.
func (d *decoder) readText() (text string, ok bool) {
	end, plain, bad := quoted(d.s, d.at)
	if bad != nil {
		d.bad = bad
		return "", false
	}
	text = d.s[d.at+1 : end-1]
	start := d.at
	d.at = end
	if len(text) > longestText {
		d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" is a text of "+strconv.Itoa(len(text))+" bytes", "send at most "+strconv.Itoa(longestText))
		return "", false
	}
	if plain {
		return text, true
	}
	if text, ok = unescape(text); !ok {
		d.bad = &flaw{start, "the string holds half of a surrogate pair"}
		return "", false
	}
	if strings.ContainsFunc(text, notText) {
		d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" holds a control character", "leave it out")
		return "", false
	}
	return text, true
}

// notText says which characters no text may hold.
func notText(r rune) bool {
	return r < ' ' && r != '\n' && r != '\t' && r != '\r' || r == 0x7f
}

// machine reads a machine: its id, or the object, which states its own units.
func (d *decoder) machine(n *node, v reflect.Value) {
	var m MachineRef
	if d.s[d.at] == '"' {
		id, ok := d.readText()
		if !ok {
			return
		}
		if id == "" {
			d.fault(Unreadable, "wrong-type", d.field(), d.leaf()+" is empty", "send the id of a machine, or leave it out")
			return
		}
		m.ID = id
	} else {
		m.Inline = new(Machine)
		d.object(n.plan, reflect.ValueOf(m.Inline).Elem(), unit.None, false, true)
		if d.bad != nil {
			return
		}
	}
	if n.ptr {
		v.Set(reflect.ValueOf(&m))
		return
	}
	v.Set(reflect.ValueOf(m))
}

// any reads a word, a number or a truth value.
func (d *decoder) any(v reflect.Value) {
	switch c := d.s[d.at]; c {
	case '"':
		if s, ok := d.readText(); ok {
			v.Set(reflect.ValueOf(s))
		}
	case 't', 'f':
		d.skip()
		v.Set(reflect.ValueOf(c == 't'))
	default:
		x, length := readNumber(d.s[d.at:])
		if length == 0 {
			d.bad = &flaw{d.at, noValue(d.s, d.at)}
			return
		}
		d.at += length
		if !finite(x) {
			d.fault(Invalid, "value-out-of-range", d.field(), d.leaf()+" is more than can be computed with", "send a number of an ordinary size")
			return
		}
		v.Set(reflect.ValueOf(x))
	}
}
