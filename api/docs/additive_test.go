package docs

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/oasdiff/oasdiff/checker"
	"github.com/oasdiff/oasdiff/diff"
	"github.com/oasdiff/oasdiff/load"
)

// published is the document as it was last tagged: what callers rely on. It is renewed with
// -tagged when a version is tagged, and at no other time.
const published = "../../testdata/openapi/v1.json"

var tagged = flag.Bool("tagged", false, "take the document for the one that is published with a tag")

// The document takes nothing away from what was published last, and asks for nothing more.
func TestDocumentOnlyGrows(t *testing.T) {
	if *tagged {
		var small bytes.Buffer
		if err := json.Compact(&small, document); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(published, append(small.Bytes(), '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range broken(t, lastTagged(t), document) {
		if corrected(text) {
			continue
		}
		t.Errorf("callers of v1 would break: %s", text)
	}
}

func lastTagged(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// broken lists what a caller of one document trips over in the next.
func broken(t *testing.T, before, after []byte) []string {
	t.Helper()
	info := func(name string, text []byte) *load.SpecInfo {
		doc, err := openapi3.NewLoader().LoadFromData(text)
		if err != nil {
			t.Fatal(err)
		}
		return &load.SpecInfo{Url: name, Spec: doc}
	}
	report, sources, err := diff.GetWithOperationsSourcesMap(diff.NewConfig(), info("tagged", before), info("now", after))
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, c := range checker.CheckBackwardCompatibilityUntilLevel(checker.NewConfig(checker.GetAllChecks()), report, sources, checker.INFO) {
		if c.GetLevel() >= checker.WARN && !additions[c.GetId()] || strings.HasSuffix(c.GetId(), "-removed") {
			list = append(list, strings.Join([]string{c.GetOperation(), c.GetPath(), c.GetId() + ":", c.GetUncolorizedText(checker.NewDefaultLocalizer())}, " "))
		}
	}
	return list
}

// corrected reports what the tagged document had wrong of answers that never were otherwise:
// cuts and machines without ref or id go by their place, a number. It goes with the next tag.
func corrected(text string) bool {
	route, rest, _ := strings.Cut(text, " response-property-list-of-types-widened: ")
	return (route == "POST /v1/plans" || strings.HasSuffix(route, " /v1/spindle-checks")) && strings.Contains(rest, "by adding types `integer`")
}

// additions are what the checks warn of and callers are told to expect: further words in
// what we answer.
var additions = map[string]bool{"response-property-enum-value-added": true}

// Whatever takes something away, or asks for more, is found; what only adds is not.
func TestPlantedBreaksAreFound(t *testing.T) {
	type object = map[string]any
	spoilt := func(spoil func(doc object)) []byte {
		var doc object
		if err := json.Unmarshal(document, &doc); err != nil {
			t.Fatal(err)
		}
		for path := range doc["paths"].(object) { // four will do, and are quick
			if !slices.Contains([]string{"/v1/estimates", "/v1/materials", "/v1/machines/{id}", "/v1/sources"}, path) {
				delete(doc["paths"].(object), path)
			}
		}
		spoil(doc)
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	at := func(doc object, path ...string) object {
		for _, name := range path {
			doc = doc[name].(object)
		}
		return doc
	}
	operation := func(doc object, path, method string) object { return at(doc, "paths", path, method) }
	schema := func(doc object, name string) object { return at(doc, "components", "schemas", name) }
	whole := spoilt(func(object) {})
	for name, c := range map[string]struct {
		spoil func(doc object)
		id    string // of the check that finds it; empty: it only adds
	}{
		"a route is gone":           {func(d object) { delete(at(d, "paths"), "/v1/sources") }, "api-path-removed"},
		"a method is gone":          {func(d object) { delete(at(d, "paths", "/v1/machines/{id}"), "delete") }, "api-removed"},
		"a member of an answer":     {func(d object) { delete(at(schema(d, "Loads"), "properties"), "torque") }, "response-optional-property-removed"},
		"a required member of one":  {func(d object) { delete(at(schema(d, "Answer"), "properties"), "findings") }, "response-required-property-removed"},
		"a member of a request":     {func(d object) { delete(at(schema(d, "Tool"), "properties"), "corner_radius") }, "request-property-removed"},
		"a member becomes required": {func(d object) { s := schema(d, "Tool"); s["required"] = append(s["required"].([]any), "corner_radius") }, "request-property-became-required"},
		"a parameter is gone": {func(d object) {
			o := operation(d, "/v1/materials", "get")
			o["parameters"] = o["parameters"].([]any)[1:]
		}, "request-parameter-removed"},
		"a number becomes a text": {func(d object) { at(schema(d, "Loads"), "properties", "torque")["type"] = "string" }, "response-property-type-changed"},
		"a word of a request is gone": {func(d object) {
			p := at(schema(d, "Cut"), "properties", "edge_state")
			p["enum"] = p["enum"].([]any)[:1]
		}, "request-property-enum-value-removed"},
		"a format is gone": {func(d object) {
			delete(at(operation(d, "/v1/materials", "get"), "responses", "200", "content"), "text/csv")
		}, "response-media-type-removed"},
		"a further word of an answer": {func(d object) {
			p := at(schema(d, "Answer"), "properties", "verdict")
			p["enum"] = append(p["enum"].([]any), "perhaps")
		}, ""},
		"a new member of an answer": {func(d object) { at(schema(d, "Loads"), "properties")["new"] = object{"type": "number"} }, ""},
		"a new optional parameter": {func(d object) {
			o := operation(d, "/v1/materials", "get")
			o["parameters"] = append(o["parameters"].([]any), object{"name": "new", "in": "query", "schema": object{"type": "string"}})
		}, ""},
	} {
		found := broken(t, whole, spoilt(c.spoil))
		hit := false
		for _, text := range found {
			hit = hit || strings.Contains(text, " "+c.id)
		}
		if c.id != "" && !hit || c.id == "" && len(found) > 0 {
			t.Errorf("%s: %d findings, want %q: %.600q", name, len(found), c.id, found)
		}
	}
}
