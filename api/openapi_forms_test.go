package api_test

import (
	"encoding/json"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
)

// Every worked example of the document fits its schema and is answered.
func TestDocumentExamplesWork(t *testing.T) {
	doc, h, count := published(t), embeddedService(t), 0
	for path, item := range doc.Paths.Map() {
		if item.Post == nil || stored(path) {
			continue
		}
		media := item.Post.RequestBody.Value.Content["application/json"]
		if len(media.Examples) == 0 {
			t.Errorf("POST %s has no example", path)
		}
		for name, example := range media.Examples {
			count++
			body, err := json.Marshal(example.Value.Value)
			if err != nil {
				t.Fatal(err)
			}
			if err := media.Schema.Value.VisitJSON(example.Value.Value); err != nil {
				t.Errorf("%s, %s: %v", path, name, err)
			}
			got := call(t, h, http.MethodPost, path, string(body), asJSON)
			if got.status != http.StatusOK || strings.Contains(string(got.body), `"code":"request-invalid"`) || strings.Contains(string(got.body), `"status":4`) {
				t.Errorf("%s, %s: %d %.500s", path, name, got.status, got.body)
			}
		}
	}
	if count < 10 {
		t.Errorf("%d examples", count)
	}
}

// What the document calls required is: without it a computation by GET is refused.
func TestDocumentRequiresWhatIsRequired(t *testing.T) {
	doc, h := published(t), embeddedService(t)
	for path, item := range doc.Paths.Map() {
		if item.Get == nil {
			continue
		}
		target, query, _ := strings.Cut(exampleTarget(path, item.Get), "?")
		for _, p := range item.Get.Parameters {
			if p.Value.In != "query" || !p.Value.Required {
				continue
			}
			values, err := url.ParseQuery(query)
			if err != nil || !values.Has(p.Value.Name) {
				t.Fatalf("%s: %v, no example of %s", path, err, p.Value.Name)
			}
			values.Del(p.Value.Name)
			if got := call(t, h, http.MethodGet, target+"?"+values.Encode(), ""); got.status != http.StatusBadRequest {
				t.Errorf("%s without %s: %d", path, p.Value.Name, got.status)
			}
		}
	}
	// and so are the members of a machine
	var whole map[string]any
	if err := json.Unmarshal([]byte(exampleBody(t, doc.Paths.Value("/v1/machines/{id}").Put)), &whole); err != nil {
		t.Fatal(err)
	}
	shop := newShop(t).handler()
	for _, name := range append(slices.Clone(doc.Components.Schemas["Machine"].Value.Required), "units") {
		less := maps.Clone(whole)
		delete(less, name)
		body, err := json.Marshal(less)
		if err != nil {
			t.Fatal(err)
		}
		if got := call(t, shop, http.MethodPut, "/v1/machines/less", string(body), asJSON, "If-None-Match: *"); got.status != http.StatusBadRequest {
			t.Errorf("a machine without %s: %d %s", name, got.status, got.body)
		}
	}
}

// A member that the document does not have is found, on every level: no object of
// it is open but the map of units.
func TestDocumentFindsUnknownMembers(t *testing.T) {
	doc := published(t)
	for name, ref := range doc.Components.Schemas {
		for member, s := range ref.Value.Properties {
			if s.Value.Type.Is("object") && s.Ref == "" && member != "unit_of" {
				t.Errorf("%s.%s is an object without a schema of its own", name, member)
			}
		}
		if !ref.Value.Type.Is("object") {
			continue
		}
		if has := ref.Value.AdditionalProperties.Has; has == nil || *has {
			t.Errorf("%s is open to members it does not name", name)
		}
	}
	answer := call(t, embeddedService(t), http.MethodGet, "/v1/estimates?"+aCutFlat, "")
	schema := operationSchema(t, doc, "/v1/estimates")
	if err := schema.VisitJSON(answer.doc); err != nil {
		t.Fatal(err)
	}
	for _, spoil := range []func(a map[string]any){
		func(a map[string]any) { a["colour"] = "red" },
		func(a map[string]any) { a["loads"].(map[string]any)["torq"] = 1.0 },
		func(a map[string]any) { delete(a, "findings") },
		func(a map[string]any) { a["verdict"] = "maybe" },
		func(a map[string]any) { a["parameters"].(map[string]any)["feed_rate"] = "120" },
	} {
		var spoilt map[string]any
		if err := json.Unmarshal(answer.body, &spoilt); err != nil {
			t.Fatal(err)
		}
		spoil(spoilt)
		if schema.VisitJSON(spoilt) == nil {
			t.Errorf("a spoilt answer fits: %v", spoilt)
		}
	}
}

// operationSchema is that of a computation's JSON answer.
func operationSchema(t *testing.T, doc *openapi3.T, path string) *openapi3.Schema {
	t.Helper()
	return doc.Paths.Value(path).Get.Responses.Value("200").Value.Content["application/json"].Schema.Value
}

// Numbers say that they are of double precision.
func TestDocumentNumbersAreWide(t *testing.T) {
	var narrow func(at string, ref *openapi3.SchemaRef) int
	narrow = func(at string, ref *openapi3.SchemaRef) (numbers int) {
		if ref == nil || ref.Ref != "" {
			return 0
		}
		s := ref.Value
		if s.Type.Is("number") || s.Type.Is("integer") {
			numbers++
			if s.Format != "double" && s.Format != "int64" {
				t.Errorf("%s has the format %q", at, s.Format)
			}
		}
		numbers += narrow(at+"[]", s.Items)
		for name, p := range s.Properties {
			numbers += narrow(at+"."+name, p)
		}
		for _, p := range s.OneOf {
			numbers += narrow(at, p)
		}
		return numbers
	}
	doc, count := published(t), 0
	for name, ref := range doc.Components.Schemas {
		count += narrow(name, ref)
	}
	for path, item := range doc.Paths.Map() {
		for method, o := range item.Operations() {
			for _, p := range o.Parameters {
				count += narrow(method+" "+path+" "+p.Value.Name, p.Value.Schema)
			}
		}
	}
	if count < 300 {
		t.Errorf("only %d numbers", count)
	}
}

// The document marks what goes, with the headers that say so, and nothing else.
func TestDocumentMarksWhatGoes(t *testing.T) {
	doc := published(t)
	for _, r := range api.Routes() {
		o := doc.Paths.Value(r.Path).GetOperation(r.Method)
		if o.Deprecated != (r.Retired != nil) {
			t.Errorf("%s %s: deprecated is %v", r.Method, r.Path, o.Deprecated)
		}
		for code, response := range o.Responses.Map() {
			if _, has := response.Value.Headers["Deprecation"]; has != o.Deprecated {
				t.Errorf("%s %s %s: a Deprecation header is %v", r.Method, r.Path, code, has)
			}
		}
	}
}

// Text has its lines in the order that the document states, on every level.
func TestTextIsInTheOrderOfTheDocument(t *testing.T) {
	doc, h := published(t), embeddedService(t)
	orderOf := func(s *openapi3.Schema) []string {
		var names []string
		list, _ := s.Extensions["x-text-order"].([]any)
		for _, name := range list {
			names = append(names, name.(string))
		}
		return names
	}
	compared := 0
	for _, target := range []string{"/v1/estimates?" + aCutFlat + "&machine=vmc-50&explain=true&window=true", "/v1/recommendations?" + aTap, "/v1/machines/vmc-50", "/v1/corrections?units=metric&feature=internal&sides_cut=2&programmed=40&measured=39.98&register=radius"} {
		body := string(call(t, h, http.MethodGet, with(target, "format=text"), "").body)
		_, template := operationOf(doc, http.MethodGet, target)
		schema := doc.Paths.Value(template).Get.Responses.Value("200").Value.Content["application/json"].Schema.Value
		var before []int
		var last string
		for line := range strings.Lines(body) {
			key, _, _ := strings.Cut(line, "=")
			if key == "status" || key == "lines" {
				break
			}
			var at []int
			s := schema
			for _, name := range strings.Split(key, ".") {
				name, place, _ := strings.Cut(strings.TrimSuffix(name, "]"), "[")
				if s == nil || len(orderOf(s)) == 0 {
					at = append(at, 0) // a map of units
					continue
				}
				i := slices.Index(orderOf(s), name)
				if i < 0 {
					t.Fatalf("%s: the order lacks %s", target, key)
				}
				at = append(at, i)
				if s = s.Properties[name].Value; place != "" {
					n, _ := strconv.Atoi(place)
					at, s = append(at, n), s.Items.Value
				}
			}
			if slices.Compare(before, at) > 0 {
				t.Errorf("%s: %s comes after %s", target, key, last)
			}
			before, last = at, key
			compared++
		}
	}
	if compared < 200 {
		t.Errorf("only %d lines", compared)
	}
}
