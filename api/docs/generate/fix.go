package generate

import (
	"bytes"
	"net/http"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api/wire"
	"swarf/domain/unit"
)

var packaged = regexp.MustCompile(`(#/components/schemas/|")(wire|api|unit)\.([A-Za-z]+)`)

// rename takes the package out of schema names: client generators make types of them.
func rename(text []byte) []byte {
	return packaged.ReplaceAllFunc(text, func(m []byte) []byte {
		parts := packaged.FindSubmatch(m)
		name := append(bytes.ToUpper(parts[3][:1:1]), parts[3][1:]...)
		return append(append([]byte{}, parts[1]...), name...)
	})
}

// shapes are the wire types behind the schemas, whose tags say more than swag reads.
var shapes = []any{
	wire.Cut{}, wire.Answer{}, wire.SpindleCheck{}, wire.SpindleResults{}, wire.CorrectionRequest{}, wire.CorrectionAnswer{}, wire.Batch{}, wire.Problem{}, wire.Machine{},
	wire.MaterialList{}, wire.MaterialRecord{}, wire.ToolClassList{}, wire.MachineList{}, wire.SourceList{}, wire.Source{}, wire.ChangeList{},
}

// requests are schemas that callers send: what an answer always has, they may leave out.
var requests = []string{"Cut", "Material", "Hardness", "Tool", "Engagement", "Parameters", "Coolant", "ForceData", "Duty", "Target", "Stock", "Wall",
	"WorkHolding", "Control", "Rotary", "SpindleCheck", "CorrectionRequest", "Override", "Machine", "Spindle", "Gear", "Rating", "Point", "Axes", "MachineCoolant", "Meter"}

// must are the members that a request cannot do without, whatever it asks.
var must = map[string][]string{"Cut": {"material", "operation", "tool"}, "Override": {"code", "by", "reason"}, "Tool": {"class"}}

// fix repairs what the tools before could not say.
func fix(doc *openapi3.T) error {
	doc.OpenAPI = "3.0.3"
	doc.Servers = openapi3.Servers{{URL: "/"}}
	for _, name := range []string{"computations", "reference data", "machines", "service"} { // in the order of use
		doc.Tags = append(doc.Tags, &openapi3.Tag{Name: name})
	}
	seen := map[reflect.Type]bool{}
	for _, shape := range shapes {
		describe(doc, reflect.TypeOf(shape), seen)
	}
	schemas := doc.Components.Schemas
	for _, name := range []string{"Health", "Readiness", "Version", "Staleness"} {
		if s := schemas[name]; s != nil {
			closed(s.Value)
		}
	}
	machine := openapi3.NewOneOfSchema(openapi3.NewStringSchema().WithMinLength(1))
	machine.OneOf = append(machine.OneOf, openapi3.NewSchemaRef("#/components/schemas/Machine", schemas["Machine"].Value))
	machine.Description = "id of a machine, or the machine itself with units of its own"
	schemas["Cut"].Value.Properties["machine"] = machine.NewRef()
	schemas["SpindleCheck"].Value.Properties["machine"] = machine.NewRef()
	schemas["SpindleCheck"].Value.Properties["machines"] = openapi3.NewArraySchema().WithItems(machine).NewRef()
	word := func() *openapi3.SchemaRef {
		return openapi3.NewOneOfSchema(openapi3.NewStringSchema(), openapi3.NewFloat64Schema(), openapi3.NewBoolSchema()).NewRef()
	}
	schemas["Assumed"].Value.Properties["value"] = word()
	schemas["SpindleResult"].Value.Properties["cut"] = word()
	schemas["SpindleResult"].Value.Properties["machine"] = word()
	for path, item := range doc.Paths.Map() {
		for method, operation := range item.Operations() {
			operation.OperationID = operationID(method, path)
			answers(doc, path, operation)
			if method == http.MethodGet && flat[path] {
				query(operation, path)
			}
		}
	}
	batches(doc)
	examples(doc)
	return nil
}

// describe carries tags of a wire type over to its schema, and goes on inside.
func describe(doc *openapi3.T, t reflect.Type, seen map[reflect.Type]bool) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || seen[t] {
		return
	}
	seen[t] = true
	ref := doc.Components.Schemas[t.Name()]
	for i := range t.NumField() {
		describe(doc, t.Field(i).Type, seen)
	}
	if ref == nil {
		return
	}
	closed(ref.Value)
	members(ref.Value, t, slices.Contains(requests, t.Name()))
	if list := must[t.Name()]; list != nil {
		ref.Value.Required = list
	}
}

// members says which members are words of a list, quantities, or always there.
func members(s *openapi3.Schema, t reflect.Type, request bool) {
	for i := range t.NumField() {
		field := t.Field(i)
		if field.Anonymous {
			members(s, field.Type, request)
			continue
		}
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		ref := s.Properties[name]
		if ref == nil {
			continue
		}
		if ref.Value != nil && ref.Ref == "" {
			if words := field.Tag.Get("enum"); words != "" {
				ref.Value.Enum = nil
				for _, w := range strings.Split(words, ",") {
					ref.Value.Enum = append(ref.Value.Enum, w)
				}
			}
			if q, ok := unit.Named(field.Tag.Get("q")); ok && q != unit.None {
				ref.Value.Description = strings.TrimSpace(ref.Value.Description + " in " + q.Code(unit.Metric) + "; inch: " + q.Code(unit.Inch))
			}
			if field.Type.Kind() == reflect.Pointer && field.Type.Elem().Kind() == reflect.String && options == "" {
				ref.Value.Nullable = true
			}
		}
		if field.Type == reflect.TypeOf(wire.UnitOf{}) {
			s.Properties[name] = openapi3.NewObjectSchema().WithAdditionalProperties(openapi3.NewStringSchema()).NewRef()
			continue
		}
		if !request && !strings.Contains(options, "omit") && field.Type != reflect.TypeOf(unit.Opt{}) && !slices.Contains(s.Required, name) {
			s.Required = append(s.Required, name)
		}
	}
}

// closed lets an object have no members but its own.
func closed(s *openapi3.Schema) {
	no := false
	s.AdditionalProperties = openapi3.AdditionalProperties{Has: &no}
}

// operationID makes a name for client generators: getV1MaterialsId.
func operationID(method, path string) string {
	id := strings.ToLower(method)
	for _, part := range strings.FieldsFunc(path, func(r rune) bool { return strings.ContainsRune("/{}-.", r) }) {
		id += strings.ToUpper(part[:1]) + part[1:]
	}
	return id
}

// tables are the answers that CSV can hold too.
func tables(path string) bool {
	return strings.HasPrefix(path, "/v1/") && !strings.HasSuffix(path, "{id}")
}

// answers gives errors their media type and successes their other formats.
func answers(doc *openapi3.T, path string, operation *openapi3.Operation) {
	for code, ref := range operation.Responses.Map() {
		response := ref.Value
		status, _ := strconv.Atoi(code)
		switch {
		case status >= 400:
			response.Content = openapi3.NewContentWithSchemaRef(openapi3.NewSchemaRef("#/components/schemas/Problem", doc.Components.Schemas["Problem"].Value), []string{"application/problem+json"})
			response.Content["text/plain"] = text()
		case status == http.StatusNoContent || status == http.StatusNotModified:
			response.Content = nil
		case path == "/docs":
			response.Content = openapi3.Content{"text/html": text()}
		case path == "/openapi.json":
		case response.Content != nil:
			response.Content["text/plain"] = text()
			if tables(path) {
				response.Content["text/csv"] = text()
			}
			if strings.HasPrefix(path, "/problems") {
				response.Content["text/html"] = text()
			}
		}
	}
	operation.Responses.Delete("default")
}

func text() *openapi3.MediaType {
	return openapi3.NewMediaType().WithSchema(openapi3.NewStringSchema())
}
