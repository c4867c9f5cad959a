package api_test

import (
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"
)

// aMachine is an invented machine with everything a record can have.
const aMachine = `{"name":"demo mill","units":"metric","process":"milling",
 "spindle":{"max_speed":8000,"efficiency":0.85,"idle_power":0.4,"gears":[
  {"gear":"low","max_speed":1500,"ratings":[{"rating":"S1","power":11,"torque":210},{"rating":"S6-40","power":15,"torque":286,"duty":5}]},
  {"gear":"high","min_speed":500,"ratings":[{"rating":"S1","points":[{"speed":1000,"power":8},{"speed":4000,"power":11},{"speed":8000,"power":7.5}]}]}]},
 "axes":{"max_feed_rate":20000,"max_feed_force":5000,"acceleration":4,"rapid_rate":30000},
 "coolant":{"deliveries":["external","through-tool"],"through_tool_pressure":40},
 "synchronous_tapping":true,"tool_change_time":4.5,
 "meter":{"percent_of":"S1","quantity":"power","point":"motor"},
 "work_holding":{"kind":"vice","static_grip":20000},"basis":"demo","note":"invented"}`

func TestMachineIsCreatedReplacedAndRemoved(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	const at = "/v1/machines/mill-1"

	created := call(t, h, "PUT", at+"?reason=new+in+the+shop", aMachine, asJSON, "If-None-Match: *", "From: planner@example.org")
	if created.status != 201 || created.header.Get("Location") != at || created.header.Get("Data-Revision") != "2" {
		t.Fatalf("%d %v %s", created.status, created.header, created.body)
	}
	read := call(t, h, "GET", at, "")
	if read.status != 200 || string(read.body) != string(created.body) || read.header.Get("ETag") != created.header.Get("ETag") {
		t.Errorf("what was created: %s %s\nwhat is read: %s %s", created.header.Get("ETag"), created.body, read.header.Get("ETag"), read.body)
	}

	// A write elsewhere leaves the tag as it is.
	if other := call(t, h, "PUT", "/v1/machines/mill-2", aMachine, asJSON, "If-None-Match: *"); other.status != 201 {
		t.Fatalf("%d %s", other.status, other.body)
	}
	if again := call(t, h, "GET", at, "", "If-None-Match: "+read.header.Get("ETag")); again.status != 304 || len(again.body) != 0 || again.header.Get("Data-Revision") != "3" {
		t.Errorf("after a write elsewhere: %d %q, revision %s", again.status, again.body, again.header.Get("Data-Revision"))
	}

	// What GET gave may be put back, in either unit system, with either tag.
	inch := call(t, h, "GET", at+"?units=inch", "")
	if inch.header.Get("ETag") == read.header.Get("ETag") {
		t.Error("metric and inch share a tag")
	}
	replaced := call(t, h, "PUT", at, string(inch.body), asJSON, "If-Match: "+read.header.Get("ETag"))
	if replaced.status != 200 || replaced.header.Get("ETag") == inch.header.Get("ETag") {
		t.Fatalf("%d %s", replaced.status, replaced.body)
	}
	back := call(t, h, "PUT", at, string(call(t, h, "GET", at, "").body), asJSON, "If-Match: "+replaced.header.Get("ETag"))
	if back.status != 200 {
		t.Fatalf("with the tag of the inch answer: %d %s", back.status, back.body)
	}
	if before, after := withoutRevision(t, read.body), withoutRevision(t, back.body); before != after {
		t.Errorf("there and back through inches:\n%s\n%s", before, after)
	}

	stale := call(t, h, "PUT", at, aMachine, asJSON, "If-Match: "+read.header.Get("ETag"))
	if code, _ := problemOf(t, stale); stale.status != 412 || code != "precondition-failed" {
		t.Errorf("a stale tag: %d %s", stale.status, code)
	}
	if again := call(t, h, "PUT", at, aMachine, asJSON, "If-None-Match: *"); again.status != 412 {
		t.Errorf("created twice: %d", again.status)
	}
	if bare := call(t, h, "PUT", at, aMachine, asJSON); bare.status != 428 {
		t.Errorf("without a condition: %d", bare.status)
	}
	if bare := call(t, h, "DELETE", at, ""); bare.status != 428 {
		t.Errorf("removed without a condition: %d", bare.status)
	}
	if gone := call(t, h, "DELETE", at, "", "If-Match: "+back.header.Get("ETag")); gone.status != 204 || len(gone.body) != 0 || gone.header.Get("Data-Revision") != "6" {
		t.Errorf("removed: %d %q revision %s", gone.status, gone.body, gone.header.Get("Data-Revision"))
	}
	if gone := call(t, h, "GET", at, ""); gone.status != 404 {
		t.Errorf("read after it was removed: %d", gone.status)
	}
	if gone := call(t, h, "DELETE", at, "", "If-Match: *"); gone.status != 404 {
		t.Errorf("removed twice: %d", gone.status)
	}
	if then := call(t, h, "GET", at+"?as_of=2", ""); then.status != 200 || string(then.body) != string(created.body) || then.header.Get("Data-Revision") != "2" {
		t.Errorf("as of revision 2: %d %s", then.status, then.body)
	}
	checkHistory(t, h)
}

// checkHistory reads the change feed of the test above, page by page.
func checkHistory(t *testing.T, h http.Handler) {
	t.Helper()
	var seen []string
	for target := "/v1/changes?after=1&limit=2"; target != ""; {
		got := call(t, h, "GET", target, "")
		var page struct {
			Items []struct {
				Revision                          int
				At, Who, Kind, ID, Action, Reason string
			}
			NextCursor *string `json:"next_cursor"`
		}
		if err := json.Unmarshal(got.body, &page); err != nil || got.status != 200 || len(page.Items) > 2 {
			t.Fatalf("%d %s", got.status, got.body)
		}
		for _, c := range page.Items {
			seen = append(seen, c.Action+" "+c.ID+" by "+c.Who+" "+c.Reason)
			if !strings.HasSuffix(c.At, "Z") {
				t.Errorf("time %s is not UTC", c.At)
			}
		}
		target = nextLink(t, got)
		if (target == "") != (page.NextCursor == nil) {
			t.Errorf("link %q and cursor %v", target, page.NextCursor)
		}
	}
	want := []string{
		"added mill-1 by planner@example.org new in the shop", "added mill-2 by local ",
		"changed mill-1 by local ", "changed mill-1 by local ", "removed mill-1 by local ",
	}
	if !slices.Equal(seen, want) {
		t.Errorf("changes %q, want %q", seen, want)
	}
}

// nextLink is the target of the link to the next page, empty when there is none.
func nextLink(t *testing.T, got reply) string {
	t.Helper()
	return linkOf(got, "next")
}

// linkOf is the target of the first link of an answer with a relation (RFC 8288).
func linkOf(got reply, relation string) string {
	for _, link := range strings.Split(got.header.Get("Link"), ", ") {
		target, rest, ok := strings.Cut(strings.TrimPrefix(link, "<"), ">")
		if ok && strings.Contains(rest+";", `; rel="`+relation+`";`) {
			return target
		}
	}
	return ""
}

func withoutRevision(t *testing.T, body []byte) string {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal(body, &m); err != nil {
		t.Fatal(err)
	}
	delete(m, "data_revision")
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestAuthorAndReasonOfAWrite(t *testing.T) {
	h := newShop(t).handler()
	for _, c := range []struct{ query, from, fault string }{
		{"", strings.Repeat("x", 501), "value-out-of-range From"},
		{"", "caf\xe9@example.org", "value-out-of-range From"},
		{"?reason=" + strings.Repeat("x", 501), "a@example.org", "value-out-of-range reason"},
		{"?reason=a%00b", "a@example.org", "value-out-of-range reason"},
		{"?reason=%ff", "a@example.org", "value-out-of-range reason"},
		{"?reson=new", "a@example.org", "unknown-parameter reson"},
	} {
		got := call(t, h, "PUT", "/v1/machines/mill-1"+c.query, aMachine, asJSON, "If-None-Match: *", "From: "+c.from)
		if _, faults := problemOf(t, got); !contains(faults, c.fault) {
			t.Errorf("%.20s from %.20s: %d %q, want %q", c.query, c.from, got.status, faults, c.fault)
		}
	}
}

func TestMachineWithoutItsDatabase(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	shop.away = true
	got := call(t, h, "PUT", "/v1/machines/mill-1", aMachine, asJSON, "If-None-Match: *")
	if code, _ := problemOf(t, got); got.status != 503 || code != "data-not-ready" || got.header.Get("Retry-After") == "" {
		t.Errorf("%d %s, Retry-After %q", got.status, code, got.header.Get("Retry-After"))
	}
	if read := call(t, h, "GET", "/v1/machines", ""); read.status != 200 {
		t.Errorf("a read: %d", read.status)
	}
	ready := call(t, h, "GET", "/readyz", "")
	if ready.status != 200 || !strings.Contains(string(ready.body), `"status":"degraded"`) || !strings.Contains(string(ready.body), `"reason":"the database does not answer"`) {
		t.Errorf("%d %s", ready.status, ready.body)
	}
}

// TestMachineFaults spoils one thing at a time in a whole machine.
func TestMachineFaults(t *testing.T) {
	h := newShop(t).handler()
	for _, c := range []struct{ name, old, new, fault string }{
		{"no units", `"units":"metric",`, ``, "units-missing units"},
		{"other units", `"units":"metric"`, `"units":"imperial"`, "units-unknown units"},
		{"no process", `"process":"milling",`, ``, "field-missing process"},
		{"an unknown process", `"process":"milling"`, `"process":"laser"`, "value-out-of-range process"},
		{"no highest speed", `"max_speed":8000,`, ``, "field-missing spindle.max_speed"},
		{"no efficiency", `"efficiency":0.85,`, ``, "field-missing spindle.efficiency"},
		{"efficiency of nothing", `"efficiency":0.85`, `"efficiency":0`, "value-out-of-range spindle.efficiency"},
		{"efficiency over one", `"efficiency":0.85`, `"efficiency":1.01`, "value-out-of-range spindle.efficiency"},
		{"efficiency as a percentage", `"efficiency":0.85`, `"efficiency":85`, "value-out-of-range spindle.efficiency"},
		{"negative idle power", `"idle_power":0.4`, `"idle_power":-0.4`, "value-out-of-range spindle.idle_power"},
		{"an absurd speed", `"max_speed":8000,`, `"max_speed":8000000,`, "value-out-of-range spindle.max_speed"},
		{"a gear beyond the spindle", `"max_speed":1500`, `"max_speed":8001`, "value-out-of-range spindle.gears[0].max_speed"},
		{"a gear that ends before it begins", `"min_speed":500`, `"min_speed":8000`, "value-out-of-range spindle.gears[1].min_speed"},
		{"two gears of one name", `"gear":"high"`, `"gear":"low"`, "fields-conflict spindle.gears[1].gear"},
		{"an unknown rating", `"rating":"S6-40"`, `"rating":"S6"`, "value-out-of-range spindle.gears[0].ratings[1].rating"},
		{"a rating in percent of all", `"rating":"S6-40"`, `"rating":"S6-100"`, "value-out-of-range spindle.gears[0].ratings[1].rating"},
		{"no rating", `"rating":"S6-40",`, ``, "field-missing spindle.gears[0].ratings[1].rating"},
		{"one rating twice", `"rating":"S6-40","power":15,"torque":286,"duty":5`, `"rating":"S1","power":15,"torque":286`, "fields-conflict spindle.gears[0].ratings[1].rating"},
		{"a cycle of S1", `"rating":"S1","power":11`, `"rating":"S1","duty":10,"power":11`, "fields-conflict spindle.gears[0].ratings[0].duty"},
		{"half a pair", `,"torque":210`, ``, "field-missing spindle.gears[0].ratings[0].torque"},
		{"power of nothing", `"power":11,"torque":210`, `"power":0,"torque":210`, "value-out-of-range spindle.gears[0].ratings[0].power"},
		{"a pair and points", `"rating":"S1","points"`, `"rating":"S1","power":8,"torque":80,"points"`, "fields-conflict spindle.gears[1].ratings[0]"},
		{"neither pair nor points", `"power":15,"torque":286,`, ``, "alternative-missing spindle.gears[0].ratings[1]"},
		{"points that turn back", `"speed":4000`, `"speed":1000`, "value-out-of-range spindle.gears[1].ratings[0].points[1].speed"},
		{"a point without power", `"speed":4000,"power":11`, `"speed":4000`, "field-missing spindle.gears[1].ratings[0].points[1].power"},
		{"an unknown member", `"note":`, `"noet":`, "unknown-field noet"},
		{"another id", `"name"`, `"id":"mill-2","name"`, "fields-conflict id"},
		{"an unknown delivery", `["external","through-tool"]`, `["flood","through-tool"]`, "value-out-of-range coolant.deliveries[0]"},
		{"a delivery twice", `["external","through-tool"]`, `["through-tool","through-tool"]`, "fields-conflict coolant.deliveries[1]"},
		{"pressure through no tool", `["external","through-tool"]`, `["external"]`, "fields-conflict coolant.through_tool_pressure"},
		{"an axis that stands", `"max_feed_rate":20000`, `"max_feed_rate":0`, "value-out-of-range axes.max_feed_rate"},
		{"a meter of nothing known", `"quantity":"power"`, `"quantity":"noise"`, "value-out-of-range meter.quantity"},
		{"a meter of no rating", `"percent_of":"S1"`, `"percent_of":"max"`, "value-out-of-range meter.percent_of"},
		{"a negative grip", `"static_grip":20000`, `"static_grip":-1`, "value-out-of-range work_holding.static_grip"},
		{"a basis that callers cannot give", `"basis":"demo"`, `"basis":"request"`, "value-out-of-range basis"},
		{"no gears", `"gears":[`, `"gears":[],"other":[`, "field-missing spindle.gears"},
	} {
		if !strings.Contains(aMachine, c.old) {
			t.Fatalf("%s: the machine has no %s", c.name, c.old)
		}
		got := call(t, h, "PUT", "/v1/machines/mill-1", strings.Replace(aMachine, c.old, c.new, 1), asJSON, "If-None-Match: *")
		if got.status < 400 {
			t.Errorf("%s: %d %s", c.name, got.status, got.body)
			continue
		}
		if _, faults := problemOf(t, got); !contains(faults, c.fault) {
			t.Errorf("%s: %q, want %q among them", c.name, faults, c.fault)
		}
	}
	noS1 := strings.ReplaceAll(strings.Replace(aMachine, `"rating":"S6-40"`, `"rating":"S2-30"`, 1), `"rating":"S1"`, `"rating":"S6-60"`)
	noS1 = strings.Replace(noS1, `,"duty":5`, ``, 1)
	if _, faults := problemOf(t, call(t, h, "PUT", "/v1/machines/mill-1", noS1, asJSON, "If-None-Match: *")); !slices.Equal(faults, []string{"field-missing spindle.gears"}) {
		t.Errorf("without S1: %q", faults)
	}
}

func TestMachineFaultsComeAllAtOnce(t *testing.T) {
	body := `{"units":"metric","spindle":{"max_speed":-1,"gears":[{"ratings":[{"rating":"S9","power":1}]}]},"colour":"red"}`
	_, faults := problemOf(t, call(t, newShop(t).handler(), "PUT", "/v1/machines/mill-1", body, asJSON, "If-None-Match: *"))
	want := []string{
		"unknown-field colour", "field-missing process", "value-out-of-range spindle.max_speed", "field-missing spindle.efficiency",
		"value-out-of-range spindle.gears[0].ratings[0].rating", "field-missing spindle.gears[0].ratings[0].torque",
	}
	if !slices.Equal(faults, want) {
		t.Errorf("%q, want %q", faults, want)
	}
}

// A fault states value and limit in the caller's units.
func TestMachineFaultInInches(t *testing.T) {
	body := strings.Replace(strings.Replace(aMachine, `"metric"`, `"inch"`, 1), `"max_feed_force":5000`, `"max_feed_force":-7`, 1)
	got := call(t, newShop(t).handler(), "PUT", "/v1/machines/mill-1", body, asJSON, "If-None-Match: *")
	if text := string(got.body); !strings.Contains(text, "-7 lbf") {
		t.Errorf("%s", text)
	}
}

func TestMachineIDs(t *testing.T) {
	h := newShop(t).handler()
	for id, status := range map[string]int{
		"a": 201, "VMC-50.2_b": 201, "9": 201,
		"-a": 422, ".a": 422, "a%20b": 422, "a%2Fb": 422, "%C3%A4": 422, strings.Repeat("x", 65): 422, "a%00": 422,
	} {
		if got := call(t, h, "PUT", "/v1/machines/"+id, aMachine, asJSON, "If-None-Match: *"); got.status != status {
			t.Errorf("%s: %d %s, want %d", id, got.status, got.body, status)
		}
	}
	// A percent sign in an id is decoded once: %2561 is the id "%61", not "a".
	if got := call(t, h, "GET", "/v1/machines/%2561", ""); got.status != 404 {
		t.Errorf("an id was decoded twice: %d %s", got.status, got.body)
	}
}

func TestMachinesAreListed(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	for _, id := range []string{"zz-2", "zz-1"} {
		call(t, h, "PUT", "/v1/machines/"+id, aMachine, asJSON, "If-None-Match: *")
	}
	want := make(map[string]bool)
	for _, m := range shop.data.Machines {
		want[m.ID] = true
	}
	var ids []string
	for target := "/v1/machines?limit=1&units=inch"; target != ""; {
		got := call(t, h, "GET", target, "")
		if got.status != 200 || member2(got.doc, "units") != "inch" {
			t.Fatalf("%d %s", got.status, got.body)
		}
		for _, item := range got.doc.(map[string]any)["items"].([]any) {
			ids = append(ids, item.(map[string]any)["id"].(string))
		}
		target = nextLink(t, got)
	}
	if !slices.IsSorted(ids) || !slices.Equal(ids, slices.Sorted(maps.Keys(want))) {
		t.Errorf("machines %q, want %d", ids, len(want))
	}
}

func member2(doc any, name string) any {
	v, _ := member(doc, name)
	return v
}
