package wire

import (
	"bytes"
	"reflect"
	"slices"
	"strings"

	"swarf/domain/unit"
)

// AppendValue writes one value of an answer as AppendText writes it, without its name:
// the number bare, a word as it is. The field is a path as in AppendText
// (machine.limits[0].demand), in which a list may be asked by what its member says
// (machine.limits[limit=torque].demand), or the end of one that only one member has
// (spindle_speed). There is false when the answer does not have the value this time; a
// field that no answer of its type has is a fault of the parameter `field`.
func AppendValue(dst []byte, v any, system unit.System, field string) (out []byte, there bool, fault *InputFault) {
	p := planOf(reflect.Indirect(reflect.ValueOf(v)).Type())
	path, fault := p.leafPath(field)
	if fault != nil {
		return dst, false, fault
	}
	text, err := AppendText(nil, v, system)
	if err != nil {
		return dst, false, &InputFault{Unreadable, "field", "unknown-field", "the answer cannot be written: " + err.Error(), "report it"}
	}
	lines := bytes.Split(text, []byte{'\n'})
	if path, there = chosen(lines, path); !there {
		return dst, false, nil
	}
	for _, line := range lines {
		if rest, ok := bytes.CutPrefix(line, []byte(path+"=")); ok {
			return append(dst, rest...), true, nil
		}
	}
	return dst, false, nil
}

// chosen replaces [name=word] in a path by the place of the first member that says so.
func chosen(lines [][]byte, path string) (string, bool) {
	for at := 0; ; {
		open := strings.IndexByte(path[at:], '[')
		if open < 0 {
			return path, true
		}
		open += at
		end := open + strings.IndexByte(path[open:], ']')
		if at = end; !strings.Contains(path[open:end], "=") {
			continue
		}
		place, found := placeOf(lines, path[:open], path[open+1:end])
		if !found {
			return path, false
		}
		path = path[:open] + "[" + place + path[end:]
		at = open + len(place) + 1
	}
}

// placeOf is the place in a list of the first member with such a line.
func placeOf(lines [][]byte, list, line string) (string, bool) {
	for _, l := range lines {
		rest, ok := bytes.CutPrefix(l, []byte(list+"["))
		place, rest, closed := bytes.Cut(rest, []byte("]."))
		if ok && closed && string(rest) == line {
			return string(place), true
		}
	}
	return "", false
}

// leafPath finds the whole path of a field of an answer.
func (p *plan) leafPath(field string) (string, *InputFault) {
	if !bracketsFit(field) {
		return "", &InputFault{Unreadable, "field", "unknown-field", "field is " + quote(field) + ", whose brackets do not fit", "write a path such as machine.limits[0].demand"}
	}
	if p.has(withoutPlaces(field)) {
		return field, nil
	}
	var fits, names []string
	p.leaves("", func(path string) {
		if strings.HasSuffix(path, "."+field) {
			fits = append(fits, path)
		}
		names = append(names, path[strings.LastIndexByte(path, '.')+1:])
	})
	switch {
	case len(fits) == 1:
		return fits[0], nil
	case len(fits) > 1:
		return "", &InputFault{Unreadable, "field", "unknown-field", quote(field) + " alone does not say which member is meant", "say " + oneOf(first(fits, 6))}
	}
	fault := &InputFault{Unreadable, "field", "unknown-field", "field is " + quote(field) + ", which the answer does not have", "format=text shows all there are"}
	if near := nearestName(field[strings.LastIndexByte(field, '.')+1:], slices.Compact(slices.Sorted(slices.Values(names)))); near != "" {
		fault.Fix = "did you mean " + near + "?"
	}
	return "", fault
}

// bracketsFit reports whether every bracket is closed before the next opens.
func bracketsFit(field string) bool {
	open := false
	for _, c := range field {
		if c == '[' && open || c == ']' && !open {
			return false
		}
		open = c == '[' || open && c != ']'
	}
	return !open
}

// withoutPlaces takes the brackets out of a path.
func withoutPlaces(path string) string {
	var b strings.Builder
	for part := range strings.SplitSeq(path, "[") {
		if _, rest, ok := strings.Cut(part, "]"); ok {
			part = rest
		}
		b.WriteString(part)
	}
	return b.String()
}

// has reports whether a value stands at a path, lists passed through.
func (p *plan) has(path string) bool {
	name, rest, more := strings.Cut(path, ".")
	i, ok := p.byName[name]
	if !ok {
		return false
	}
	inner := p.members[i].inside()
	if !more {
		return inner == nil
	}
	return inner != nil && inner.has(rest)
}

// inside is the plan of what a member holds, nil for a value. What holds anything is taken
// for a value.
func (m *member) inside() *plan {
	if m.kind == kindList {
		return m.elem.plan
	}
	return m.plan
}

// leaves visits the paths of the values that stand outside lists.
func (p *plan) leaves(prefix string, visit func(path string)) {
	for i := range p.members {
		m := &p.members[i]
		switch {
		case m.kind == kindList, m.kind == kindUnitOf:
		case m.kind == kindStruct:
			m.plan.leaves(prefix+m.name+".", visit)
		default:
			visit(prefix + m.name)
		}
	}
}
