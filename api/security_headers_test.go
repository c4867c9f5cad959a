package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"swarf/api"
	"swarf/domain/catalog"
)

// headerFaults says what of the fields of an answer is missing or tells too much.
func headerFaults(got reply) (faults []string) {
	h := got.header
	need := func(name, want string) {
		if h.Get(name) != want {
			faults = append(faults, name+": "+h.Get(name)+", not "+want)
		}
	}
	need("X-Content-Type-Options", "nosniff")
	if h.Get("X-Request-Id") == "" {
		faults = append(faults, "no X-Request-Id")
	}
	for name := range h {
		// Who serves is nobody's business, no page of elsewhere may read, and nothing is kept
		// in browsers.
		if slices.Contains([]string{"Server", "X-Powered-By", "Via", "Set-Cookie"}, name) || strings.HasPrefix(name, "Access-Control-") {
			faults = append(faults, name+" is sent")
		}
	}
	kind := h.Get("Content-Type")
	if strings.HasPrefix(kind, "text/") && !strings.HasSuffix(kind, "charset=utf-8") && !strings.HasSuffix(kind, "charset=us-ascii") && !strings.Contains(kind, "charset=utf-8;") {
		faults = append(faults, "Content-Type "+kind+" without a character set")
	}
	if kind == "" && len(got.body) > 0 {
		faults = append(faults, "a body without a Content-Type")
	}
	if got.status >= 400 {
		need("Cache-Control", "no-store")
	}
	if strings.HasPrefix(kind, "text/html") || strings.HasPrefix(kind, "image/svg+xml") {
		need("Referrer-Policy", "no-referrer")
		faults = append(faults, policyFaults(h.Get("Content-Security-Policy"))...)
	}
	return faults
}

// policyFaults holds a content security policy against what every page must forbid.
func policyFaults(policy string) (faults []string) {
	rules := map[string]string{}
	for rule := range strings.SplitSeq(policy, ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(rule), " ")
		rules[name] = value
	}
	if rules["frame-ancestors"] != "'none'" {
		faults = append(faults, "may be framed: "+policy)
	}
	if d := rules["default-src"]; d != "'none'" && d != "'self'" {
		faults = append(faults, "default-src "+d)
	}
	for name, value := range rules {
		if strings.Contains(value, "*") || strings.Contains(value, "http") || strings.Contains(value, "unsafe-eval") {
			faults = append(faults, name+" "+value)
		}
		if (name == "script-src" || name == "default-src") && strings.Contains(value, "unsafe-inline") {
			faults = append(faults, name+" "+value)
		}
	}
	return faults
}

// Every route, in every format and with every kind of trouble, answers with the same guard
// of header fields.
func TestEveryAnswerIsGuarded(t *testing.T) {
	snap := snapshotOf(t, embeddedData(t))
	keys := newKeys()
	hosts := map[string]http.Handler{
		"with data":        serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, Keys: keys}),
		"without data":     serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return nil }}),
		"with keys":        serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, Keys: keys, Require: api.KeysAlways}),
		"over its quota":   serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, OpenQuota: api.Quota{Units: 60, Window: minute}}),
		"for small bodies": serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, Limits: api.Limits{BodyBytes: 5, BatchBytes: 5, ImportBytes: 5}}),
	}
	doc := published(t)
	statuses, pages := map[int]int{}, 0
	look := func(where string, h http.Handler, method, target, body string, headers ...string) {
		got := call(t, h, method, target, body, headers...)
		statuses[got.status]++
		if strings.HasPrefix(got.header.Get("Content-Type"), "text/html") {
			pages++
		}
		if faults := headerFaults(got); len(faults) > 0 {
			t.Errorf("%s: %s %s: %d %q", where, method, target, got.status, faults)
		}
	}
	for where, h := range hosts {
		for path, item := range doc.Paths.Map() {
			for method, o := range item.Operations() {
				target, body, headers := exampleTarget(path, o), "", []string{"Origin: https://elsewhere.example"}
				if o.RequestBody != nil && o.RequestBody.Value.Content["application/json"] != nil {
					body, headers = exampleBody(t, o), append(headers, asJSON)
				}
				look(where, h, method, target, body, headers...)
				look(where, h, method, target, body, append(headers, "Accept: text/html")...)
				look(where, h, method, target, body, append(headers, "Accept: image/webp")...)
				look(where, h, method, with(target, "nonsense=1&format=html"), body, headers...)
				look(where, h, http.MethodOptions, target, "", "Origin: https://elsewhere.example", "Access-Control-Request-Method: POST")
				look(where, h, http.MethodTrace, target, "")
			}
		}
		for _, page := range []string{"/docs", "/docs/examples", "/docs/initializer.js", "/docs/swagger-ui.css", "/docs/favicon-32x32.png", "/openapi.json", "/nowhere", "/docs/nowhere", "/", "/v1/materials?limit=0"} {
			look(where, h, http.MethodGet, page, "")
			look(where, h, http.MethodHead, page, "")
		}
	}
	for _, status := range []int{200, 400, 401, 404, 405, 406, 413, 415, 422, 429, 503} {
		if statuses[status] == 0 {
			t.Errorf("no answer was %d: %v", status, statuses)
		}
	}
	if pages < 100 {
		t.Errorf("only %d pages were seen", pages)
	}
}

// The guard itself is held to answers that lack one thing.
func TestHeaderFaultsAreFound(t *testing.T) {
	sound := func() reply {
		return reply{status: 200, body: []byte("x"), header: http.Header{"X-Content-Type-Options": {"nosniff"}, "X-Request-Id": {"1"}, "Content-Type": {"text/html; charset=utf-8"},
			"Referrer-Policy": {"no-referrer"}, "Content-Security-Policy": {"default-src 'none'; frame-ancestors 'none'"}}}
	}
	if faults := headerFaults(sound()); len(faults) > 0 {
		t.Fatal(faults)
	}
	for name, value := range map[string]string{"X-Content-Type-Options": "", "Server": "x", "Access-Control-Allow-Origin": "*", "Content-Type": "text/html", "Referrer-Policy": "",
		"Content-Security-Policy": "default-src 'none'", "Set-Cookie": "a=b", "X-Request-Id": ""} {
		got := sound()
		got.header.Set(name, value)
		if len(headerFaults(got)) == 0 {
			t.Errorf("%s: %q passes", name, value)
		}
	}
	for _, policy := range []string{"default-src *; frame-ancestors 'none'", "default-src 'self' 'unsafe-inline'; frame-ancestors 'none'", "default-src 'none'; script-src http://x; frame-ancestors 'none'", ""} {
		if len(policyFaults(policy)) == 0 {
			t.Errorf("%q passes", policy)
		}
	}
}
