package api_test

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"swarf/api"
	"swarf/domain/access"
)

// pageOf reads one page of a list.
func pageOf(t *testing.T, h http.Handler, target string) (items []map[string]any, next string) {
	t.Helper()
	got := call(t, h, "GET", target, "")
	var page struct {
		Items        []map[string]any `json:"items"`
		NextCursor   *string          `json:"next_cursor"`
		DataRevision int64            `json:"data_revision"`
		ModelVersion string           `json:"model_version"`
	}
	if err := json.Unmarshal(got.body, &page); err != nil || got.status != 200 || page.Items == nil || page.DataRevision < 1 || page.ModelVersion == "" {
		t.Fatalf("%s: %d %.500s", target, got.status, got.body)
	}
	next = nextLink(t, got)
	if (next == "") != (page.NextCursor == nil) {
		t.Errorf("%s: link %q and cursor %v", target, next, page.NextCursor)
	}
	if !strings.Contains(string(got.body), `"next_cursor":`) {
		t.Errorf("%s: no next_cursor", target)
	}
	return page.Items, next
}

func TestListsArePagedWhole(t *testing.T) {
	h := embeddedService(t)
	d := embeddedData(t)
	for path, want := range map[string]int{"/v1/materials": len(d.Materials), "/v1/tool-classes": len(d.Classes), "/v1/machines": len(d.Machines), "/v1/sources": len(d.Sources)} {
		seen := make(map[string]bool)
		pages := 0
		for target := path + "?limit=7"; target != ""; pages++ {
			items, next := pageOf(t, h, target)
			if len(items) > 7 {
				t.Fatalf("%s: %d items on a page of 7", target, len(items))
			}
			for _, item := range items {
				id := item["id"].(string)
				if seen[id] {
					t.Errorf("%s: %s stands on two pages", path, id)
				}
				seen[id] = true
			}
			target = next
		}
		if len(seen) != want || pages != (want+6)/7 && want > 0 {
			t.Errorf("%s: %d of %d items on %d pages", path, len(seen), want, pages)
		}
	}
}

func TestCursorBelongsToItsFilters(t *testing.T) {
	h := embeddedService(t)
	_, next := pageOf(t, h, "/v1/materials?limit=2&group=M")
	if next == "" {
		t.Fatal("group M fits on a page of two")
	}
	if items, _ := pageOf(t, h, strings.Replace(next, "limit=2", "limit=1", 1)); len(items) != 1 || items[0]["group"] != "M" {
		t.Errorf("with another limit: %v", items)
	}
	for _, target := range []string{
		strings.Replace(next, "group=M", "group=P", 1),
		strings.Replace(next, "/v1/materials", "/v1/sources", 1),
		strings.Replace(next, "cursor=", "cursor=A", 1),
	} {
		got := call(t, h, "GET", target, "")
		if got.status != 400 {
			t.Errorf("%s: %d", target, got.status)
		}
	}
}

// A list that was begun is read to its end from the revision it began with, while
// others write.
func TestCursorStaysAtItsRevision(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	for _, id := range []string{"zz-1", "zz-2"} {
		call(t, h, "PUT", "/v1/machines/"+id, aMachine, asJSON, "If-None-Match: *")
	}
	_, next := pageOf(t, h, "/v1/machines?limit=1")
	call(t, h, "PUT", "/v1/machines/a-new-one", aMachine, asJSON, "If-None-Match: *")
	got := call(t, h, "GET", next, "")
	if got.status != 200 || got.header.Get("Data-Revision") != "3" || strings.Contains(string(got.body), "a-new-one") {
		t.Errorf("%d revision %s %.300s", got.status, got.header.Get("Data-Revision"), got.body)
	}
}

func TestMaterialsAreFound(t *testing.T) {
	h := embeddedService(t)
	for q, want := range map[string]string{"1.4301": "x5crni18-10", "S30400": "x5crni18-10", "SUS316": "x5crnimo17-12-2", "en-gjl-250": "en-gjl-250", "N07718": "nicr19fe19nb5mo3"} {
		items, _ := pageOf(t, h, "/v1/materials?q="+q)
		if len(items) == 0 || items[0]["id"] != want {
			t.Errorf("%s finds %v, want %s first", q, items, want)
		}
	}
	items, _ := pageOf(t, h, "/v1/materials?group=K&limit=500")
	for _, item := range items {
		if item["group"] != "K" {
			t.Errorf("group K holds %v", item)
		}
	}
	if len(items) == 0 {
		t.Error("group K is empty")
	}
	if items, _ := pageOf(t, h, "/v1/materials?q=no+such+metal+anywhere"); len(items) != 0 {
		t.Errorf("nothing finds %v", items)
	}
	got := call(t, h, "GET", "/v1/materials/1.4301", "")
	if code, _ := problemOf(t, got); got.status != 404 || code != "not-found" || !strings.Contains(string(got.body), "/v1/materials/x5crni18-10") {
		t.Errorf("a designation for an id: %d %s", got.status, got.body)
	}
}

// Every number of a material says where it comes from.
func TestMaterialSaysWhereNumbersComeFrom(t *testing.T) {
	h := embeddedService(t)
	sources := make(map[string]string) // id of a source, a material that names it
	for _, m := range embeddedData(t).Materials {
		got := call(t, h, "GET", "/v1/materials/"+m.ID, "")
		var doc map[string]any
		if err := json.Unmarshal(got.body, &doc); err != nil || got.status != 200 {
			t.Fatalf("%s: %d %s", m.ID, got.status, got.body)
		}
		for _, name := range []string{"designations", "conditions", "physical", "force_data", "starting_values", "life_data", "cautions"} {
			if _, ok := doc[name].([]any); !ok {
				t.Errorf("%s: %s is %v, not a list", m.ID, name, doc[name])
			}
		}
		for _, name := range []string{"physical", "force_data", "starting_values", "life_data"} {
			for _, record := range doc[name].([]any) {
				r := record.(map[string]any)
				if r["basis"] == nil || r["basis"] != "common-practice" && r["source"] == nil {
					t.Errorf("%s: %s has a record without its basis or source: %v", m.ID, name, r)
				}
				if id, ok := r["source"].(string); ok {
					sources[id] = m.ID
				}
			}
		}
	}
	for id, named := range sources {
		if source := call(t, h, "GET", "/v1/sources/"+id, ""); source.status != 200 {
			t.Errorf("%s: source %s answers %d", named, id, source.status)
		}
	}
	if len(sources) < 10 {
		t.Errorf("only %d sources are named", len(sources))
	}
}

// Numbers of one record in both unit systems: 1 in is 25.4 mm exactly, so a spindle
// power of 0.74569987 kW is 1 hp and a specific force of 6.894757 N/mm2 is 1 ksi.
func TestReadsInInches(t *testing.T) {
	h := embeddedService(t)
	metric, inch := call(t, h, "GET", "/v1/materials/x5crni18-10", ""), call(t, h, "GET", "/v1/materials/x5crni18-10?units=inch", "")
	checked := 0
	forces := member2(metric.doc, "force_data").([]any)
	for i, record := range member2(inch.doc, "force_data").([]any) {
		want, ok := forces[i].(map[string]any)["specific_cutting_force_1_1"].(float64)
		if !ok {
			continue
		}
		checked++
		if got := record.(map[string]any)["specific_cutting_force_1_1"].(float64) * 6.894757293168361; got < want*0.999999 || got > want*1.000001 {
			t.Errorf("record %d: %v ksi-converted, %v N/mm2", i, got, want)
		}
	}
	if checked == 0 {
		t.Error("no specific force to compare")
	}
	if member2(member2(inch.doc, "unit_of"), "specific_cutting_force_1_1") != "10*3.[psi]" || member2(inch.doc, "units") != "inch" {
		t.Errorf("%.400s", inch.body)
	}
}

func TestReadsAreConditional(t *testing.T) {
	h := embeddedService(t)
	for _, target := range []string{"/v1/materials", "/v1/materials/x5crni18-10", "/v1/tool-classes", "/v1/tool-classes/mill-end", "/v1/machines", "/v1/sources", "/v1/sources/common-practice"} {
		got := call(t, h, "GET", target, "")
		tag := got.header.Get("ETag")
		if got.status != 200 || tag == "" || strings.HasPrefix(tag, "W/") {
			t.Errorf("%s: %d, tag %q", target, got.status, tag)
			continue
		}
		for header, want := range map[string]int{tag: 304, "W/" + tag: 304, `"x", ` + tag: 304, "*": 304, `"x"`: 200} {
			if again := call(t, h, "GET", target, "", "If-None-Match: "+header); again.status != want || want == 304 && (len(again.body) != 0 || again.header.Get("ETag") != tag) {
				t.Errorf("%s with %s: %d, want %d", target, header, again.status, want)
			}
		}
		if text := call(t, h, "GET", target+"?format=text", ""); text.header.Get("ETag") == tag {
			t.Errorf("%s: JSON and text share a tag", target)
		}
	}
}

func TestListsAsTables(t *testing.T) {
	h := embeddedService(t)
	for path, columns := range map[string][]string{
		"/v1/materials":    {"data_revision", "id", "name", "group", "designations", "conditions"},
		"/v1/tool-classes": {"units", "id", "name"},
		"/v1/machines":     {"units", "id", "spindle.max_speed [/min]", "spindle.gears[0].ratings[0].power [kW]"},
		"/v1/sources":      {"id", "title", "kind"},
	} {
		got := call(t, h, "GET", path+"?limit=3", "", "Accept: text/csv")
		rows, err := csv.NewReader(strings.NewReader(string(got.body))).ReadAll()
		if err != nil || got.status != 200 || len(rows) < 2 || len(rows) > 4 {
			t.Errorf("%s: %d %v\n%.400s", path, got.status, err, got.body)
			continue
		}
		for _, column := range columns {
			if !slices.Contains(rows[0], column) {
				t.Errorf("%s: no column %q in %q", path, column, rows[0])
			}
		}
		if !strings.Contains(got.header.Get("Link"), `rel="next"`) && len(rows) == 4 && path != "/v1/machines" {
			t.Errorf("%s: a table of three rows has no link to the next", path)
		}
	}
}

func TestServiceSaysWhatItIs(t *testing.T) {
	h := embeddedService(t)
	for target, want := range map[string]map[string]any{
		"/healthz": {"status": "ok"},
		"/readyz":  {"status": "ready", "mode": "embedded", "data_revision": 1.0, "model_version": "test"},
		"/version": {"version": "0.0.0", "go": "go", "mode": "embedded", "model_version": "test", "data_revision": 1.0},
	} {
		got := call(t, h, "GET", target, "")
		for name, value := range want {
			if member2(got.doc, name) != value {
				t.Errorf("%s: %s is %v, want %v: %s", target, name, member2(got.doc, name), value, got.body)
			}
		}
		if got.header.Get("Cache-Control") != "no-store" {
			t.Errorf("%s may be kept", target)
		}
	}
}

func TestProblemPages(t *testing.T) {
	h := embeddedService(t)
	for _, k := range api.Problems() {
		for accept, kind := range map[string]string{
			"": "application/json", "text/html,application/xhtml+xml,*/*;q=0.8": "text/html", "text/plain": "text/plain",
		} {
			got := call(t, h, "GET", "/problems/"+k.Slug, "", "Accept: "+accept)
			if got.status != 200 || !strings.HasPrefix(got.header.Get("Content-Type"), kind+"; charset=utf-8") || !strings.Contains(string(got.body), k.Slug) {
				t.Errorf("%s as %q: %d %s", k.Slug, accept, got.status, got.header.Get("Content-Type"))
			}
		}
	}
	list := call(t, h, "GET", "/problems", "")
	if items, _ := member2(list.doc, "items").([]any); len(items) != len(api.Problems()) {
		t.Errorf("%d problems listed", len(items))
	}
}

// Every row of the route table answers, HEAD included; none of them is a 5xx.
func TestEveryRouteAnswers(t *testing.T) {
	keys := newKeys()
	h := keyed(t, keys, api.KeysAlways)
	all := keys.make(t, "all", false, access.ScopeNames()...)
	routes := api.Routes()
	if len(routes) < 15 {
		t.Fatalf("only %d routes", len(routes))
	}
	for _, r := range routes {
		target := strings.NewReplacer("{id}", "nothing-of-this-name", "{slug}", "nothing-of-this-name").Replace(r.Path)
		got := call(t, h, r.Method, target, "", asJSON, all)
		if got.status >= 500 || got.status == 405 {
			t.Errorf("%s %s: %d %s", r.Method, target, got.status, got.body)
		}
		if strings.Contains(r.Path, "{") && r.Method == "GET" && got.status != 404 {
			t.Errorf("%s %s: %d", r.Method, target, got.status)
		}
	}
}
