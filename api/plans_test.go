package api_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// routing is the demonstration: an invented block of stainless steel in two set-ups.
func routing(t *testing.T) map[string]any {
	t.Helper()
	text, err := os.ReadFile("../testdata/plans/valve-block.json")
	if err != nil {
		t.Fatal(err)
	}
	return decodeAny(t, string(text))
}

func number(t *testing.T, doc any, path ...string) float64 {
	t.Helper()
	for _, name := range path[:len(path)-1] {
		doc = member0(doc, name)
	}
	v, ok := member0(doc, path[len(path)-1]).(float64)
	if !ok {
		t.Fatalf("no number at %v", path)
	}
	return v
}

func close6(a, b float64) bool { return math.Abs(a-b) <= 1e-5*math.Max(math.Abs(a), 1e-3) }

// Each cut of the routing has the answer of a recommendation on the machine chosen; no
// other machine would have been quicker or safer for its set-up; and the totals are the
// sums of what the cuts state.
func TestPlanOfTheDemonstration(t *testing.T) {
	h := embeddedService(t)
	request := routing(t)
	got := ask(t, h, "POST /v1/plans", request)
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	asked := request["cuts"].([]any)
	if len(asked) < 12 {
		t.Fatalf("a routing of %d cuts", len(asked))
	}
	cuts := list(got.doc, "cuts")
	setups := map[string]any{}
	var sum [4]float64
	for i, c := range cuts {
		cut := map[string]any{}
		for name, v := range asked[i].(map[string]any) {
			if name != "count" && name != "setup" {
				cut[name] = v
			}
		}
		setup, machine := member0(c, "setup").(string), member0(c, "machine").(string)
		if before, there := setups[setup]; there && before != machine {
			t.Errorf("set-up %s on %v and %v", setup, before, machine)
		}
		setups[setup] = machine
		cut["units"], cut["machine"] = "metric", machine
		alone := ask(t, h, "POST /v1/recommendations", cut)
		for _, path := range [][]string{{"parameters", "spindle_speed"}, {"parameters", "feed_rate"}, {"loads", "torque"}} {
			if a, b := number(t, member0(c, "answer"), path...), number(t, alone.doc, path...); a != b {
				t.Errorf("cut %d: %v is %v, alone %v", i, path, a, b)
			}
		}
		count := number(t, c, "count")
		if want := count * number(t, alone.doc, "time", "cutting"); !close6(number(t, c, "time", "cutting"), want) {
			t.Errorf("cut %d is cut for %v min, alone %v times %v", i, number(t, c, "time", "cutting"), count, want/count)
		}
		if want := (4*count + 1.5*(count-1)) / 60; !close6(number(t, c, "time", "approach"), want) {
			t.Errorf("cut %d approaches for %v min, want %v", i, number(t, c, "time", "approach"), want)
		}
		for k, name := range []string{"cutting", "beside", "approach", "tool_change"} {
			sum[k] += number(t, c, "time", name)
		}
	}
	total := 0.0
	for k, name := range []string{"cutting", "beside", "approach", "tool_change"} {
		all := 0.0
		for _, m := range list(got.doc, "machines") {
			all += number(t, m, name)
		}
		if !close6(all, sum[k]) {
			t.Errorf("%s: %v in all, the cuts state %v", name, all, sum[k])
		}
		total += all
	}
	energy, minutes := 0.0, 0.0
	for _, m := range list(got.doc, "machines") {
		minutes += number(t, m, "total")
		energy += number(t, m, "energy")
	}
	if !close6(minutes, total) || member0(member0(got.doc, "unit_of"), "energy") != "kW.h" || energy <= 0 || energy > 20*minutes/60 {
		t.Errorf("%v min and %v kWh of %v min", minutes, energy, total)
	}
	last := math.Inf(1)
	for _, m := range list(got.doc, "margins") {
		used := number(t, m, "utilisation_worn")
		if used > last {
			t.Errorf("margins are not weakest first: %v after %v", used, last)
		}
		last = used
	}
	if n := len(list(got.doc, "margins")); n != len(cuts) {
		t.Errorf("%d margins of %d cuts", n, len(cuts))
	}
	text := fmt.Sprint(member0(got.doc, "findings"))
	for _, code := range []string{"webs-ahead", "wall-stands"} {
		if !strings.Contains(text, code) {
			t.Errorf("no %s in %s", code, text)
		}
	}
	// On each machine alone the routing is no better.
	for _, name := range []string{"vmc-40", "vmc-50", "hmc-63"} {
		request["machines"] = []any{name}
		one := ask(t, h, "POST /v1/plans", request)
		if better[member0(one.doc, "verdict").(string)] > better[member0(got.doc, "verdict").(string)] {
			t.Errorf("on %s alone it is %v", name, member0(one.doc, "verdict"))
		}
	}
}

// What one cut leaves is held against the next: a skin that an edge rubbed hard, and webs
// that overload the cutter; each is silent where the cause is away.
func TestPlansCarryState(t *testing.T) {
	h := embeddedService(t)
	const rub = `{"ref":"rub","material":{"grade":"1.4301"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},"engagement":{"axial_depth":10,"radial_width":1,"length":100},"parameters":{"cutting_speed":80,"feed_per_tooth":%v}}`
	const finish = `{"ref":"finish","material":{"grade":%q},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},"engagement":{"axial_depth":10,"radial_width":%v,"length":100},"parameters":{"cutting_speed":80,"feed_per_tooth":0.08}}`
	const chain = `{"ref":"chain","material":{"grade":"1.4301"},"operation":"chain-drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":18},"engagement":{"slot_width":22,"slot_length":120,"slot_depth":30,"pitch":%v,"wall_allowance":2,"floor_allowance":0.5},"parameters":{"cutting_speed":60,"feed_per_revolution":0.15}}`
	const rest = `{"ref":"rest","material":{"grade":"1.4301"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":16,"effective_edges":4},"engagement":{"axial_depth":%v,"radial_width":2,"length":300},"parameters":{"cutting_speed":90,"feed_per_tooth":0.08}}`
	for name, c := range map[string]struct {
		cuts []string
		code string
		says bool
	}{
		"rubbed, then thin":       {[]string{fmt.Sprintf(rub, 0.004), fmt.Sprintf(finish, "1.4301", 0.2)}, "skin-left-hard", true},
		"rubbed, then under it":   {[]string{fmt.Sprintf(rub, 0.004), fmt.Sprintf(finish, "1.4301", 0.5)}, "skin-left-hard", false},
		"cut, then thin":          {[]string{fmt.Sprintf(rub, 0.1), fmt.Sprintf(finish, "1.4301", 0.2)}, "skin-left-hard", false},
		"rubbed, then other work": {[]string{fmt.Sprintf(rub, 0.004), fmt.Sprintf(finish, "1.1191", 0.2)}, "skin-left-hard", false},
		"webs that overload":      {[]string{fmt.Sprintf(chain, 20), fmt.Sprintf(rest, 30)}, "webs-overload", true},
		"webs that hold":          {[]string{fmt.Sprintf(chain, 20), fmt.Sprintf(rest, 1)}, "webs-ahead", true},
		"no webs":                 {[]string{fmt.Sprintf(rest, 30)}, "webs", false},
	} {
		got := ask(t, h, "POST /v1/plans", []byte(`{"units":"metric","machines":["vmc-40"],"cuts":[`+strings.Join(c.cuts, ",")+`]}`))
		if said := strings.Contains(fmt.Sprint(member0(got.doc, "findings")), c.code); got.status != 200 || said != c.says {
			t.Errorf("%s: %d %v", name, got.status, member0(got.doc, "findings"))
		}
		if c.says && c.code != "webs-ahead" && member0(got.doc, "verdict") == "yes" {
			t.Errorf("%s: the plan is a yes", name)
		}
	}
}

// Tools are counted by their lives where a record allows, changed where they differ, and a
// cut in inches is the same plan.
func TestPlansCountEdgesAndChanges(t *testing.T) {
	h := embeddedService(t)
	turn := func(ref string, radius float64) string {
		return fmt.Sprintf(`{"ref":%q,"count":40,"material":{"grade":"1.1191"},"operation":"turning","tool":{"class":"turning-external","corner_radius":%v,"tool_material":"HC"},"engagement":{"work_diameter":60,"depth_of_cut":2,"length":100},"parameters":{"cutting_speed":220,"feed_per_revolution":0.25}}`, ref, radius)
	}
	plan := func(cuts ...string) reply {
		got := ask(t, h, "POST /v1/plans", []byte(`{"units":"metric","machines":["lathe-315"],"cuts":[`+strings.Join(cuts, ",")+`]}`))
		if got.status != 200 {
			t.Fatalf("%d %s", got.status, got.body)
		}
		return got
	}
	one := plan(turn("a", 0.8))
	life := number(t, list(one.doc, "cuts")[0], "answer", "tool_life", "median")
	edges := list(one.doc, "edges")[0]
	minutes := number(t, list(one.doc, "cuts")[0], "time", "cutting")
	if !close6(number(t, edges, "share"), minutes/life) || number(t, edges, "count") != math.Ceil(minutes/life) {
		t.Errorf("%v of %v min at a life of %v", edges, minutes, life)
	}
	twice := plan(turn("a", 0.8), turn("b", 0.8))
	if n := number(t, list(twice.doc, "machines")[0], "tool_changes"); n != 1 || len(list(twice.doc, "edges")) != 1 {
		t.Errorf("%v changes with one tool, %v", n, member0(twice.doc, "edges"))
	}
	if !close6(number(t, list(twice.doc, "edges")[0], "share"), 2*minutes/life) {
		t.Errorf("two cuts wear %v", list(twice.doc, "edges"))
	}
	other := plan(turn("a", 0.8), turn("b", 1.2))
	if n := number(t, list(other.doc, "machines")[0], "tool_changes"); n != 2 || len(list(other.doc, "edges")) != 2 {
		t.Errorf("%v changes with two tools, %v", n, member0(other.doc, "edges"))
	}
}

// A release fails closed, faults are told by cut, and bounds are kept.
func TestPlansThatCannotBe(t *testing.T) {
	h := embeddedService(t)
	request := routing(t)
	request["purpose"] = "release"
	if got := ask(t, h, "POST /v1/plans", request); member0(got.doc, "verdict") == "yes" || !strings.Contains(string(got.body), "not-checked") {
		t.Errorf("a release: %d %v", got.status, member0(got.doc, "verdict"))
	}
	cuts := routing(t)["cuts"].([]any)
	cuts[3].(map[string]any)["tool"].(map[string]any)["cutting_diameter"] = -8.5
	cuts[5].(map[string]any)["count"] = 2.5
	cuts[7].(map[string]any)["operation"] = "whittling"
	request = map[string]any{"units": "metric", "machines": []any{"no-such"}, "cuts": cuts, "allowances": map[string]any{"approach": -1}}
	got := ask(t, h, "POST /v1/plans", request)
	for _, field := range []string{"cuts[3].tool.cutting_diameter", "cuts[5].count", "cuts[7].operation", "machines[0]", "allowances.approach"} {
		if got.status < 400 || !strings.Contains(string(got.body), `"`+field+`"`) {
			t.Errorf("%s is not told: %d %.1500s", field, got.status, got.body)
		}
	}
	many := make([]any, 501)
	for i := range many {
		many[i] = cuts[0]
	}
	for _, body := range []map[string]any{{"units": "metric", "cuts": []any{}}, {"units": "metric", "cuts": many}, {"cuts": cuts[:1]}} {
		if got := ask(t, h, "POST /v1/plans", body); got.status < 400 || got.status >= 500 {
			t.Errorf("%d %.300s", got.status, got.body)
		}
	}
}
