package api_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"swarf/api"
	"swarf/domain/catalog"
)

// Methods that are not of a route are refused on every route, say nothing back of the
// request, and none is had by pretending another.
func TestOddMethodsAreRefused(t *testing.T) {
	h := newShop(t).handler()
	asked := 0
	for _, r := range api.Routes() {
		for _, method := range []string{"TRACE", "TRACK", "CONNECT", "OPTIONS", "PROPFIND", "MOVE", "LOCK", "PURGE", "DEBUG", "get", "X"} {
			got := call(t, h, method, targetOf(r), "", "X-Secret: echo-me", asJSON)
			if got.status != http.StatusMethodNotAllowed && got.status != http.StatusNotFound || strings.Contains(string(got.body), "echo-me") {
				t.Errorf("%s %s: %d %s", method, r.Path, got.status, got.body)
			}
			asked++
		}
	}
	if asked < 400 {
		t.Errorf("only %d requests", asked)
	}
	created := call(t, h, "PUT", "/v1/machines/stays", aMachine, asJSON, "If-None-Match: *")
	for _, c := range []struct{ method, target, header string }{
		{"GET", "/v1/machines/stays?_method=DELETE", ""},
		{"POST", "/v1/machines/stays", "X-HTTP-Method-Override: DELETE"},
		{"GET", "/v1/machines/stays", "X-HTTP-Method-Override: DELETE"},
		{"GET", "/v1/machines/stays", "X-Method-Override: DELETE"},
		{"GET", "/v1/machines/stays", "X-HTTP-Method: DELETE"},
		{"GET", "/v1/machines/other", "X-Original-URL: /v1/machines/stays"},
		{"GET", "/v1/machines/other", "X-Rewrite-URL: /v1/machines/stays"},
	} {
		headers := []string{"If-Match: " + created.header.Get("ETag")}
		if c.header != "" {
			headers = append(headers, c.header)
		}
		got := call(t, h, c.method, c.target, "", headers...)
		if strings.HasSuffix(c.target, "other") && got.status != 404 {
			t.Errorf("%v leads elsewhere: %d", c, got.status)
		}
	}
	if got := call(t, h, "GET", "/v1/machines/stays", ""); got.status != 200 {
		t.Errorf("the machine is gone: %d", got.status)
	}
}

// No path leads out of what is served.
func TestNoPathLeadsOut(t *testing.T) {
	snap := snapshotOf(t, embeddedData(t))
	h := serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }})
	asked := 0
	for _, way := range []string{"../", "..%2f", "%2e%2e/", "%2e%2e%2f", "..%5c", `..\`, "....//", "..;/", "%252e%252e%252f", "..%c0%af", "%00/", ".%00./"} {
		for _, from := range []string{"/docs/", "/v1/machines/", "/v1/materials/", "/problems/", "/v1/exports/", "/"} {
			for _, to := range []string{"etc/passwd", "go.mod", "openapi.json%00.html", "proc/self/environ"} {
				target := from + strings.Repeat(way, 3) + to
				r, err := http.NewRequest(http.MethodGet, "http://swarf"+target, nil)
				if err != nil {
					continue // no client can send it
				}
				got := answerTo(h, r)
				asked++
				if got.status != 404 || strings.Contains(string(got.body), "root:") || strings.Contains(string(got.body), "module swarf") {
					t.Errorf("%s: %d %.200s", target, got.status, got.body)
				}
			}
		}
	}
	if asked < 150 {
		t.Errorf("only %d paths were tried", asked)
	}
}

// The host that a caller names is in no answer: no link, no page and no place of a record
// can be made to lead elsewhere by it.
func TestTheHostIsInNoAnswer(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	const evil = "evil.example"
	seen := 0
	for _, r := range api.Routes() {
		if r.Method != http.MethodGet && r.Method != http.MethodPut {
			continue
		}
		for _, offered := range append([]string{""}, r.Offers...) {
			if offered == "png" {
				continue
			}
			target := strings.NewReplacer("{id}", "vmc-50", "{slug}", "not-found").Replace(r.Path)
			if offered != "" {
				target += "?format=" + offered
			}
			q := httptest.NewRequest(r.Method, target, strings.NewReader(aMachine))
			q.Host = evil
			for name, value := range map[string]string{"X-Forwarded-Host": evil, "X-Forwarded-Proto": "ftp", "X-Forwarded-Prefix": "/" + evil, "X-Host": evil, "Forwarded": "host=" + evil,
				"Referer": "http://" + evil, "Content-Type": "application/json", "If-None-Match": "*"} {
				q.Header.Set(name, value)
			}
			got := answerTo(h, q)
			seen++
			if strings.Contains(string(got.body), evil) {
				t.Errorf("%s %s: the body names the host: %.300s", r.Method, target, got.body)
			}
			for name, values := range got.header {
				if strings.Contains(strings.Join(values, " "), evil) {
					t.Errorf("%s %s: %s: %v", r.Method, target, name, values)
				}
			}
		}
	}
	if seen < 60 {
		t.Errorf("only %d requests", seen)
	}
}
