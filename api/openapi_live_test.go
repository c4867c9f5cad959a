package api_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
	"swarf/api/docs"
	"swarf/domain/catalog"
)

// witness asks a service, holds every answer against the document and remembers
// which statuses it saw.
type witness struct {
	t    *testing.T
	doc  *openapi3.T
	seen map[string]bool // "GET /v1/machines/{id} 200"
}

func (w *witness) ask(h http.Handler, method, target, body string, headers ...string) reply {
	w.t.Helper()
	got := call(w.t, h, method, target, body, headers...)
	fits(w.t, w.doc, method, target, got.status, got.header.Get("Content-Type"), got.body)
	_, template := operationOf(w.doc, method, target)
	w.seen[fmt.Sprintf("%s %s %d", method, template, got.status)] = true
	return got
}

// serviceWith is a service with the pages of the document, as it runs.
func serviceWith(options api.Options) http.Handler {
	options.ModelVersion = "test"
	options.Build = api.Build{Version: "0.0.0", Go: "go"}
	for _, page := range docs.Pages() {
		options.Extra = append(options.Extra, api.Page{Path: page.Path, Handler: page.Handler, ContentSecurityPolicy: page.Policy})
	}
	return api.New(options).Handler()
}

// exampleBody is the first worked example of an operation.
func exampleBody(t *testing.T, o *openapi3.Operation) string {
	t.Helper()
	media := o.RequestBody.Value.Content["application/json"]
	value := media.Example
	if value == nil {
		first := slices.Min(slices.Collect(maps.Keys(media.Examples)))
		value = media.Examples[first].Value.Value
	}
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// exampleTarget fills a path and its query with the examples of the document.
func exampleTarget(template string, o *openapi3.Operation) string {
	values := url.Values{}
	for _, p := range o.Parameters {
		if p.Value.Example == nil {
			continue
		}
		text := strings.Trim(strings.ReplaceAll(fmt.Sprint(p.Value.Example), " ", ","), "[]")
		if p.Value.In == "path" {
			template = strings.ReplaceAll(template, "{"+p.Value.Name+"}", text)
		} else {
			values.Set(p.Value.Name, text)
		}
	}
	if len(values) == 0 {
		return template
	}
	return template + "?" + values.Encode()
}

// with adds a parameter to a target.
func with(target, parameter string) string {
	if strings.Contains(target, "?") {
		return target + "&" + parameter
	}
	return target + "?" + parameter
}

// Every operation of the document is asked for every status it lists, and answers
// with no other; every answer fits its schema and has a media type that is listed.
// The worked examples of the document are what is asked.
func TestDocumentTellsEveryAnswer(t *testing.T) {
	snap := snapshotOf(t, embeddedData(t))
	now := func() *catalog.Snapshot { return snap }
	full := serviceWith(api.Options{Snapshots: now})
	empty := serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return nil }})
	small := serviceWith(api.Options{Snapshots: now, Limits: api.Limits{BodyBytes: 20, BatchBytes: 20}})
	w := &witness{t, published(t), map[string]bool{}}
	for template, item := range w.doc.Paths.Map() {
		for method, o := range item.Operations() {
			if method == http.MethodPut || method == http.MethodDelete || template == "/v1/changes" || stored(template) {
				continue // need a store, below
			}
			target, body, headers := exampleTarget(template, o), "", []string(nil)
			if o.RequestBody != nil {
				body, headers = exampleBody(t, o), []string{asJSON}
				w.ask(small, method, target, body, asJSON)
				w.ask(full, method, target, body, "Content-Type: text/plain")
			}
			w.askFormats(full, method, target, body, headers, o)
			w.ask(full, method, with(target, "nonsense=1"), body, headers...)
			w.ask(empty, method, target, body, headers...)
			if o.Responses.Value("406") != nil {
				w.ask(full, method, target, body, append([]string{"Accept: image/webp"}, headers...)...)
			}
			if o.Parameters.GetByInAndName("query", "bom") != nil && method == http.MethodGet {
				w.ask(full, method, with(target, "bom=true"), "")
			}
			if o.Responses.Value("414") != nil {
				w.ask(full, method, with(target, "fields="+strings.Repeat("x", 2000)), "")
			}
			if o.Responses.Value("304") != nil {
				w.ask(full, method, target, body, "If-None-Match: *")
			}
			if o.Parameters.GetByInAndName("query", "as_of") != nil {
				w.ask(full, method, with(target, "as_of=999"), body, headers...)
			}
			if open := strings.Index(template, "{"); open > 0 {
				end := strings.Index(template, "}")
				w.ask(full, method, template[:open]+"no-such-thing"+template[end+1:], body, headers...)
			}
		}
	}
	w.machines(full, small)
	w.records(full)
	w.evidence(full)
	w.tables(full)
	w.jobs(full)
	w.assets(full)
	w.keys(full)
	w.guarded()
	w.compare()
}

// sometimes are headers that an answer has only when it was asked for them.
var sometimes = []string{"Preference-Applied", "Validate-Only", "Idempotency-Replayed"}

// askFormats asks for every representation that the document offers.
func (w *witness) askFormats(h http.Handler, method, target, body string, headers []string, o *openapi3.Operation) {
	w.t.Helper()
	for media := range o.Responses.Value("200").Value.Content {
		got := w.ask(h, method, target, body, append([]string{"Accept: " + media}, headers...)...)
		if kind, _, _ := strings.Cut(got.header.Get("Content-Type"), ";"); got.status != http.StatusOK || kind != media {
			w.t.Errorf("%s %s asked for %s: %d %s %.300s", method, target, media, got.status, kind, got.body)
		}
		for name, header := range o.Responses.Value("200").Value.Headers {
			if got.header.Get(name) == "" && !slices.Contains(sometimes, name) {
				w.t.Errorf("%s %s: no %s (%s)", method, target, name, header.Value.Description)
			}
		}
	}
	if p := o.Parameters.GetByInAndName("query", "format"); p != nil {
		for _, word := range p.Schema.Value.Enum {
			query := "format=" + word.(string)
			if word == "value" {
				query += "&field=data_revision"
			}
			if got := w.ask(h, method, with(target, query), body, headers...); got.status != http.StatusOK {
				w.t.Errorf("%s %s format=%s: %d", method, target, word, got.status)
			}
		}
	}
}

// machines walks a machine through its life, with everything that can go wrong.
func (w *witness) machines(embedded, small http.Handler) {
	w.t.Helper()
	const at = "/v1/machines/mill-1"
	shop := newShop(w.t)
	h := shop.handler()
	changes := w.doc.Paths.Value("/v1/changes").Get
	body := exampleBody(w.t, w.doc.Paths.Value("/v1/machines/{id}").Put)

	w.ask(embedded, "PUT", at, body, asJSON, "If-None-Match: *")
	w.ask(embedded, "DELETE", at, "", "If-Match: *")
	w.ask(embedded, "GET", "/v1/changes", "")

	made := w.ask(h, "PUT", at, body, asJSON, "If-None-Match: *")
	w.ask(h, "PUT", at, body, asJSON, "If-Match: "+made.header.Get("ETag"))
	w.ask(h, "PUT", at, body, asJSON, "If-Match: "+made.header.Get("ETag"), "Accept: text/plain")
	w.ask(h, "PUT", at, aMachine, asJSON, "If-Match: *")
	w.ask(h, "PUT", at, body, asJSON, "If-None-Match: *")
	w.ask(h, "PUT", at, body, asJSON)
	w.ask(h, "PUT", at, body, "If-Match: *")
	w.ask(h, "PUT", at, body, asJSON, "If-Match: *", "Accept: image/webp")
	w.ask(h, "PUT", at, `{"colour":"red"}`, asJSON, "If-Match: *")
	w.ask(h, "PUT", at, strings.Replace(body, `"max_speed":8000`, `"max_speed":-1`, 1), asJSON, "If-Match: *")
	limited := newShop(w.t)
	w.ask(limited.handlerWith(api.Limits{BodyBytes: 20}), "PUT", at, body, asJSON, "If-None-Match: *")
	w.ask(h, "GET", at, "")

	w.ask(h, "DELETE", at, "")
	w.ask(h, "DELETE", at+"?nonsense=1", "", "If-Match: *")
	w.ask(h, "DELETE", at+"?reason="+strings.Repeat("x", 600), "", "If-Match: *")
	w.ask(h, "DELETE", at, "", `If-Match: "stale"`)
	w.ask(h, "DELETE", at, "", "If-Match: *")
	w.ask(h, "DELETE", at, "", "If-Match: *")

	w.askFormats(h, "GET", "/v1/changes", "", nil, changes)
	w.ask(h, "GET", "/v1/changes", "", "If-None-Match: *")
	w.ask(h, "GET", "/v1/changes?after=x", "")
	w.ask(h, "GET", "/v1/changes?limit=0", "")
	w.ask(h, "GET", "/v1/changes", "", "Accept: image/webp")
}

// compare holds the statuses that were seen against those that are listed.
func (w *witness) compare() {
	w.t.Helper()
	for path, item := range w.doc.Paths.Map() {
		for method, o := range item.Operations() {
			for code := range o.Responses.Map() {
				if _, err := strconv.Atoi(code); err == nil && !w.seen[method+" "+path+" "+code] {
					w.t.Errorf("%s %s lists %s, which nothing here brought about", method, path, code)
				}
			}
		}
	}
}
