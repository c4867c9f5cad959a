package wire

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// full says that no more faults are told of. It is asked before the dear ones are
// put into words, so that a body of nothing but faults costs no more than another.
func (d *decoder) full() bool {
	if len(d.faults) < mostFaults {
		return false
	}
	d.more++
	return true
}

// fault notes one fault.
func (d *decoder) fault(kind InputKind, code, field, message, fix string) {
	if d.full() {
		return
	}
	d.faults = append(d.faults, InputFault{kind, field, code, message, fix})
}

// field is the dotted path of the value being read.
func (d *decoder) field() string {
	var b strings.Builder
	for i := range d.depth {
		s := d.path[i]
		if s.index >= 0 {
			b.WriteByte('[')
			b.WriteString(strconv.Itoa(s.index))
			b.WriteByte(']')
			continue
		}
		if i > 0 {
			b.WriteByte('.')
		}
		b.WriteString(clip(s.name))
	}
	return b.String()
}

// fieldOf is the path of a member of the object that was just read.
func (d *decoder) fieldOf(member string) string {
	if d.depth == 0 {
		return member
	}
	return d.field() + "." + member
}

// leaf is the last part of the path: the name by which a message calls the value.
func (d *decoder) leaf() string {
	from := d.depth - 1
	for from > 0 && d.path[from].index >= 0 {
		from--
	}
	name := clip(d.path[from].name)
	for _, s := range d.path[from+1 : d.depth] {
		name += "[" + strconv.Itoa(s.index) + "]"
	}
	return name
}

// unknown reports a member that the object does not have.
func (d *decoder) unknown(p *plan, name string) {
	if d.full() {
		return
	}
	fix := "remove it"
	if symbol := p.nearestCode(name); symbol != "" {
		fix = "spell it as " + symbol + " or " + p.members[p.byCode[symbol]].name
	} else if near := nearestName(name, p.names()); near != "" {
		fix = "remove it or spell it as " + near
	} else if path := d.elsewhere(name); path != "" {
		fix = "it belongs in " + path
	} else if names := p.names(); len(names) <= 8 {
		fix = "remove it; allowed here are " + oneOf(names)
	}
	d.fault(Unreadable, "unknown-field", d.field(), "there is no member "+quote(name)+" here", fix)
}

// names lists the members that a caller may send.
func (p *plan) names() []string {
	var names []string
	for i := range p.members {
		if !p.members[i].ignored {
			names = append(names, p.members[i].name)
		}
	}
	return names
}

// elsewhere finds the one place of a request that does have a member of the name.
func (d *decoder) elsewhere(name string) string {
	if d.root == nil {
		return ""
	}
	var found []string
	d.root.visit("", func(path string, m *member) {
		if m.name == name && path != d.field() {
			found = append(found, path)
		}
	})
	if len(found) != 1 {
		return ""
	}
	return found[0]
}

// visit shows every member of a request that is not within a list, with its path.
func (p *plan) visit(prefix string, show func(path string, m *member)) {
	for i := range p.members {
		m := &p.members[i]
		if m.ignored {
			continue
		}
		show(prefix+m.name, m)
		if m.kind == kindStruct {
			m.plan.visit(prefix+m.name+".", show)
		}
	}
}

// notAWord reports a word that is none of those allowed.
func (d *decoder) notAWord(m *member, given string) {
	if d.full() {
		return
	}
	fix := "say " + oneOf(m.words)
	if near := nearestName(given, m.words); near != "" && len(m.words) > 2 {
		fix = "did you mean " + near + "? Allowed are " + oneOf(m.words)
	}
	kind, code := Invalid, "value-out-of-range"
	switch {
	case m.name == "units":
		kind, code, fix = Unreadable, "units-unknown", "say metric or inch"
	case m.name == "scale" && slices.Contains(m.words, "HRC"):
		code = "hardness-scale-unknown"
	}
	d.fault(kind, code, d.field(), d.leaf()+" is "+quote(given)+", which is not one of "+oneOf(m.words), fix)
}

// sort says in words what sort of value begins with a character.
func sort(c byte) string {
	switch c {
	case '"':
		return "text"
	case '{':
		return "an object"
	case '[':
		return "a list"
	case 't', 'f':
		return "true or false"
	case 'n':
		return "null"
	}
	return "a number"
}

// hardnessType may be sent as a bare number by mistake, which has its own code.
var hardnessType = reflect.TypeFor[Hardness]()

// wrongType reports a value of another type than the member's.
func (d *decoder) wrongType(n *node, given string) {
	if d.full() {
		return
	}
	name := d.leaf()
	message := name + " is " + sort(given[0])
	if given[0] != '{' && given[0] != '[' && given != "null" {
		message = name + " is " + clip(given)
		if given[0] == '"' {
			message = name + " is the text " + clip(given)
		}
	}
	code, fix := "wrong-type", ""
	switch n.kind {
	case kindFloat, kindAmount, kindOpt, kindInt:
		message += ", where a number belongs"
		fix = numberFix(given)
	case kindString:
		message += ", where text belongs"
		fix = "send text in double quotes"
		if isDigit(given[0]) || given[0] == '-' {
			fix = `write it in quotes: "` + clip(given) + `"`
		}
	case kindBool:
		message += ", where true or false belongs"
		fix = "send true or false without quotes"
	case kindStruct:
		message += ", where an object belongs"
		fix = "send an object with " + oneOf(first(n.plan.names(), 6))
		if n.typ == hardnessType && given[0] != '[' && given != "null" {
			code = "hardness-scale-missing"
			fix = `send the value with its scale, such as {"value": 180, "scale": "HBW"}; scales are HBW, HRC, HRB and HV`
		}
	case kindList:
		message += ", where a list belongs"
		fix = "send a list in square brackets"
	case kindMachine:
		message += ", where a machine belongs"
		fix = "send the id of a machine in quotes, or a machine object"
	default:
		message += ", where a word or a number belongs"
		fix = "send text, a number, true or false"
	}
	if given == "null" {
		fix = "leave it out, or " + fix
	}
	d.fault(Unreadable, code, d.field(), message, fix)
}

func first(names []string, most int) []string { return names[:min(len(names), most)] }

// numberFix says how to write what was sent where a number belongs.
func numberFix(given string) string {
	const plain = "send a number without unit"
	if given[0] != '"' {
		return plain
	}
	text := strings.TrimSpace(given[1 : len(given)-1])
	if _, end := readNumber(text); end > 0 && end == len(text) {
		return "write it without quotes: " + clip(text)
	}
	if point, ok := commaNumber(text); ok {
		return "write " + point + ", not " + text + ", without quotes"
	}
	if _, end := readNumber(text); end > 0 {
		return plain + ", such as " + clip(text[:end])
	}
	return plain
}

// commaNumber says how a number with a decimal comma is written.
func commaNumber(text string) (point string, ok bool) {
	if strings.Count(text, ",") != 1 || len(text) > 24 {
		return "", false
	}
	point = strings.Replace(text, ",", ".", 1)
	_, end := readNumber(point)
	return point, end == len(point)
}
