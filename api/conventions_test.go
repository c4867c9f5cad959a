package api_test

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"swarf/api"
)

// QUERY answers as POST does, says so in Allow and Accept-Query, and refuses what is no
// JSON as POST does (RFC 10008).
func TestQueryAnswersAsPostDoes(t *testing.T) {
	h := embeddedService(t)
	doc := published(t)
	asked := 0
	for _, r := range api.Routes() {
		if !r.Queried {
			if got := call(t, h, "QUERY", strings.NewReplacer("{id}", "x", "{slug}", "x").Replace(r.Path), "{}", asJSON); r.Method == "POST" && got.status != http.StatusMethodNotAllowed {
				t.Errorf("QUERY %s: %d", r.Path, got.status)
			}
			continue
		}
		asked++
		body := exampleBody(t, doc.Paths.Value(r.Path).Post)
		byPost, byQuery := call(t, h, "POST", r.Path, body, asJSON), call(t, h, "QUERY", r.Path, body, asJSON)
		if byQuery.status != http.StatusOK || withoutIDs(byPost.body) != withoutIDs(byQuery.body) {
			t.Errorf("QUERY %s: %d %.300s\nPOST %d %.300s", r.Path, byQuery.status, byQuery.body, byPost.status, byPost.body)
		}
		if accepts := byQuery.header.Get("Accept-Query"); !strings.HasPrefix(accepts, "application/json") || strings.HasSuffix(r.Path, "/batch") != strings.Contains(accepts, "text/csv") {
			t.Errorf("%s: Accept-Query %q", r.Path, accepts)
		}
		for _, headers := range [][]string{nil, {"Content-Type: text/plain"}} {
			if got := call(t, h, "QUERY", r.Path, body, headers...); got.status != http.StatusUnsupportedMediaType || got.header.Get("Accept-Query") == "" {
				t.Errorf("QUERY %s with %v: %d", r.Path, headers, got.status)
			}
		}
		if text := doc.Paths.Value(r.Path).Post.Description; !strings.Contains(text, "QUERY (RFC 10008)") {
			t.Errorf("%s does not say that QUERY works", r.Path)
		}
	}
	if asked < 10 {
		t.Errorf("only %d routes take QUERY", asked)
	}
}

// A QUERY names the URL of its answer where there is one: GET gives the same bytes there.
func TestQueryNamesItsURL(t *testing.T) {
	s := newShop(t)
	h := s.handler()
	doc := published(t)
	located := 0
	for path, item := range doc.Paths.Map() {
		if item.Post == nil || item.Get == nil || !strings.Contains(item.Post.Description, "QUERY") {
			continue
		}
		for name, example := range item.Post.RequestBody.Value.Content["application/json"].Examples {
			body, err := json.Marshal(example.Value.Value)
			if err != nil {
				t.Fatal(err)
			}
			got := call(t, h, "QUERY", path+"?explain=true", string(body), asJSON)
			at := got.header.Get("Content-Location")
			if inline := strings.Contains(string(body), `"spindle":`) || strings.Contains(string(body), `"cuts":`) || strings.Contains(string(body), `"overrides":`); inline != (at == "") {
				t.Errorf("%s, %s: Content-Location %q", path, name, at)
			}
			if at == "" {
				continue
			}
			located++
			if again := call(t, h, "GET", at, ""); string(again.body) != string(got.body) || !strings.Contains(at, "as_of=1") {
				t.Errorf("%s, %s: %s\n%.400s\nby QUERY\n%.400s", path, name, at, again.body, got.body)
			}
		}
	}
	if located < 6 {
		t.Errorf("only %d are located", located)
	}
	if got := call(t, h, "QUERY", "/v1/estimates", `{"units":"metric"}`, asJSON); got.header.Get("Content-Location") != "" {
		t.Error("a problem has a location")
	}
	if got := call(t, h, "POST", "/v1/estimates", exampleBody(t, doc.Paths.Value("/v1/estimates").Post), asJSON); got.header.Get("Content-Location") != "" {
		t.Error("a POST has a location")
	}
}

// withoutIDs is a body without the ids of requests.
func withoutIDs(body []byte) string {
	var v any
	if json.Unmarshal(body, &v) != nil {
		return string(body)
	}
	var drop func(any)
	drop = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			delete(v, "request_id")
			for _, inner := range v {
				drop(inner)
			}
		case []any:
			for _, inner := range v {
				drop(inner)
			}
		}
	}
	drop(v)
	text, _ := json.Marshal(v)
	return string(text)
}

// HEAD gives the status and the headers of GET, and no body, wherever GET works: for every
// route of the document, in every format.
func TestHeadWorksWhereverGetDoes(t *testing.T) {
	snapshot := newShop(t)
	h := snapshot.handler()
	doc := published(t)
	for _, r := range api.Routes() {
		if r.Method != http.MethodGet {
			continue
		}
		target := exampleTarget(r.Path, doc.Paths.Value(r.Path).Get)
		formats := append(slices.Clone(r.Offers), "")
		for _, format := range formats {
			at := target
			if format != "" && len(r.Offers) > 1 {
				at = with(at, "format="+format)
			}
			if format == "value" {
				at = with(at, "field=data_revision")
			}
			get, head := call(t, h, "GET", at, ""), call(t, h, "HEAD", at, "")
			if head.status != get.status || len(head.body) != 0 {
				t.Errorf("%s: GET %d, HEAD %d with %d bytes", at, get.status, head.status, len(head.body))
			}
			for name := range get.header {
				if name != "X-Request-Id" && name != "Date" && get.status < 400 && head.header.Get(name) != get.header.Get(name) {
					t.Errorf("%s: HEAD has %s %q, GET %q", at, name, head.header.Get(name), get.header.Get(name))
				}
			}
		}
	}
}

// fields works on every read that answers in JSON: with it the answer has what was asked
// for and what says of which state it is, and another tag.
func TestFieldsOfEveryRead(t *testing.T) {
	s := newShop(t)
	h := s.handler()
	doc := published(t)
	call(t, h, "PUT", "/v1/cuts/flange-10", exampleBody(t, doc.Paths.Value("/v1/cuts/{id}").Put), asJSON, "If-None-Match: *")
	call(t, h, "POST", "/v1/estimates/batch", exampleBody(t, doc.Paths.Value("/v1/estimates/batch").Post), asJSON, "Prefer: respond-async")
	asked := 0
	for _, r := range api.Routes() {
		if r.Method != http.MethodGet || !slices.Contains(r.Query, "fields") || slices.Contains(r.Query, "explain") {
			continue
		}
		target := exampleTarget(r.Path, doc.Paths.Value(r.Path).Get)
		whole := call(t, h, "GET", target, "")
		if whole.status != http.StatusOK {
			t.Errorf("%s: %d %s", target, whole.status, whole.body)
			continue
		}
		asked++
		if got := call(t, h, "GET", with(target, "fields=nonesuch"), ""); whole.doc != nil && got.status != http.StatusBadRequest && len(whole.body) > 200 {
			t.Errorf("%s: a field that is not there: %d %.200s", target, got.status, got.body)
		}
		name := ""
		object, _ := whole.doc.(map[string]any)
		if items, ok := object["items"].([]any); ok {
			if len(items) == 0 {
				continue
			}
			object = items[0].(map[string]any)
		}
		for member := range object {
			if !slices.Contains([]string{"ref", "units", "unit_of", "data_revision", "model_version", "verdict", "id", "next_cursor"}, member) {
				name = max(name, member)
			}
		}
		got := call(t, h, "GET", with(target, "fields="+name), "")
		if few := r.Path == "/v1/cuts"; got.status != http.StatusOK || len(got.body) >= len(whole.body) && !few || !strings.Contains(string(got.body), `"`+name+`":`) {
			t.Errorf("%s fields=%s: %d, %d of %d bytes", target, name, got.status, len(got.body), len(whole.body))
		}
		if tag := got.header.Get("ETag"); whole.header.Get("ETag") != "" && (tag == "" || tag == whole.header.Get("ETag")) && len(got.body) < len(whole.body) {
			t.Errorf("%s fields=%s has the tag %s of the whole", target, name, tag)
		}
	}
	if asked < 19 {
		t.Errorf("only %d reads take fields", asked)
	}
}

// Lists link to the pages around: from the last back to the first by prev alone.
func TestPagesLinkBothWays(t *testing.T) {
	h := embeddedService(t)
	var targets []string
	var bodies []string
	last := "/v1/tool-classes?limit=7"
	for target := last; target != ""; {
		got := call(t, h, "GET", target, "")
		targets, bodies, last = append(targets, target), append(bodies, string(got.body)), target
		if first := linkOf(got, "first"); (first == "") != (len(targets) == 1) || first != "" && first != targets[0] {
			t.Errorf("%s: first %q", target, first)
		}
		if linkOf(got, "service-desc") != "/openapi.json" {
			t.Errorf("%s: Link %q", target, got.header.Get("Link"))
		}
		target = linkOf(got, "next")
	}
	if len(targets) < 3 {
		t.Fatalf("%d pages", len(targets))
	}
	back := len(targets) - 1
	for target := last; target != ""; back-- {
		got := call(t, h, "GET", target, "")
		if back < 0 || string(got.body) != bodies[back] {
			t.Fatalf("back on page %d: %s %.200s", back, target, got.body)
		}
		target = linkOf(got, "prev")
	}
	if back != -1 {
		t.Errorf("%d pages are missing on the way back", back+1)
	}
	// from the middle of a page back to the beginning
	got := call(t, h, "GET", "/v1/tool-classes?limit=3", "")
	odd := call(t, h, "GET", strings.Replace(linkOf(got, "next"), "limit=3", "limit=5", 1), "")
	if items, _ := pageOf(t, h, linkOf(odd, "prev")); len(items) != 3 {
		t.Errorf("%d items before the fourth", len(items))
	}
	if got := call(t, h, "GET", "/v1/tool-classes/mill-end", ""); linkOf(got, "collection") != "/v1/tool-classes" {
		t.Errorf("Link %q", got.header.Get("Link"))
	}
	if got := call(t, h, "GET", "/v1/estimates?"+aCutFlat+"&x=1", ""); linkOf(got, "describedby") != "/problems/unknown-parameter" {
		t.Errorf("Link %q", got.header.Get("Link"))
	}
}

// The catalogue is a set of links, each of which leads somewhere (RFC 9727, RFC 9264).
func TestCatalogueLeadsSomewhere(t *testing.T) {
	h := serviceWith(api.Options{Snapshots: newShop(t).now})
	got := call(t, h, "GET", "/.well-known/api-catalog", "")
	if got.status != http.StatusOK || !strings.HasPrefix(got.header.Get("Content-Type"), "application/linkset+json") || !strings.Contains(got.header.Get("Content-Type"), `profile="https://www.rfc-editor.org/info/rfc9727"`) {
		t.Fatalf("%d %v", got.status, got.header)
	}
	if head := call(t, h, "HEAD", "/.well-known/api-catalog", ""); linkOf(head, "api-catalog") != "/.well-known/api-catalog" || len(head.body) > 0 {
		t.Errorf("HEAD: %v", head.header)
	}
	followed := 0
	for _, relation := range []string{"service-desc", "service-doc", "status", "service-meta"} {
		links, err := find(got.doc, "linkset[0]."+relation+"[*]")
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range links {
			followed++
			at := call(t, h, "GET", textOf(n.value, "href"), "", "Accept: "+textOf(n.value, "type"))
			if kind, _, _ := strings.Cut(at.header.Get("Content-Type"), ";"); at.status != http.StatusOK || kind != textOf(n.value, "type") {
				t.Errorf("%s: %d %s", textOf(n.value, "href"), at.status, kind)
			}
		}
	}
	if followed < 5 {
		t.Errorf("only %d links", followed)
	}
	for _, target := range []string{"/healthz", "/readyz", "/version"} {
		if got := call(t, h, "GET", target, ""); linkOf(got, "api-catalog") == "" || linkOf(got, "service-doc") == "" || linkOf(got, "status") == "" {
			t.Errorf("%s: Link %q", target, got.header.Get("Link"))
		}
	}
}

// Problem pages run no script, load nothing, and are theirs by the hash of their style; as
// text they are closed.
func TestCatalogueOfProblems(t *testing.T) {
	h := embeddedService(t)
	for _, p := range api.Problems() {
		page := call(t, h, "GET", "/problems/"+p.Slug, "", "Accept: text/html")
		body, policy := string(page.body), page.header.Get("Content-Security-Policy")
		if page.status != http.StatusOK || !strings.Contains(body, "<h1>") || strings.Contains(body, "<script") || strings.Contains(body, "style=") || strings.Contains(body, "&lt;code") {
			t.Errorf("%s: %d %s", p.Slug, page.status, body)
		}
		_, style, _ := strings.Cut(body, "<style>")
		style, _, _ = strings.Cut(style, "</style>")
		if !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "'"+hashOf(style)+"'") || strings.Contains(policy, "unsafe") {
			t.Errorf("%s: %s for a style with the hash %s", p.Slug, policy, hashOf(style))
		}
		text := string(call(t, h, "GET", "/problems/"+p.Slug+"?format=text", "").body)
		if !strings.Contains(text, "code="+p.Slug+"\n") || !strings.HasSuffix(text, "status=ok\nlines=7\n") || strings.ContainsFunc(text, func(r rune) bool { return r > 126 }) {
			t.Errorf("%s as text: %s", p.Slug, text)
		}
	}
	list := string(call(t, h, "GET", "/problems?format=html", "").body)
	for _, p := range api.Problems() {
		if !strings.Contains(list, `<a href="/problems/`+p.Slug+`">`) {
			t.Errorf("%s is not in the list", p.Slug)
		}
	}
}

// hashOf names a style in a policy.
func hashOf(style string) string {
	sum := sha256.Sum256([]byte(style))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
