package wire

import (
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"swarf/domain/unit"
)

// Decode reads a JSON body into a pointer to a struct of this package's kind and
// converts every number with a quantity to metric. It is strict: one object, each
// member known and once, each value of its type. It walks on after a fault, so
// that the caller learns of all at once; a member with a fault stays unset.
func Decode(body []byte, into any, opt DecodeOptions) Input {
	return decodeText(string(body), into, opt)
}

// DecodeRaw reads an item of a batch as Decode reads a body. Fields of faults are
// paths within the item.
func DecodeRaw(item Raw, into any, opt DecodeOptions) Input {
	return decodeText(string(item), into, opt)
}

// decoder is the state of one decoding. The text is kept, and the strings in the
// result are parts of it.
type decoder struct {
	s      string
	at     int
	opt    *DecodeOptions
	root   *plan // of the body
	faults []InputFault
	more   int   // faults beyond the most that are told
	bad    *flaw // the grammar is broken: stop
	scope  scope
	path   [deepest + 1]segment
	depth  int
	floats []float64 // where the pointers to numbers point
	truths []bool
}

// segment is one step of a path: a member, or a place in a list.
type segment struct {
	name  string
	index int // -1 for a member
}

// scope is the part of a request for which one statement of units holds.
type scope struct {
	state  unitsState
	system unit.System
	wanted bool // a number came that needs them
}

type unitsState uint8

const (
	unitsAbsent unitsState = iota
	unitsKnown
	unitsBad // stated, but not readable: reported where they stand
)

func decodeText(s string, into any, opt DecodeOptions) Input {
	v := reflect.ValueOf(into).Elem()
	d := decoder{s: s, opt: &opt, root: planOf(v.Type())}
	d.whole(d.root, v)
	if d.bad != nil {
		at := min(d.bad.at, len(s))
		return Input{Faults: []InputFault{{Unreadable, "", "json-invalid", place(s, at) + ": " + d.bad.what, "send exactly one JSON object in UTF-8"}}}
	}
	if d.more > 0 {
		d.faults = append(d.faults, InputFault{Unreadable, "", "json-invalid", "there are " + strconv.Itoa(d.more) + " more faults", "mend these first"})
	}
	return Input{System: d.scope.system, Readable: true, Faults: d.faults}
}

// whole reads the one object that a body is.
func (d *decoder) whole(p *plan, v reflect.Value) {
	if strings.HasPrefix(d.s, "\ufeff") {
		d.at = len("\ufeff") // RFC 8259, section 8.1, lets it be ignored
	}
	if !utf8.ValidString(d.s) {
		d.bad = &flaw{badUTF8(d.s), "these bytes are not UTF-8"}
		return
	}
	d.at = blank(d.s, d.at)
	switch {
	case d.at == len(d.s):
		d.bad = &flaw{d.at, "the body is empty"}
	case d.s[d.at] == '{':
		d.object(p, v, unit.None, true, false)
	default:
		if _, d.bad = skip(d.s, d.at, 0); d.bad == nil {
			d.bad = &flaw{d.at, "the body is " + sort(d.s[d.at]) + ", not an object"}
		}
	}
	if d.bad != nil {
		return
	}
	if d.at = blank(d.s, d.at); d.at != len(d.s) {
		d.bad = &flaw{d.at, "there is more after the end of the object"}
	}
}

func badUTF8(s string) int {
	for i, r := range s {
		if r == utf8.RuneError && !strings.HasPrefix(s[i:], "\ufffd") {
			return i
		}
	}
	return len(s)
}

// object reads the object that begins here. Top is the body's own; own says that
// it must state its units itself.
func (d *decoder) object(p *plan, v reflect.Value, inherited unit.Quantity, top, own bool) {
	if d.depth >= deepest {
		d.bad = &flaw{d.at, tooDeep}
		return
	}
	outer := d.scope
	scoped := top || p.units >= 0
	if scoped {
		d.enter(p, top, own)
	}
	d.depth++
	var seen [mostMembers / 64]uint64
	next := 0
	d.at = blank(d.s, d.at+1)
	if d.at < len(d.s) && d.s[d.at] == '}' {
		d.at++
	} else {
		for {
			inner, plain, at, bad := name(d.s, d.at)
			if bad != nil {
				d.bad = bad
				return
			}
			if !plain {
				if text, ok := unescape(inner); ok {
					inner = text
				}
			}
			d.at = at
			d.path[d.depth-1] = segment{inner, -1}
			i, known := next, next < len(p.members) && p.members[next].name == inner
			if !known {
				i, known = p.byName[inner]
			}
			switch {
			case !known:
				d.unknown(p, inner)
				d.skip()
			case seen[i/64]&(1<<(i%64)) != 0:
				d.fault(Unreadable, "json-invalid", d.field(), inner+" stands here twice", "keep one of them")
				d.skip()
			case p.members[i].ignored:
				d.skip()
			default:
				seen[i/64] |= 1 << (i % 64)
				m := &p.members[i]
				q := m.quantity
				if m.inherit {
					q = inherited
				}
				d.value(&m.node, m, q, m.of(v))
				next = i + 1
			}
			if d.bad != nil {
				return
			}
			var last bool
			if d.at, last, d.bad = after(d.s, d.at, '}'); d.bad != nil {
				return
			}
			if last {
				break
			}
		}
	}
	d.depth--
	if scoped {
		d.leave(p, v, top, own, outer)
	}
}

// list reads the list that begins here.
func (d *decoder) list(n *node, q unit.Quantity, v reflect.Value) {
	if d.depth >= deepest {
		d.bad = &flaw{d.at, tooDeep}
		return
	}
	d.depth++
	v.Set(reflect.MakeSlice(n.typ, 0, 0))
	d.at = blank(d.s, d.at+1)
	if d.at < len(d.s) && d.s[d.at] == ']' {
		d.at++
		d.depth--
		return
	}
	for count := 0; ; count++ {
		if count == v.Cap() {
			v.Grow(1)
		}
		v.SetLen(count + 1)
		d.path[d.depth-1] = segment{"", count}
		d.value(n.elem, nil, q, v.Index(count))
		if d.bad != nil {
			return
		}
		var last bool
		if d.at, last, d.bad = after(d.s, d.at, ']'); d.bad != nil {
			return
		}
		if last {
			d.depth--
			return
		}
	}
}

// skip passes over a value, checking its grammar.
func (d *decoder) skip() {
	end, bad := skip(d.s, d.at, d.depth)
	if bad != nil {
		d.bad = bad
		return
	}
	d.at = end
}

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
