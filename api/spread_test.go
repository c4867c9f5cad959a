package api_test

import (
	"math"
	"strings"
	"testing"
)

// Every record that could serve a grade is shown, the one that does first, with what puts
// the others behind and what each gives over it.
func TestSpreadOfAGrade(t *testing.T) {
	h := embeddedService(t)
	got := call(t, h, "GET", "/v1/materials/42crmo4/spread", "")
	if got.status != 200 || got.header.Get("ETag") == "" {
		t.Fatalf("%d %s", got.status, got.body)
	}
	for _, f := range member0(got.doc, "force").([]any) {
		records := member0(f, "records").([]any)
		if len(records) < 3 {
			t.Errorf("%v: %d records", member0(f, "process"), len(records))
		}
		first := member0(records[0], "specific_cutting_force").(float64)
		for i, r := range records {
			if serves := member0(r, "serves").(bool); serves != (i == 0) || (member0(r, "loses_by") == nil) != (i == 0) {
				t.Errorf("record %d: %v", i, r)
			}
			if kc, ratio := member0(r, "specific_cutting_force").(float64), member0(r, "ratio").(float64); math.Abs(kc/first-ratio) > 1e-5 {
				t.Errorf("%v over %v is not %v", kc, first, ratio)
			}
		}
		if spread := member0(f, "spread").(float64); spread < 0.05 || spread > 0.6 {
			t.Errorf("spread %v", spread)
		}
	}
	// What it says serves is what an estimate rests on.
	estimate := ask(t, h, "POST /v1/estimates", []byte(`{"units":"metric","material":{"grade":"42CrMo4"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25}}`))
	turning := member0(got.doc, "force").([]any)[0]
	if want := member0(member0(turning, "records").([]any)[0], "record"); member0(member0(estimate.doc, "material"), "record") != want {
		t.Errorf("an estimate rests on %v, %v is said to serve", member0(member0(estimate.doc, "material"), "record"), want)
	}
	if !strings.Contains(string(got.body), `"kind":"force"`) {
		t.Errorf("no pools: %s", got.body)
	}
}
