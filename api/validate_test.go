package api_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"swarf/api"
)

// writes is one write of each kind, in an order in which each finds what it needs; the
// bodies are the worked examples of the document.
var writes = []struct {
	route, target string
	headers       []string
	faulty        string // a query or nothing, and a body after a blank, that is refused
}{
	{"PUT /v1/machines/{id}", "/v1/machines/mill-1", []string{"If-None-Match: *"}, ` {"units":"metric","process":"milling"}`},
	{"PUT /v1/records/{id}", "/v1/records/kc-own", []string{"If-None-Match: *", "From: ann"}, ` {"units":"metric","kind":"force"}`},
	{"POST /v1/records/{id}/approval", "/v1/records/kc-own/approval", []string{"From: bob"}, ` {"reason":""}`},
	{"POST /v1/records/{id}/withdrawal", "/v1/records/kc-own/withdrawal", []string{"From: bob"}, ` {"reason":""}`},
	{"PUT /v1/cuts/{id}", "/v1/cuts/op-10", []string{"If-None-Match: *"}, ` {"units":"metric"}`},
	{"DELETE /v1/cuts/{id}", "/v1/cuts/op-10", []string{"If-Match: *"}, "reason=" + strings.Repeat("x", 600)},
	{"DELETE /v1/machines/{id}", "/v1/machines/mill-1", []string{"If-Match: *"}, "reason=" + strings.Repeat("x", 600)},
	{"POST /v1/observations", "/v1/observations", nil, ` {"units":"metric","kind":"load"}`},
	{"POST /v1/observations/batch", "/v1/observations/batch", nil, ` {"units":"metric"}`},
	{"POST /v1/calibrations", "/v1/calibrations", []string{"From: ann"}, ` {"kind":"force"}`},
	{"POST /v1/calibrations/{id}/approval", "/v1/calibrations/kc-x5crni18-10-own/approval", []string{"From: bob"}, ` {"reason":""}`},
	{"POST /v1/imports", "/v1/imports?sheet=cuts", []string{"From: ann"}, ""},
	{"POST /v1/imports/{id}/approval", "/v1/imports/{import}/approval", []string{"From: bob"}, ` {"reason":""}`},
	{"DELETE /v1/jobs/{id}", "/v1/jobs/1", nil, "nonsense=1"},
}

// state is what a shop has kept.
func (s *shop) state() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	jobs := ""
	for _, j := range s.jobs {
		jobs += j.State
	}
	return fmt.Sprint(len(s.snaps), len(s.log), len(s.seen), len(s.drafts), jobs)
}

// Every write can be checked only: it answers as it would, keeps nothing, and meets the
// same faults; sent again without validate_only it is done.
func TestEveryWriteCanBeCheckedOnly(t *testing.T) {
	s := newShop(t)
	h := s.handler()
	doc := published(t)
	call(t, h, "POST", "/v1/estimates/batch", exampleBody(t, doc.Paths.Value("/v1/estimates/batch").Post), asJSON, "Prefer: respond-async")
	told := map[string]bool{}
	for _, w := range writes {
		method, path, _ := strings.Cut(w.route, " ")
		told[w.route] = true
		target, body, kind := strings.Replace(w.target, "{import}", fmt.Sprint(imported), 1), "", asJSON
		if o := doc.Paths.Value(path).GetOperation(method); strings.HasPrefix(w.target, "/v1/imports?") {
			body, kind, target = importTable, "Content-Type: text/csv", strings.Replace(target, "cuts", "force", 1)
		} else if o.RequestBody != nil {
			body = exampleBody(t, o)
		}
		headers := append(slices.Clone(w.headers), kind)
		before := s.state()
		checked := call(t, h, method, with(target, "validate_only=true"), body, headers...)
		if after := s.state(); after != before {
			t.Fatalf("%s was kept: %s, before %s", w.route, after, before)
		}
		if checked.header.Get("Validate-Only") != "true" || checked.header.Get("ETag") != "" || checked.header.Get("Location") != "" || checked.header.Get("Data-Revision") == "" && method != "DELETE" {
			t.Errorf("%s: headers %v", w.route, checked.header)
		}
		if w.faulty != "" {
			query, faulty, _ := strings.Cut(w.faulty, " ")
			if query == "" {
				query = "validate_only=true"
			} else {
				query += "&validate_only=true"
			}
			if got := call(t, h, method, with(target, query), faulty, headers...); got.status < 400 || got.status >= 500 {
				t.Errorf("%s with a fault: %d %s", w.route, got.status, got.body)
			}
		}
		done := call(t, h, method, target, body, headers...)
		if done.status == http.StatusCreated {
			done.status = http.StatusOK
		}
		if done.status >= 400 || checked.status != done.status || done.header.Get("Validate-Only") != "" {
			t.Fatalf("%s: checked %d %.600s\ndone %d %.600s", w.route, checked.status, checked.body, done.status, done.body)
		}
		if was, is := settledBody(checked), settledBody(done); was != is {
			t.Errorf("%s: checked\n%s\ndone\n%s", w.route, was, is)
		}
		if s.state() == before {
			t.Errorf("%s: nothing was kept in the end", w.route)
		}
		if path == "/v1/imports" {
			imported = s.snaps[len(s.snaps)-1].Revision
		}
	}
	for _, r := range api.Routes() {
		if r.Writes && r.Scope != "admin" && !told[r.Method+" "+r.Path] {
			t.Errorf("%s %s is not checked here", r.Method, r.Path)
		}
		if r.Writes != slices.Contains(r.Query, "validate_only") {
			t.Errorf("%s %s: parameters %v", r.Method, r.Path, r.Query)
		}
	}
	if got := call(t, h, "PUT", "/v1/machines/mill-1?validate_only=perhaps", aMachine, asJSON, "If-None-Match: *"); got.status != http.StatusBadRequest {
		t.Errorf("%d %s", got.status, got.body)
	}
}

// Keys too can be made, changed and revoked on trial: no secret is shown, and all stays as it
// was.
func TestKeysCanBeCheckedOnly(t *testing.T) {
	keys := newKeys()
	h := newShop(t).handlerOf(api.Options{Keys: keys})
	admin := keys.make(t, "admin", false, "admin")
	made := call(t, h, "POST", "/v1/keys", `{"name":"MES","scopes":["read"]}`, asJSON, admin)
	one := "/v1/keys/" + member2(made.doc, "id").(string)
	before := call(t, h, "GET", one, "", admin)
	for _, c := range []struct{ target, body string }{{"/v1/keys", `{"name":"ERP","scopes":["read"]}`}, {one + "/rotation", `{}`}, {one + "/revocation", `{}`}} {
		got := call(t, h, "POST", c.target+"?validate_only=true", c.body, asJSON, admin)
		if got.status != http.StatusOK || got.header.Get("Validate-Only") != "true" || strings.Contains(string(got.body), "token") {
			t.Errorf("%s: %d %s", c.target, got.status, got.body)
		}
	}
	if got := call(t, h, "POST", "/v1/keys?validate_only=true", `{"name":"mes","scopes":["read"]}`, asJSON, admin); got.status != http.StatusConflict {
		t.Errorf("a name that is taken: %d %s", got.status, got.body)
	}
	if after := call(t, h, "GET", one, "", admin); string(after.body) != string(before.body) {
		t.Errorf("before %s\nafter %s", before.body, after.body)
	}
	if list := call(t, h, "GET", "/v1/keys", "", admin); strings.Contains(string(list.body), "ERP") {
		t.Errorf("a key was kept: %s", list.body)
	}
}

// imported is the import that is approved, of this table.
var imported int64

const importTable = "id,scope.level,scope.key,process,method,specific_cutting_force_1_1 [N/mm2],chip_thickness_exponent,basis,source\nkc-imported,material,x5crni18-10,turning,kienzle,2100,0.21,shop,shop\n"

// settledBody is a body without what only a write that was kept has.
func settledBody(got reply) string {
	object, ok := got.doc.(map[string]any)
	if !ok {
		return string(got.body)
	}
	object = maps.Clone(object)
	for _, name := range []string{"data_revision", "id", "validate_only", "committed", "import", "ended_at", "valid_from", "at"} {
		delete(object, name)
	}
	if impact, ok := object["impact"].(map[string]any); ok {
		delete(impact, "data_revision")
	}
	if items, ok := object["items"].([]any); ok {
		for _, item := range items {
			delete(item.(map[string]any), "id")
			delete(item.(map[string]any), "at")
		}
	}
	text, _ := json.Marshal(object)
	return string(text)
}
