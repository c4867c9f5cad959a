package wire

import (
	"net/url"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// DecodeQuery reads a request from query parameters: each member by its own name
// where the request has only one such, by its dotted path (or the end of the path
// that is its alone) always. Lists of words and of machines are separated by
// commas; a machine is an id. The parameters become a JSON body, which Decode
// reads, so GET and POST give the same digits.
//
// Beyond JSON, a number may have zeros in front and nothing before or after its
// point, as machine controls write it: 0012.500, .5, 12.
func DecodeQuery(values url.Values, into any, opt DecodeOptions) Input {
	p := planOf(reflect.TypeOf(into).Elem())
	flat := flatOf(p)
	names := make([]string, 0, len(values))
	for name := range values {
		if !slices.Contains(opt.Reserved, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var faults []InputFault
	given := make(map[string]string, len(names))
	givenAs := make(map[string]string, len(names))
	for _, name := range names {
		if len(faults) >= mostFaults {
			faults = append(faults, InputFault{Unreadable, "", "unknown-parameter", "there are more faults", "mend these first"})
			break
		}
		path, ok := flat.paths[name]
		if !ok {
			faults = append(faults, flat.unknown(name))
			continue
		}
		list := values[name]
		other, twice := givenAs[path]
		givenAs[path] = name
		switch text := list[0]; {
		case len(list) > 1:
			faults = append(faults, InputFault{Unreadable, path, "wrong-type", name + " is given " + strconv.Itoa(len(list)) + " times", "give it once"})
		case twice && (flat.codes[name] || flat.codes[other]):
			if fault := flat.agree(path, name, text, other, values.Get(other)); fault != nil {
				faults = append(faults, *fault)
			}
		case twice:
			faults = append(faults, InputFault{Unreadable, path, "wrong-type", name + " and " + other + " are the same member", "give one of them"})
			delete(given, path)
		case text == "":
			faults = append(faults, InputFault{Unreadable, path, "wrong-type", name + " is empty", "give a value or leave it out"})
		default:
			value, fault := jsonValue(flat.members[path], name, text)
			if fault != nil {
				fault.Field = path
				faults = append(faults, *fault)
				continue
			}
			given[path] = value
		}
	}
	body, _ := appendQuery(nil, p, "", given)
	in := decodeText(string(body), into, opt)
	in.Faults = append(faults, in.Faults...)
	return in
}

// FlatNames lists the query parameters of a request type with the path of the
// member each stands for: its own name, or the shortest dotted one where that name
// stands twice. Longer dotted paths are allowed besides, and short names (ShortNames).
func FlatNames(t reflect.Type) map[string]string {
	flat := flatOf(planOf(t))
	shortest := make(map[string]string, len(flat.members))
	for name, path := range flat.paths {
		if flat.codes[name] || flat.short[name] != nil {
			continue
		}
		if best, ok := shortest[path]; !ok || len(name) < len(best) {
			shortest[path] = name
		}
	}
	names := make(map[string]string, len(shortest))
	for path, name := range shortest {
		names[name] = path
	}
	return names
}

// ShortNames lists the short query parameters of a request type with the path of the
// member each stands for: codes of ISO 13399 and the letters of ISO 3002, ISO 3685, ISO 6892 and ISO 68, so that the
// longest request keeps within the URLs that every caller can send.
func ShortNames(t reflect.Type) map[string]string {
	flat := flatOf(planOf(t))
	names := make(map[string]string, len(flat.short))
	for name := range flat.codes {
		if path := flat.paths[name]; path != "" && !strings.Contains(name, ".") {
			names[name] = path
		}
	}
	for name := range flat.short {
		if path := flat.paths[name]; path != "" {
			names[name] = path
		}
	}
	return names
}

// flatNames are the names that query parameters may have.
type flatNames struct {
	paths   map[string]string   // name, dotted or not → path
	members map[string]*member  // by path
	twice   map[string][]string // names that need their parent → paths
	objects map[string]*member  // members that only their own members can set
	codes   map[string]bool     // names that are ISO 13399 symbols, dotted or not
	short   map[string][]string // short name → paths
}

var flats sync.Map // *plan → *flatNames

func flatOf(p *plan) *flatNames {
	if f, ok := flats.Load(p); ok {
		return f.(*flatNames)
	}
	f := &flatNames{map[string]string{}, map[string]*member{}, map[string][]string{}, map[string]*member{}, map[string]bool{}, map[string][]string{}}
	bySuffix := map[string][]string{}
	owner := "" // the path of the member whose name its members are called with
	p.visit("", func(path string, m *member) {
		if m.own {
			owner = path
		}
		switch {
		case m.kind == kindStruct || m.kind == kindRaw || m.kind == kindAny:
			f.objects[m.name] = m
			return
		case m.kind == kindList && m.elem.kind != kindString && m.elem.kind != kindMachine:
			f.objects[m.name] = m
			return
		}
		f.members[path] = m
		if m.short != "" {
			f.short[m.short] = append(f.short[m.short], path)
		}
		for suffix := path; ; {
			_, rest, more := strings.Cut(suffix, ".")
			if !more && m.dotted && suffix != path {
				f.twice[suffix] = append(f.twice[suffix], path)
				break
			}
			bySuffix[suffix] = append(bySuffix[suffix], path)
			owned := owner != "" && strings.HasPrefix(path, owner+".") && len(rest) < len(path)-strings.LastIndexByte(owner, '.')-1
			if !more || owned {
				break
			}
			suffix = rest
		}
		f.symbols(path, m, bySuffix)
	})
	for suffix, paths := range bySuffix {
		_, whole := f.members[suffix]
		switch {
		case whole: // a full path wins, so that a top-level member keeps its name
			f.paths[suffix] = suffix
		case len(paths) == 1:
			f.paths[suffix] = paths[0]
		default:
			slices.Sort(paths)
			f.twice[suffix] = paths
		}
	}
	for name, paths := range f.short {
		if len(paths) == 1 && f.paths[name] == "" {
			f.paths[name] = paths[0]
		}
	}
	stored, _ := flats.LoadOrStore(p, f)
	return stored.(*flatNames)
}

// unknown is the fault of a parameter that no member has for its name.
func (f *flatNames) unknown(name string) InputFault {
	fault := InputFault{Unreadable, clip(name), "unknown-parameter", "there is no parameter " + quote(name), "remove it"}
	if paths := f.twice[name]; paths != nil {
		fault.Message = name + " alone does not say which member is meant"
		fault.Fix = "say " + oneOf(paths)
		return fault
	}
	if m := f.objects[name]; m != nil {
		fault.Message = name + " has no value of its own in a query"
		fault.Fix = "send it in the body of a POST"
		if m.kind == kindStruct {
			fault.Fix = "give its members, such as " + oneOf(first(m.plan.names(), 3))
		}
		return fault
	}
	if dot := strings.LastIndexByte(name, '.'); dot >= 0 && (f.paths[name[dot+1:]] != "" || f.twice[name[dot+1:]] != nil) {
		fault.Fix = "remove it or spell it as " + f.spelling(name[dot+1:])
		return fault
	}
	known := make([]string, 0, len(f.paths))
	for k := range f.paths {
		known = append(known, k)
	}
	for k := range f.twice {
		known = append(known, k)
	}
	slices.Sort(known)
	if near := nearestName(name, known); near != "" {
		fault.Fix = "remove it or spell it as " + f.spelling(near)
	}
	return fault
}

// spelling is how a known name is written: itself, or the paths that it could mean.
func (f *flatNames) spelling(name string) string {
	if paths := f.twice[name]; paths != nil {
		return oneOf(paths)
	}
	return name
}

// jsonValue turns the text of a parameter into a JSON value of the member's kind.
func jsonValue(m *member, name, text string) (string, *InputFault) {
	switch m.kind {
	case kindString, kindMachine:
		return string(appendString(nil, text)), nil
	case kindList:
		var list []byte
		for item := range strings.SplitSeq(text, ",") {
			item = strings.TrimSpace(item)
			if item == "" {
				return "", &InputFault{Unreadable, "", "wrong-type", name + " has an empty place between its commas", "separate the words by single commas"}
			}
			list = appendString(append(list, ','), item)
		}
		list[0] = '['
		return string(append(list, ']')), nil
	case kindBool:
		if text == "true" || text == "false" {
			return text, nil
		}
		return "", &InputFault{Unreadable, "", "wrong-type", name + " is " + quote(text), "send true or false"}
	}
	number := plainNumber(text)
	if _, end := readNumber(number); end > 0 && end == len(number) {
		return number, nil
	}
	fault := &InputFault{Unreadable, "", "wrong-type", name + " is " + quote(text) + ", where a number belongs", "send a number without unit"}
	word := strings.ToLower(strings.TrimLeft(text, "+-"))
	if point, ok := commaNumber(text); ok {
		fault.Fix = "write " + point + ", not " + text
	} else if word == "nan" || word == "inf" || word == "infinity" {
		fault.Kind, fault.Code = Invalid, "value-out-of-range"
		fault.Message = name + " is " + quote(text) + ", which is not finite"
		fault.Fix = "send a finite number"
	} else if _, end := readNumber(text); end > 0 && text[end] != ',' && text[end] != 'x' {
		fault.Fix += ", such as " + text[:end]
	}
	return "", fault
}

// ReadNumber reads a number as a query may have it; false for anything that is none, or that
// cannot be computed with.
func ReadNumber(text string) (float64, bool) {
	plain := plainNumber(text)
	v, end := readNumber(plain)
	return v, end > 0 && end == len(plain) && finite(v) && (v == 0 || v >= smallest || v <= -smallest)
}

// plainNumber writes a number as JSON wants it: no zeros in front, digits on both
// sides of the point. What is no number comes out as none.
func plainNumber(text string) string {
	rest, negative := strings.CutPrefix(text, "-")
	whole, fraction, point := strings.Cut(rest, ".")
	if whole == "" && fraction == "" || strings.ContainsFunc(whole, notDigit) {
		return text
	}
	if whole = strings.TrimLeft(whole, "0"); whole == "" {
		whole = "0"
	}
	if negative {
		whole = "-" + whole
	}
	if !point || fraction == "" {
		return whole
	}
	return whole + "." + fraction
}

func notDigit(r rune) bool { return r < '0' || r > '9' }

// appendQuery writes the object of a plan from the values given by path. Filled
// says that the object has a member.
func appendQuery(dst []byte, p *plan, prefix string, given map[string]string) (out []byte, filled bool) {
	start := len(dst)
	for i := range p.members {
		m := &p.members[i]
		if m.ignored {
			continue
		}
		path := prefix + m.name
		before := len(dst)
		dst = append(dst, m.lead...)
		if m.kind == kindStruct {
			var inner bool
			if dst, inner = appendQuery(dst, m.plan, path+".", given); !inner {
				dst = dst[:before]
			}
			continue
		}
		value, ok := given[path]
		if !ok {
			dst = dst[:before]
			continue
		}
		dst = append(dst, value...)
	}
	if len(dst) == start {
		return append(dst, '{', '}'), false
	}
	dst[start] = '{'
	return append(dst, '}'), true
}
