package api_test

import (
	"net/http"
	"strings"
	"testing"
)

const aRecord = `{"units":"metric","kind":"force","supersedes":"%s","lots":1,"review_by":"2027-03-31","force":{"scope":{"level":"material","key":"x5crni18-10"},
	"condition":"annealed","process":"turning","method":"kienzle","specific_cutting_force_1_1":2600,"chip_thickness_exponent":0.21,
	"valid":{"chip_thickness":{"low":0.05,"high":0.4,"unit":"mm"},"hardness":{"low":150,"high":200,"unit":"HBW"},"cutting_speed":{"low":300,"high":600,"unit":"[ft_i]/min"}},
	"basis":"shop","source":"common-practice","place":"trial 7, lathe 3"}}`

const aKeptCut = `{"units":"metric","note":"flange","cut":{"ref":"op-10","material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},
	"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"}}`

func servedIn(t *testing.T, h http.Handler, query string) (record, verdict string) {
	t.Helper()
	body := strings.Replace(strings.Replace(aKeptCut, `"note":"flange","cut":{`, "", 1), "}}}", "}}", 1)
	body = strings.Replace(body, `"machine":"lathe-315"}}`, `"machine":"lathe-315"}`, 1)
	got := ask(t, h, "POST /v1/estimates"+query, []byte(body))
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	return member0(member0(got.doc, "material"), "record").(string), member0(got.doc, "verdict").(string)
}

// A shop's record goes from draft over impact and approval into answers, and out of them by
// withdrawal; earlier revisions and the floor's clock still tell what was.
func TestARecordsLife(t *testing.T) {
	h := newShop(t).handler()
	before, _ := servedIn(t, h, "")
	if kept := call(t, h, "PUT", "/v1/cuts/flange-10", aKeptCut, "Content-Type: application/json", "If-None-Match: *"); kept.status != 201 {
		t.Fatalf("%d %s", kept.status, kept.body)
	}
	draft := strings.Replace(aRecord, "%s", before, 1)
	made := call(t, h, "PUT", "/v1/records/kc-own", draft, "Content-Type: application/json", "If-None-Match: *", "From: ann")
	if made.status != 201 || member0(made.doc, "state") != "draft" || member0(made.doc, "author") != "ann" {
		t.Fatalf("%d %s", made.status, made.body)
	}
	if now, _ := servedIn(t, h, ""); now != before {
		t.Errorf("a draft serves: %s", now)
	}
	again := call(t, h, "PUT", "/v1/records/kc-own", string(made.body), "Content-Type: application/json", "If-Match: "+made.header.Get("ETag"), "From: ann")
	if again.status != 200 {
		t.Errorf("what GET gave is not taken back: %d %s", again.status, again.body)
	}
	if stale := call(t, h, "PUT", "/v1/records/kc-own", draft, "Content-Type: application/json", `If-Match: "stale"`); stale.status != 412 {
		t.Errorf("a stale tag: %d", stale.status)
	}

	impact := (call(t, h, "GET", "/v1/records/kc-own/impact", "")).doc
	list := member0(impact, "cuts").([]any)
	if member0(impact, "step") != "approval" || len(list) != 1 || member0(list[0], "record_after") != "kc-own" || member0(list[0], "torque_ratio").(float64) < 1 {
		t.Errorf("impact %v", impact)
	}

	for _, row := range []struct {
		name, from, body string
		status           int
		says             string
	}{
		{"by its author", "Ann", `{"reason":"fits"}`, 422, "approver-is-author"},
		{"by nobody", "", `{"reason":"fits"}`, 400, "From"},
		{"without a reason", "bob", `{}`, 400, "reason"},
		{"from no time", "bob", `{"reason":"fits","valid_from":"tomorrow"}`, 400, "valid_from"},
		{"by another", "bob", `{"reason":"fits the meter"}`, 200, `"in_force":true`},
		{"twice", "bob", `{"reason":"fits"}`, 409, "state-unfit"},
	} {
		headers := []string{"Content-Type: application/json"}
		if row.from != "" {
			headers = append(headers, "From: "+row.from)
		}
		got := call(t, h, "POST", "/v1/records/kc-own/approval", row.body, headers...)
		if got.status != row.status || !strings.Contains(string(got.body), row.says) {
			t.Errorf("approved %s: %d %s", row.name, got.status, got.body)
		}
	}
	if now, _ := servedIn(t, h, ""); now != "kc-own" {
		t.Errorf("approved, %s serves", now)
	}
	if then, _ := servedIn(t, h, "?as_of=3"); then != before {
		t.Errorf("as of the draft %s serves", then)
	}
	if then, _ := servedIn(t, h, "?valid_at=2020-01-01T00:00:00Z"); then != before {
		t.Errorf("on the floor of 2020 %s serves", then)
	}
	if bad := call(t, h, "GET", "/v1/materials?valid_at=yesterday", ""); bad.status != 400 {
		t.Errorf("valid_at yesterday: %d", bad.status)
	}
	if old := (call(t, h, "GET", "/v1/records/"+before, "")).doc; member0(old, "state") != "superseded" || member0(old, "superseded_by") != "kc-own" {
		t.Errorf("what it superseded: %v", old)
	}

	gone := call(t, h, "POST", "/v1/records/kc-own/withdrawal", `{"reason":"burst cutter","safety":true}`, "Content-Type: application/json", "From: cid")
	if gone.status != 200 || member0(gone.doc, "state") != "withdrawn" {
		t.Fatalf("%d %s", gone.status, gone.body)
	}
	if now, verdict := servedIn(t, h, ""); now == "kc-own" || verdict != "no" {
		t.Errorf("withdrawn for safety, %s serves with %s", now, verdict)
	}
	feed := call(t, h, "GET", "/v1/changes?after=1&format=csv", "")
	for _, line := range []string{",ann,record,kc-own,added,", ",bob,record,kc-own,changed,fits the meter", ",cid,record,kc-own,changed,burst cutter"} {
		if !strings.Contains(string(feed.body), line) {
			t.Errorf("the feed lacks %q:\n%s", line, feed.body)
		}
	}
	for query, want := range map[string]int{"state=draft": 0, "state=withdrawn": 1, "kind=life&state=withdrawn": 0, "material=x5crni18-10&state=superseded": 1} {
		if items, _ := pageOf(t, h, "/v1/records?"+query); len(items) != want {
			t.Errorf("%s: %d records, want %d", query, len(items), want)
		}
	}
}

// Every fault of a record is told at once, by field.
func TestRecordFaults(t *testing.T) {
	h := newShop(t).handler()
	put := func(id, body string) reply {
		return call(t, h, "PUT", "/v1/records/"+id, body, "Content-Type: application/json", "If-None-Match: *")
	}
	for name, row := range map[string]struct {
		id, body string
		fields   []string
	}{
		"an id with capitals": {"KC", strings.Replace(aRecord, "%s", "", 1), []string{"id"}},
		"nothing but kind":    {"kc-1", `{"units":"metric","kind":"force"}`, []string{"force"}},
		"no kind":             {"kc-1", `{"units":"metric","force":{"method":"kienzle"}}`, []string{"kind"}},
		"numbers that cannot be": {"kc-1", `{"units":"metric","kind":"force","lots":1.5,"review_by":"soon","supersedes":"kc-1","force":{"scope":{"level":"material","key":"unobtainium"},"method":"kienzle",
			"specific_cutting_force_1_1":-3,"chip_thickness_exponent":1.2,"valid":{"chip_thickness":{"low":2,"high":1,"unit":"mm"},"hardness":{"low":1,"unit":"HRC"}},"basis":"published","source":"nobody"}}`,
			[]string{"lots", "review_by", "supersedes", "force.scope.key", "force.specific_cutting_force_1_1", "force.chip_thickness_exponent", "force.valid.chip_thickness", "force.valid.hardness.unit", "force.place", "force.source", "force.process"}},
		// A snapshot of such a record cannot be loaded, by any replica.
		"a condition that the grade does not have": {"kc-1", strings.Replace(strings.Replace(aRecord, "%s", "", 1), `"annealed"`, `"aged"`, 1), []string{"force.condition"}},
		"a starting record of unknown things": {"st-1", `{"units":"metric","kind":"starting","starting":{"scope":{"level":"group","key":"M"},"operations":["sawing"],"classes":["chisel"],"basis":"shop","source":"common-practice"}}`,
			[]string{"starting.operations[0]", "starting.classes[0]"}},
		"a life record without its exponent": {"life-1", `{"units":"metric","kind":"life","life":{"scope":{"level":"subgroup","key":"M/austenitic"},"taylor_speed":300,"basis":"shop","source":"common-practice"}}`,
			[]string{"life.taylor_exponent"}},
	} {
		got := put(row.id, row.body)
		if got.status != 400 && got.status != 422 {
			t.Errorf("%s: %d %s", name, got.status, got.body)
			continue
		}
		told := map[string]bool{}
		for _, f := range member0(got.doc, "faults").([]any) {
			told[member0(f, "field").(string)] = true
		}
		for _, field := range row.fields {
			if !told[field] {
				t.Errorf("%s: no fault of %s in %s", name, field, got.body)
			}
		}
	}
}

// Kept cuts come back as they were sent, in their units, and only what can be computed is kept.
func TestKeptCuts(t *testing.T) {
	h := newShop(t).handler()
	inch := `{"units":"inch","cut":{"material":{"grade":"A96061"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":0.5,"effective_edges":3},"engagement":{"axial_depth":0.25}}}`
	made := call(t, h, "PUT", "/v1/cuts/slot", inch, "Content-Type: application/json", "If-None-Match: *")
	if made.status != 201 || !strings.Contains(string(made.body), `"cutting_diameter":0.5`) {
		t.Fatalf("%d %s", made.status, made.body)
	}
	got := call(t, h, "GET", "/v1/cuts/slot", "")
	if got.status != 200 || string(got.body) != string(made.body) || got.header.Get("ETag") != made.header.Get("ETag") {
		t.Errorf("%d %s\nafter %s", got.status, got.body, made.body)
	}
	back := call(t, h, "PUT", "/v1/cuts/slot", string(got.body), "Content-Type: application/json", "If-Match: "+got.header.Get("ETag"))
	if back.status != 200 {
		t.Errorf("what GET gave is not taken back: %d %s", back.status, back.body)
	}
	if bad := call(t, h, "PUT", "/v1/cuts/bad", strings.Replace(inch, "A96061", "A9606", 1), "Content-Type: application/json", "If-None-Match: *"); bad.status != 422 || !strings.Contains(string(bad.body), `"field":"cut.material.grade"`) {
		t.Errorf("%d %s", bad.status, bad.body)
	}
	if none := call(t, h, "DELETE", "/v1/cuts/slot", ""); none.status != 428 {
		t.Errorf("removed without a tag: %d", none.status)
	}
	if gone := call(t, h, "DELETE", "/v1/cuts/slot", "", "If-Match: "+back.header.Get("ETag")); gone.status != 204 {
		t.Errorf("removed: %d %s", gone.status, gone.body)
	}
	if left, _ := pageOf(t, h, "/v1/cuts"); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
}
