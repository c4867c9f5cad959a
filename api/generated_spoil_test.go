package api_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// positive are members that are nothing without being above zero, wherever they stand.
var positive = []string{
	"cutting_diameter", "effective_edges", "hole_depth", "work_diameter", "depth_of_cut", "axial_depth", "radial_width", "slot_width", "slot_length", "slot_depth", "nominal_diameter",
	"pitch", "hole_diameter", "thread_depth", "chamfer_width", "cutting_speed", "spindle_speed", "feed_per_tooth", "feed_per_revolution", "feed_rate", "max_speed", "efficiency",
	"specific_cutting_force_1_1", "specific_cutting_energy", "protruding_length", "shank_diameter", "step_over", "cutting_minutes",
}

// notNumbers are written where a number belongs and are none that there can be.
var notNumbers = []string{"NaN", "Infinity", "-Infinity", "nan", "1e999", "-1e999", "0x10", "1_000", "1,5", "+1", ".5", "1.", "01", `"12"`, `"NaN"`, "null", "true", "[]", "{}", `"12 mm"`}

const rawMark = "@raw@" // stands for text that is no JSON until the body is written

// spoil makes a body that must be refused out of one that need not be. It says why, and
// whether an item of a batch alone is spoilt.
func (g *generator) spoil(body any, schema *openapi3.Schema) (text, why string, item bool) {
	text = jsonText(body)
	switch g.rng.IntN(14) {
	case 0:
		return text + []string{"x", "{}", "}", ",", "\x00", text}[g.rng.IntN(6)], "something after the end", false
	case 1:
		if len(text) < 2 {
			return "", "no body", false
		}
		return text[:g.rng.IntN(len(text)-1)], "cut short", false
	case 2:
		return []string{"", " ", "[]", "null", `"x"`, "5", "true", "{", "[" + text + "]"}[g.rng.IntN(9)], "no object", false
	case 3:
		deep := strings.Repeat(`{"a":`, 40) + "1" + strings.Repeat("}", 40)
		return `{"units":"metric","deep":` + deep + `}`, "an unknown member, 40 deep", false
	case 4:
		if len(text) > 2 {
			name := g.member(body)
			return `{` + name + `:1,` + name + `:1,` + text[1:], "a member twice", false
		}
	}
	return g.spoilPlace(body, schema)
}

// member is the name of a member of an object, quoted.
func (g *generator) member(body any) string {
	object, _ := body.(map[string]any)
	for name := range object {
		return jsonText(name)
	}
	return `"units"`
}

// spoilPlace spoils one value of a body.
func (g *generator) spoilPlace(body any, schema *openapi3.Schema) (text, why string, item bool) {
	spots := places(schema, body, false, nil, nil)
	g.rng.Shuffle(len(spots), func(i, j int) { spots[i], spots[j] = spots[j], spots[i] })
	kind := g.rng.IntN(6)
	for _, at := range spots {
		if at.schema == nil {
			continue
		}
		raw := ""
		switch v := at.value.(type) {
		case map[string]any:
			if kind == 0 {
				v["colour"], why = "red", "an unknown member in "+at.name
			}
			if kind == 1 {
				for _, name := range at.schema.Required {
					if _, ok := v[name]; ok {
						delete(v, name)
						why = name + " is missing in " + at.name
						break
					}
				}
			}
			if kind == 2 && len(at.schema.OneOf) == 0 {
				raw, why = []string{"5", `"x"`, "[]", "true"}[g.rng.IntN(4)], "no object in "+at.name
			}
		case float64:
			if kind == 3 {
				raw = notNumbers[g.rng.IntN(len(notNumbers))]
				why = raw + " for a number in " + at.name
			}
			if kind == 4 && v > 0 && slices.Contains(positive, at.name) {
				at.put(-v)
				why = "negative " + at.name
			}
		case string:
			if kind == 5 && len(at.schema.Enum) > 0 {
				at.put("no-such-word")
				why = "no word of " + at.name
			}
			if kind == 2 && at.schema.Type.Is("string") {
				raw, why = []string{"5", "[]", "true", `{"colour":1}`}[g.rng.IntN(4)], "no text in "+at.name
			}
		case bool:
			if kind == 3 {
				raw, why = []string{`"yes"`, "1", "0", "[]", "{}"}[g.rng.IntN(5)], "no truth in "+at.name
			}
		case []any:
			if kind == 2 {
				raw, why = []string{"5", `"x"`, "true", `{"0":1}`}[g.rng.IntN(4)], "no list in "+at.name
			}
		}
		if raw != "" {
			at.put(rawMark)
		}
		if why != "" {
			return strings.Replace(jsonText(body), `"`+rawMark+`"`, raw, 1), why, true
		}
	}
	if object, ok := body.(map[string]any); ok {
		object["colour"] = "red"
		return jsonText(body), "an unknown member", false
	}
	return "", "no body", false
}

// shaken changes bytes of a text. What is no JSON afterwards must be refused.
func (g *generator) shaken(text string) (shaken, why string) {
	b := []byte(text)
	for range 1 + g.rng.IntN(4) {
		at := g.rng.IntN(len(b) + 1)
		switch n := min(1+g.rng.IntN(8), len(b)-at); g.rng.IntN(4) {
		case 0:
			b = slices.Delete(b, at, at+n)
		case 1:
			b = slices.Insert(b, at, b[at:at+n]...)
		case 2:
			b = slices.Insert(b, at, []byte(shakes[g.rng.IntN(len(shakes))])...)
		default:
			if at < len(b) {
				b[at] = byte(g.rng.IntN(256))
			}
		}
	}
	if !json.Valid(trimMark(b)) {
		why = "no JSON"
	}
	return string(b), why
}

var shakes = []string{"0", "-", "e9", "null", "{}", "[]", `"`, ",", ":", "\\u0000", "\xff", "\ufeff", "1e308", "true", "9999999999", "\n", "\\ud800"}

// trimMark takes off a byte order mark, which the service passes over.
func trimMark(b []byte) []byte {
	return []byte(strings.TrimPrefix(string(b), "\ufeff"))
}

// spoilQuery makes query parameters that must be refused.
func (g *generator) spoilQuery(query string, numbers []string) (spoilt, why string) {
	extra := ""
	switch k := g.rng.IntN(4); {
	case k == 0 || len(numbers) == 0 && k > 1:
		extra, why = "colour=red", "an unknown parameter"
	case k == 1:
		extra, why = "format=nonsense", "no such format"
	case k == 2:
		name := numbers[g.rng.IntN(len(numbers))]
		bad := []string{"NaN", "Inf", "-Infinity", "1e999", "0x10", "1_000", "", "one", "1,5", "12mm", "%2B1", "٣"}[g.rng.IntN(12)]
		query, extra, why = without(query, name), name+"="+bad, fmt.Sprintf("%s is %q", name, bad)
	default:
		name := numbers[g.rng.IntN(len(numbers))]
		query, extra, why = without(query, name), name+"=1&"+name+"=2", name+" twice"
	}
	if query == "" {
		return extra, why
	}
	return query + "&" + extra, why
}

// without takes a parameter out of a query.
func without(query, name string) string {
	parts := slices.DeleteFunc(strings.Split(query, "&"), func(part string) bool { return strings.HasPrefix(part, name+"=") })
	return strings.Join(parts, "&")
}
