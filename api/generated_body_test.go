package api_test

import (
	"encoding/json"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// place is a value in a body with the schema it stands under, and what put puts there.
type place struct {
	schema *openapi3.Schema
	value  any
	name   string // of the member; empty in a list
	item   bool   // within an item of a batch
	put    func(any)
	drop   func() // nil in a list
}

// places lists every value of a body. A value under one of several schemas stands under the
// one of its own type.
func places(schema *openapi3.Schema, value any, item bool, put func(any), into []place) []place {
	schema = alternative(schema, value)
	switch v := value.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			var own *openapi3.Schema
			if schema != nil && schema.Properties[name] != nil {
				own = alternative(schema.Properties[name].Value, v[name])
			}
			at := place{schema: own, value: v[name], name: name, item: item, put: func(x any) { v[name] = x }, drop: func() { delete(v, name) }}
			into = places(own, v[name], item, at.put, append(into, at))
		}
	case []any:
		for i := range v {
			var own *openapi3.Schema
			if schema != nil && schema.Items != nil {
				own = alternative(schema.Items.Value, v[i])
			}
			at := place{schema: own, value: v[i], item: item, put: func(x any) { v[i] = x }}
			into = places(own, v[i], item, at.put, append(into, at))
		}
	}
	return into
}

// alternative is the schema of a value where there are several.
func alternative(s *openapi3.Schema, value any) *openapi3.Schema {
	if s == nil {
		return nil
	}
	for _, list := range []openapi3.SchemaRefs{s.OneOf, s.AnyOf, s.AllOf} {
		for _, one := range list {
			_, text := value.(string)
			_, object := value.(map[string]any)
			if one.Value.Type.Is("string") && text || one.Value.Type.Is("object") && object || len(list) == 1 {
				return one.Value
			}
		}
	}
	return s
}

// invented makes a value that fits a schema.
func invented(rng *rand.Rand, s *openapi3.Schema, depth int) any {
	switch {
	case s == nil:
		return "x"
	case len(s.OneOf) > 0:
		return invented(rng, s.OneOf[rng.IntN(len(s.OneOf))].Value, depth)
	case len(s.AllOf) > 0:
		return invented(rng, s.AllOf[0].Value, depth)
	case len(s.Enum) > 0:
		return s.Enum[rng.IntN(len(s.Enum))]
	case s.Type.Is("number"):
		return inventedNumber(rng)
	case s.Type.Is("integer"):
		return float64(rng.IntN(100))
	case s.Type.Is("boolean"):
		return rng.IntN(2) == 0
	case s.Type.Is("array"):
		list := []any{}
		for range rng.IntN(3) {
			if depth > 0 {
				list = append(list, invented(rng, s.Items.Value, depth-1))
			}
		}
		return list
	case s.Type.Is("object"):
		object := map[string]any{}
		for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
			needed := slices.Contains(s.Required, name) || name == "units"
			if needed || depth > 0 && rng.IntN(1+len(s.Properties)/3) == 0 {
				object[name] = invented(rng, s.Properties[name].Value, depth-1)
			}
		}
		return object
	}
	return inventedWords[rng.IntN(len(inventedWords))]
}

var inventedWords = []string{
	"1.4301", "304", "EN-GJL-250", "stainless", "annealed", "vmc-50", "drill-twist", "mill-end", "S1", "S6-40", "S2-30", "a", "op 30", "x1", "ISO 4957", "Ø12", "ß", "日本",
	"=1+1", "a\tb", `"`, "2026-03-03T12:00:00Z", "torque", "steel", "<b>", "%s%d", "';--", "\u0000", "\u202e", "k20", "HSS", strings.Repeat("long ", 40),
}

// inventedNumber is a number such as a workshop has, or one at an edge.
func inventedNumber(rng *rand.Rand) float64 {
	if rng.IntN(4) == 0 {
		return edgeNumbers[rng.IntN(len(edgeNumbers))]
	}
	return math.Round(math.Pow(10, rng.Float64()*6-3)*1e4) / 1e4
}

// edgeNumbers are where formulas, conversions and roundings go wrong.
var edgeNumbers = []float64{
	0, math.Copysign(0, -1), 1, -1, 0.5, 2, 90, 180, 360, 89.999999, 1e-3, 1e-6, 1e-9, 1e-12, 1e-300, math.SmallestNonzeroFloat64,
	1e3, 1e6, 1e9, 1e15, 1e100, 1e300, math.MaxFloat64, -math.MaxFloat64, math.MaxInt32, math.MaxInt64, 0.1, 25.4, 1.0 / 3, 12.7,
}

// graft adds members that the schema allows, or takes others in place of those there are.
func (g *generator) graft(body any, schema *openapi3.Schema) {
	for range 1 + g.rng.IntN(3) {
		spots := places(schema, body, false, nil, nil)
		var objects []map[string]any
		var schemas []*openapi3.Schema
		if top, ok := body.(map[string]any); ok {
			objects, schemas = append(objects, top), append(schemas, schema)
		}
		for _, at := range spots {
			if object, ok := at.value.(map[string]any); ok && at.schema != nil && len(at.schema.Properties) > 0 {
				objects, schemas = append(objects, object), append(schemas, at.schema)
			}
		}
		if len(objects) == 0 {
			return
		}
		i := g.rng.IntN(len(objects))
		names := slices.Sorted(maps.Keys(schemas[i].Properties))
		if len(names) == 0 {
			continue
		}
		name := names[g.rng.IntN(len(names))]
		objects[i][name] = invented(g.rng, schemas[i].Properties[name].Value, 2)
	}
}

// edges puts numbers at the edge in the place of numbers.
func (g *generator) edges(body any, schema *openapi3.Schema) {
	var numbers []place
	for _, at := range places(schema, body, false, nil, nil) {
		if _, ok := at.value.(float64); ok {
			numbers = append(numbers, at)
		}
	}
	for range min(len(numbers), 1+g.rng.IntN(2)) {
		numbers[g.rng.IntN(len(numbers))].put(edgeNumbers[g.rng.IntN(len(edgeNumbers))])
	}
}

// copyOf is a value of JSON that may be changed.
func copyOf(value any) any {
	switch v := value.(type) {
	case map[string]any:
		object := make(map[string]any, len(v))
		for name, one := range v {
			object[name] = copyOf(one)
		}
		return object
	case []any:
		list := make([]any, len(v))
		for i, one := range v {
			list[i] = copyOf(one)
		}
		return list
	}
	return value
}

func jsonText(value any) string {
	text, err := json.Marshal(value)
	if err != nil {
		panic(err) // values of JSON only
	}
	return string(text)
}
