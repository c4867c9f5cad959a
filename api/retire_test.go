package api

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"swarf/domain/catalog"
)

// A row that goes says so in every answer (RFC 9745, RFC 8594), the others do not; it works
// as before.
func TestARetiredRouteSaysSo(t *testing.T) {
	snap, err := catalog.New(catalog.Data{Revision: 7})
	if err != nil {
		t.Fatal(err)
	}
	since := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	planted := []retirement{
		{method: http.MethodGet, path: "/v1/sources", since: since, ends: since.AddDate(0, 6, 0), successor: "/v1/books", why: "/problems"},
		{method: http.MethodGet, path: "/v1/machines/{id}", since: since},
	}
	h := newServer(Options{Snapshots: func() *catalog.Snapshot { return snap }, ModelVersion: "9"}, routeTable(), planted...).Handler()
	for _, c := range []struct{ method, target, deprecation, sunset, links string }{
		{"GET", "/v1/sources", "@1772323200", "Tue, 01 Sep 2026 00:00:00 GMT", `</v1/books>; rel="successor-version", </problems>; rel="deprecation"`},
		{"HEAD", "/v1/sources", "@1772323200", "Tue, 01 Sep 2026 00:00:00 GMT", `</v1/books>; rel="successor-version"`},
		{"GET", "/v1/sources?nonsense=1", "@1772323200", "Tue, 01 Sep 2026 00:00:00 GMT", `rel="deprecation"`},
		{"GET", "/v1/machines/none", "@1772323200", "", ""},
		{"DELETE", "/v1/machines/none", "", "", ""},
		{"GET", "/v1/tool-classes", "", "", ""},
	} {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(c.method, c.target, nil))
		head := w.Result().Header
		if head.Get("Deprecation") != c.deprecation || head.Get("Sunset") != c.sunset || !strings.Contains(head.Get("Link"), c.links) || strings.Contains(head.Get("Link"), "successor") != (c.links != "" && c.links[0] == '<') && c.links != `rel="deprecation"` {
			t.Errorf("%s %s: %d %v", c.method, c.target, w.Code, head)
		}
	}
}

// Every retirement is of a row of the table, with its successor another, and ends after it
// began.
func TestRetirementsAreOfRows(t *testing.T) {
	check := func(list []retirement) (wrong []string) {
		rows := routeTable()
		has := func(method, path string) bool {
			for i := range rows {
				if rows[i].path == path && (method == "" || rows[i].method == method) {
					return true
				}
			}
			return false
		}
		for _, r := range list {
			switch {
			case !has(r.method, r.path):
				wrong = append(wrong, r.method+" "+r.path+" is no row")
			case r.since.IsZero(), !r.ends.IsZero() && r.ends.Before(r.since):
				wrong = append(wrong, r.path+" ends before it is deprecated")
			case r.successor != "" && !has("", r.successor):
				wrong = append(wrong, r.path+" gives way to nothing")
			}
		}
		return wrong
	}
	for _, text := range check(retirements) {
		t.Error(text)
	}
	now := time.Now()
	planted := []retirement{{method: "GET", path: "/v1/none", since: now}, {method: "GET", path: "/v1/sources"}, {method: "GET", path: "/v1/sources", since: now, ends: now.AddDate(0, 0, -1)}, {method: "GET", path: "/v1/sources", since: now, successor: "/v1/none"}}
	if got := check(planted); len(got) != len(planted) {
		t.Errorf("of %d planted faults these are found: %v", len(planted), got)
	}
}
