package api_test

import (
	"net/http"
	"strings"
	"testing"
)

// A cut that the machine cannot make.
const aRefusedCut = "units=metric&grade=1.4301&operation=drilling&class=drill-indexable&cutting_diameter=80&hole_depth=60&through=true&cutting_speed=150&feed_per_revolution=0.5&machine=vmc-40"

// A strict caller gets a refused or held cut as a problem whose faults are the findings; a
// lenient one the answer.
func TestStrictHandlingMakesProblemsOfHolds(t *testing.T) {
	h := embeddedService(t)
	held := 0
	for _, query := range []string{aRefusedCut, aCutFlat, aTap + "&cutting_speed=10", strings.Replace(aCutFlat, "hole_depth=60", "hole_depth=400", 1), strings.Replace(aCutFlat, "grade=1.4301", "group=M", 1)} {
		lenient := call(t, h, "GET", "/v1/estimates?"+query, "", "Prefer: handling=lenient, wait=5")
		if lenient.status != http.StatusOK || lenient.header.Get("Preference-Applied") != "" {
			t.Fatalf("%s: %d %s", query, lenient.status, lenient.body)
		}
		want := heldOf(lenient)
		strict := call(t, h, "GET", "/v1/estimates?"+query, "", `Prefer: wait=5, handling="strict"`)
		if strict.header.Get("Preference-Applied") != "handling=strict" {
			t.Errorf("%s: applied %q", query, strict.header.Get("Preference-Applied"))
		}
		if byParameter := call(t, h, "GET", "/v1/estimates?handling=strict&"+query, ""); byParameter.status != strict.status {
			t.Errorf("%s: by parameter %d, by header %d", query, byParameter.status, strict.status)
		}
		if verdict := textOf(lenient.doc, "verdict"); (verdict == "yes") != (strict.status == http.StatusOK) || len(want) == 0 {
			if verdict != "yes" || strict.status != http.StatusOK || string(strict.body) != string(lenient.body) {
				t.Errorf("%s: %s, strict %d", query, verdict, strict.status)
			}
			continue
		}
		held++
		if strict.status != http.StatusUnprocessableEntity || textOf(strict.doc, "code") != "held" || textOf(strict.doc, "type") != "/problems/held" {
			t.Fatalf("%s: %d %s", query, strict.status, strict.body)
		}
		faults, _ := find(strict.doc, "faults[*]")
		for _, f := range faults {
			delete(want, textOf(f.value, "code")+" "+textOf(f.value, "field"))
		}
		if len(want) > 0 || len(faults) == 0 {
			t.Errorf("%s: lacks %v: %s", query, want, strict.body)
		}
	}
	if held < 2 {
		t.Errorf("only %d of the cuts are held", held)
	}
}

// In a batch only the held item is a problem; a plan and a spindle check say which cut.
func TestStrictHandlingOfMany(t *testing.T) {
	h := embeddedService(t)
	heavy := `{"ref":"b","material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":80},"engagement":{"hole_depth":60,"through":true},"parameters":{"cutting_speed":150,"feed_per_revolution":0.5},"machine":"vmc-40"}`
	light := strings.NewReplacer(`"b"`, `"a"`, `:80`, `:20`, `:60`, `:20`, `0.5`, `0.08`, `150`, `120`, "vmc-40", "vmc-50").Replace(heavy)
	got := call(t, h, "POST", "/v1/estimates/batch", `{"units":"metric","items":[`+light+","+heavy+`]}`, asJSON, "Prefer: handling=strict")
	items, _ := find(got.doc, "items[*]")
	if got.status != http.StatusOK || len(items) != 2 || textOf(items[0].value, "verdict") == "" || textOf(items[1].value, "code") != "held" || textOf(items[1].value, "ref") != "b" {
		t.Fatalf("%d %.1500s", got.status, got.body)
	}
	lines := call(t, h, "POST", "/v1/estimates/batch?units=metric&format=ndjson", `{"units":"metric","items":[`+heavy+`]}`, asJSON, "Prefer: handling=strict")
	if !strings.Contains(string(lines.body), `"code":"held"`) {
		t.Errorf("%d %s", lines.status, lines.body)
	}
	without := strings.NewReplacer(`,"machine":"vmc-40"`, "").Replace(heavy)
	for path, body := range map[string]string{"/v1/spindle-checks": `{"units":"metric","cut":` + without + `,"machine":"vmc-40"}`, "/v1/plans": `{"units":"metric","cuts":[` + without + `],"machines":["vmc-40"]}`} {
		if got := call(t, h, "POST", path, body, asJSON, "Prefer: handling=strict"); got.status != http.StatusUnprocessableEntity || textOf(got.doc, "code") != "held" || !strings.Contains(string(got.body), `"field":"`+map[string]string{"/v1/plans": "cuts", "/v1/spindle-checks": "results"}[path]+`[0]`) {
			t.Errorf("%s: %d %.800s", path, got.status, got.body)
		}
	}
}
