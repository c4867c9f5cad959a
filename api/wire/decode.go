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
	var spelt spellings
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
				i, known = p.find(inner)
			}
			switch {
			case !known:
				d.unknown(p, inner)
				d.skip()
			case seen[i/64]&(1<<(i%64)) != 0 && p.members[i].codes != nil:
				spelt = d.again(&p.members[i], inner, spelt, i, p.members[i].of(v))
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
				if inner != m.name {
					spelt = spelt.with(i, inner)
				}
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
