package api_test

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
	"swarf/api/docs"
)

func published(t testing.TB) *openapi3.T {
	t.Helper()
	doc, err := openapi3.NewLoader().LoadFromData(docs.Document())
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// operationOf finds the operation that describes a method and a path.
func operationOf(doc *openapi3.T, method, target string) *openapi3.Operation {
	path, _, _ := strings.Cut(target, "?")
	parts := strings.Split(path, "/")
	for template, item := range doc.Paths.Map() {
		want := strings.Split(template, "/")
		if slices.EqualFunc(parts, want, func(got, want string) bool { return got == want || strings.HasPrefix(want, "{") }) {
			return item.GetOperation(method)
		}
	}
	return nil
}

// fits checks an answer against the schema of its status.
func fits(t *testing.T, doc *openapi3.T, method, target string, status int, contentType string, body []byte) {
	t.Helper()
	operation := operationOf(doc, method, target)
	if operation == nil {
		t.Errorf("%s %s is not in the document", method, target)
		return
	}
	response := operation.Responses.Value(strconv.Itoa(status))
	if response == nil {
		t.Errorf("%s %s: status %d is not in the document", method, target, status)
		return
	}
	media := response.Value.Content.Get(contentType)
	if media == nil {
		t.Errorf("%s %s: %d with %s is not in the document", method, target, status, contentType)
		return
	}
	var value any
	if err := json.Unmarshal(body, &value); err != nil {
		t.Errorf("%s %s: %v", method, target, err)
		return
	}
	if err := media.Schema.Value.VisitJSON(value, openapi3.MultiErrors()); err != nil {
		t.Errorf("%s %s: the answer does not fit the document: %.1500v", method, target, err)
	}
}

func TestGoldenAnswersFitTheDocument(t *testing.T) {
	doc := published(t)
	names, _ := filepath.Glob("../testdata/api/*.json")
	for _, name := range names {
		var g golden
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &g); err != nil {
			t.Fatal(err)
		}
		method, target, _ := strings.Cut(g.Route, " ")
		contentType := "application/json"
		if g.Status >= 400 {
			contentType = "application/problem+json"
		}
		fits(t, doc, method, target, g.Status, contentType, g.Answer)
		if g.Status != http.StatusOK || len(g.Request) == 0 {
			continue
		}
		if body := operationOf(doc, method, target).RequestBody; body != nil && !strings.HasSuffix(target, "/batch") { // a batch may hold a bad item
			var value any
			json.Unmarshal(g.Request, &value)
			if err := body.Value.Content.Get("application/json").Schema.Value.VisitJSON(value); err != nil {
				t.Errorf("%s: the request does not fit the document: %v", filepath.Base(name), err)
			}
		}
	}
}

// Every read of the route table answers as the document says.
func TestReadsFitTheDocument(t *testing.T) {
	doc, h := published(t), embeddedService(t)
	for _, target := range []string{
		"/v1/materials?limit=500", "/v1/materials?q=stainless&units=inch", "/v1/materials/x5crni18-10", "/v1/materials/az91d?units=inch", "/v1/materials/x9",
		"/v1/tool-classes", "/v1/tool-classes/mill-end", "/v1/machines", "/v1/machines/vmc-50?units=inch", "/v1/machines/none",
		"/v1/sources?limit=500", "/v1/sources/groover", "/v1/changes", "/v1/materials?limit=0", "/healthz", "/readyz", "/version", "/problems",
		"/v1/estimates?units=metric&grade=1.4301&operation=turning&class=turning-external&work_diameter=60&depth_of_cut=2&cutting_speed=120&feed_per_revolution=0.2&explain=true",
		"/v1/estimates?grade=1.4301", "/v1/recommendations?units=inch&grade=A96061&operation=slot-milling&class=mill-end&cutting_diameter=0.5&effective_edges=3&axial_depth=0.25",
	} {
		got := call(t, h, http.MethodGet, target, "")
		fits(t, doc, http.MethodGet, target, got.status, strings.Split(got.header.Get("Content-Type"), ";")[0], []byte(got.body))
	}
}

// The document has the routes of the service, and no others.
func TestDocumentHasTheRoutes(t *testing.T) {
	doc := published(t)
	described := map[string]bool{}
	for path, item := range doc.Paths.Map() {
		for method := range item.Operations() {
			described[method+" "+path] = true
		}
	}
	for _, page := range []string{"GET /openapi.json", "GET /docs"} {
		if !described[page] {
			t.Errorf("%s is not in the document", page)
		}
		delete(described, page)
	}
	for _, r := range api.Routes() {
		if route := r.Method + " " + r.Path; !described[route] {
			t.Errorf("%s is not in the document", route)
		} else {
			delete(described, route)
		}
	}
	for route := range described {
		t.Errorf("%s is in the document and not served", route)
	}
}
