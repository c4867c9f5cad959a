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

// operationOf finds the operation that describes a method and a path: the path
// itself before one with values.
func operationOf(doc *openapi3.T, method, target string) (*openapi3.Operation, string) {
	path, _, _ := strings.Cut(target, "?")
	if item := doc.Paths.Value(path); item != nil {
		return item.GetOperation(method), path
	}
	parts := strings.Split(path, "/")
	for template, item := range doc.Paths.Map() {
		want := strings.Split(template, "/")
		if slices.EqualFunc(parts, want, func(got, want string) bool { return got == want || strings.HasPrefix(want, "{") }) {
			return item.GetOperation(method), template
		}
	}
	return nil, ""
}

// fits checks an answer against what the document says of its status.
func fits(t *testing.T, doc *openapi3.T, method, target string, status int, contentType string, body []byte) {
	t.Helper()
	operation, _ := operationOf(doc, method, target)
	if operation == nil {
		t.Errorf("%s %s is not in the document", method, target)
		return
	}
	response := operation.Responses.Value(strconv.Itoa(status))
	if response == nil {
		t.Errorf("%s %s: status %d is not in the document: %.300s", method, target, status, body)
		return
	}
	if len(response.Value.Content) == 0 {
		if len(body) > 0 {
			t.Errorf("%s %s: %d has a body, not in the document", method, target, status)
		}
		return
	}
	contentType, _, _ = strings.Cut(contentType, ";")
	media := response.Value.Content[contentType]
	if media == nil {
		t.Errorf("%s %s: %d with %s is not in the document", method, target, status, contentType)
		return
	}
	var value any = string(body)
	if strings.HasSuffix(contentType, "json") && contentType != lineType {
		if err := json.Unmarshal(body, &value); err != nil {
			t.Errorf("%s %s: %v", method, target, err)
			return
		}
	}
	if media.Schema == nil {
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
		operation, _ := operationOf(doc, method, target)
		if body := operation.RequestBody; body != nil && !strings.HasSuffix(target, "/batch") { // a batch may hold a bad item
			var value any
			json.Unmarshal(g.Request, &value)
			if err := body.Value.Content.Get("application/json").Schema.Value.VisitJSON(value); err != nil {
				t.Errorf("%s: the request does not fit the document: %v", filepath.Base(name), err)
			}
		}
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
	for _, page := range []string{"GET /openapi.json", "GET /docs", "GET /docs/examples"} {
		if !described[page] {
			t.Errorf("%s is not in the document", page)
		}
		delete(described, page)
	}
	for _, r := range api.Routes() {
		route := r.Method + " " + r.Path
		if !described[route] {
			t.Errorf("%s is not in the document", route)
			continue
		}
		delete(described, route)
		var query []string
		for _, p := range doc.Paths.Value(r.Path).GetOperation(r.Method).Parameters {
			if p.Value.In == "query" {
				query = append(query, p.Value.Name)
			}
		}
		slices.Sort(query)
		for _, name := range r.Query {
			if _, found := slices.BinarySearch(query, name); !found {
				t.Errorf("%s: the parameter %s is not in the document", route, name)
			}
		}
		if computed := r.Method == http.MethodGet && slices.Contains(r.Query, "explain"); !computed && len(query) != len(r.Query) {
			t.Errorf("%s: the document has the parameters %v, the route takes %v", route, query, r.Query)
		}
	}
	for route := range described {
		t.Errorf("%s is in the document and not served", route)
	}
}
