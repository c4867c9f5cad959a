package generate

import (
	"cmp"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api/wire"
	"swarf/domain/cut"
)

// form is a computation's request as query parameters.
type form struct {
	shape    any
	required []string          // by flat name
	example  map[string]string // filled in on the page
}

// forms are the computations that take their members as query parameters.
var forms = map[string]form{
	"/v1/estimates":       {wire.Cut{}, []string{"units", "operation", "class"}, drill},
	"/v1/recommendations": {wire.Cut{}, []string{"units", "operation", "class"}, slot},
	"/v1/spindle-checks":  {wire.SpindleCheck{}, []string{"units", "operation", "class"}, faceMill},
	"/v1/diagnoses":       {wire.DiagnosisRequest{}, []string{"units", "operation", "class"}, meter},
	"/v1/corrections":     {wire.CorrectionRequest{}, []string{"units", "feature", "sides_cut", "programmed", "register"}, bore},
}

// flatten lists the members of a computation's request as parameters, in the order of
// the body and before those that are there.
func flatten(operation *openapi3.Operation, f form) {
	t := reflect.TypeOf(f.shape)
	names := wire.FlatNames(t)
	places := make(map[string][]int, len(names))
	fields := make(map[string]reflect.StructField, len(names))
	for name, path := range names {
		places[name], fields[name] = find(t, path)
	}
	sorted := slices.SortedFunc(maps.Keys(names), func(a, b string) int { return slices.Compare(places[a], places[b]) })
	var list openapi3.Parameters
	for _, name := range sorted {
		p := openapi3.NewQueryParameter(name).WithSchema(scalar(fields[name])).WithRequired(slices.Contains(f.required, name))
		p.Description = p.Schema.Value.Description // the page shows none of the schema's
		p.Schema.Value.Description = ""
		if path := names[name]; path != name {
			p.Description = strings.TrimSuffix(path+", "+p.Description, ", ")
		}
		if p.Schema.Value.Type.Is("array") {
			comma := false
			p.Style, p.Explode = "form", &comma
		}
		if symbols := fields[name].Tag.Get("iso"); symbols != "" {
			p.Description = strings.TrimPrefix(p.Description+"; or by its symbol of ISO 13399: "+strings.ReplaceAll(symbols, ",", ", "), "; ")
		}
		if text, ok := f.example[name]; ok {
			p.Example = exampleOf(p.Schema.Value, text)
		}
		list = append(list, &openapi3.ParameterRef{Value: p})
	}
	operation.Parameters = append(list, operation.Parameters...)
}

// find walks a dotted path to its field, and says in which order the fields stand.
func find(t reflect.Type, path string) ([]int, reflect.StructField) {
	first, rest, more := strings.Cut(path, ".")
	for i := range t.NumField() {
		field := t.Field(i)
		if name, _, _ := strings.Cut(field.Tag.Get("json"), ","); name != first {
			continue
		}
		if !more {
			return []int{i}, field
		}
		inner := field.Type
		for inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		places, last := find(inner, rest)
		return append([]int{i}, places...), last
	}
	panic(fmt.Sprintf("%v has no member %s", t, path)) // a test makes the document
}

// scalar is the schema of a member that is one parameter.
func scalar(field reflect.StructField) *openapi3.Schema {
	t := field.Type
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	s := openapi3.NewStringSchema()
	switch t.Kind() {
	case reflect.Float64:
		s = openapi3.NewSchema()
		s.Type = &openapi3.Types{"number"}
	case reflect.Bool:
		s = openapi3.NewBoolSchema()
	case reflect.Slice:
		s = openapi3.NewArraySchema().WithItems(openapi3.NewStringSchema())
	}
	member(s, field)
	if name, _, _ := strings.Cut(field.Tag.Get("json"), ","); name == "operation" {
		for _, word := range cut.Names() {
			s.Enum = append(s.Enum, word)
		}
	}
	return s
}

// shortNames lists what a computation's members may be called besides, in the order of the
// body: DC cutting_diameter, and so on.
func shortNames(path string) string {
	f, ok := forms[path]
	if !ok {
		return ""
	}
	t := reflect.TypeOf(f.shape)
	short := wire.ShortNames(t)
	names := slices.SortedFunc(maps.Keys(short), func(a, b string) int {
		one, _ := find(t, short[a])
		two, _ := find(t, short[b])
		return cmp.Or(slices.Compare(one, two), strings.Compare(a, b))
	})
	var list []string
	for _, name := range names {
		list = append(list, name+" "+short[name][strings.LastIndexByte(short[name], '.')+1:])
	}
	return strings.Join(list, ", ")
}
