package wire

import (
	"encoding/json"
	"math"
	"net/url"
	"reflect"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"swarf/domain/unit"
)

// anyRequest fills a request with random members. Lists and inline machines are
// left out where flat is asked for: a query cannot carry them.
func anyRequest(t *rapid.T, p *plan, v reflect.Value, flat bool) {
	for i := range p.members {
		m := &p.members[i]
		if m.ignored || i == p.units || !rapid.Bool().Draw(t, m.name) {
			continue
		}
		anyValue(t, &m.node, m.words, m.of(v), flat)
	}
}

func anyValue(t *rapid.T, n *node, words []string, f reflect.Value, flat bool) {
	switch n.kind {
	case kindString:
		text := rapid.StringMatching(`[ -~äß°²Ж€😀\n]{1,12}`).Draw(t, "text")
		if words != nil {
			text = rapid.SampledFrom(words).Draw(t, "word")
		}
		f.SetString(text)
	case kindBool:
		f.Set(reflect.ValueOf(truth(rapid.Bool().Draw(t, "truth"))))
	case kindFloat:
		x := rapid.OneOf(rapid.Float64Range(-1e5, 1e5), rapid.Float64Range(-1, 1), rapid.Map(rapid.IntRange(-9999, 9999), func(i int) float64 { return float64(i) / 1000 })).Draw(t, "number")
		if x > -smallest && x < smallest {
			x = 0
		}
		f.Set(reflect.ValueOf(number(x + 0)))
	case kindStruct:
		if n.ptr {
			f.Set(reflect.New(n.typ))
			f = f.Elem()
		}
		anyRequest(t, n.plan, f, flat)
	case kindMachine:
		m := &MachineRef{ID: rapid.StringMatching(`[a-z0-9-]{1,9}`).Draw(t, "id")}
		if !flat && rapid.Bool().Draw(t, "inline") {
			m = &MachineRef{Inline: new(Machine)}
			anyRequest(t, n.plan, reflect.ValueOf(m.Inline).Elem(), flat)
		}
		f.Set(reflect.ValueOf(m))
	case kindList:
		list := reflect.MakeSlice(n.typ, rapid.IntRange(1, 3).Draw(t, "length"), 3)
		for i := range list.Len() {
			anyValue(t, n.elem, nil, list.Index(i), flat)
		}
		f.Set(list)
	}
}

// stated says in which units a cut and an inline machine in it are.
func stated(c *Cut, units string) {
	c.Units = units
	if c.Machine != nil && c.Machine.Inline != nil {
		c.Machine.Inline.Units = units
	}
}

// near compares numbers within a relative error.
func near(tolerance float64) cmp.Option {
	return cmp.Comparer(func(a, b float64) bool {
		return a == b || math.Abs(a-b) <= tolerance*math.Max(math.Abs(a), math.Abs(b))
	})
}

// lists lets an empty list and an absent one be the same.
var lists = cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type().Kind() == reflect.Slice },
	cmp.FilterValues(func(a, b any) bool { return reflect.ValueOf(a).Len()+reflect.ValueOf(b).Len() == 0 }, cmp.Ignore()))

func TestRequestsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sent Cut
		anyRequest(t, planOf(reflect.TypeFor[Cut]()), reflect.ValueOf(&sent).Elem(), false)
		for system, tolerance := range map[unit.System]float64{unit.Metric: 0, unit.Inch: 1e-12} {
			stated(&sent, system.String())
			body, err := AppendJSON(nil, &sent, system)
			if err != nil {
				t.Fatal(err)
			}
			var got Cut
			in := Decode(body, &got, DecodeOptions{RequireUnits: true})
			if len(in.Faults) > 0 || in.System != system {
				t.Fatalf("%s\n%+v", body, in)
			}
			if diff := cmp.Diff(sent, got, near(tolerance), lists); diff != "" {
				t.Fatalf("%s\n%s", body, diff)
			}
			if system == unit.Metric {
				var plain Cut
				if err := json.Unmarshal(body, &plain); err != nil {
					t.Fatalf("encoding/json: %v in %s", err, body)
				}
				if diff := cmp.Diff(got, plain, lists, unread); diff != "" {
					t.Fatalf("encoding/json reads another cut: %s", diff)
				}
			}
		}
	})
}

// unread looks past unit_of, which requests may repeat and Decode does not read.
var unread = cmp.FilterValues(func(UnitOf, UnitOf) bool { return true }, cmp.Ignore())

func TestGetGivesTheDigitsOfPost(t *testing.T) {
	p := planOf(reflect.TypeFor[Cut]())
	flat := flatOf(p)
	byPath := map[string]string{}
	for name, path := range FlatNames(reflect.TypeFor[Cut]()) {
		byPath[path] = name
	}
	rapid.Check(t, func(t *rapid.T) {
		var sent Cut
		anyRequest(t, p, reflect.ValueOf(&sent).Elem(), true)
		system := rapid.SampledFrom([]unit.System{unit.Metric, unit.Inch}).Draw(t, "system")
		sent.Units = system.String()
		body, err := AppendJSON(nil, &sent, system)
		if err != nil {
			t.Fatal(err)
		}
		var posted, asked Cut
		if in := Decode(body, &posted, DecodeOptions{}); len(in.Faults) > 0 {
			t.Fatalf("%+v", in)
		}
		values := url.Values{}
		var tree map[string]any
		if err := json.Unmarshal(body, &tree); err != nil {
			t.Fatal(err)
		}
		flatten(tree, "", func(path, text string) {
			name := byPath[path]
			if name == "" || rapid.Bool().Draw(t, "dotted") {
				name = path
			}
			values.Set(name, text)
		})
		values, err = url.ParseQuery(values.Encode())
		if err != nil {
			t.Fatal(err)
		}
		in := DecodeQuery(values, &asked, DecodeOptions{})
		if len(in.Faults) > 0 || in.System != system {
			t.Fatalf("%s\n%+v", values.Encode(), in)
		}
		if diff := cmp.Diff(drop(posted), drop(asked)); diff != "" {
			t.Fatalf("%s\n%s", values.Encode(), diff)
		}
		if len(flat.members) == 0 {
			t.Fatal("no parameters")
		}
	})
}

// drop takes out objects without members, which a query cannot send.
func drop(c Cut) Cut {
	for v, i := reflect.ValueOf(&c).Elem(), 0; i < v.NumField(); i++ {
		f := v.Field(i)
		if m, ok := f.Interface().(*Material); ok && m != nil {
			dropEmpty(&m.Hardness)
		}
		if s, ok := f.Interface().(*Stock); ok && s != nil {
			if s.Certificate != nil {
				dropEmpty(&s.Certificate.Hardness)
			}
			dropEmpty(&s.Certificate)
		}
		if f.Kind() == reflect.Pointer && !f.IsNil() && f.Elem().Kind() == reflect.Struct && f.Elem().IsZero() {
			f.SetZero()
		}
	}
	return c
}

func dropEmpty[T comparable](p **T) {
	if none := *new(T); *p != nil && **p == none {
		*p = nil
	}
}

func flatten(tree map[string]any, prefix string, show func(path, text string)) {
	for name, v := range tree {
		switch v := v.(type) {
		case map[string]any:
			flatten(v, prefix+name+".", show)
		case string:
			show(prefix+name, v)
		case bool:
			show(prefix+name, strconv.FormatBool(v))
		case float64:
			show(prefix+name, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
}

func TestMachinesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sent Machine
		anyRequest(t, planOf(reflect.TypeFor[Machine]()), reflect.ValueOf(&sent).Elem(), false)
		for system, tolerance := range map[unit.System]float64{unit.Metric: 0, unit.Inch: 1e-12} {
			sent.Units, sent.DataRevision, sent.ModelVersion = system.String(), 7, "1.0"
			body, err := AppendJSON(nil, &sent, system)
			if err != nil {
				t.Fatal(err)
			}
			var got Machine
			if in := Decode(body, &got, DecodeOptions{RequireUnits: true}); len(in.Faults) > 0 {
				t.Fatalf("%s\n%+v", body, in)
			}
			got.DataRevision, got.ModelVersion = 7, "1.0" // ours, ignored on the way in
			if diff := cmp.Diff(sent, got, near(tolerance), lists); diff != "" {
				t.Fatalf("%s\n%s", body, diff)
			}
		}
	})
}
