package api_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"net/http"
	"strings"
	"testing"
)

// turned is a turned cut in inches or metric on the demo lathe, as an observation's cut.
func turned(grade string, feed, speed float64) string {
	return fmt.Sprintf(`{"material":{"grade":%q,"condition":%q},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8,"tool_material":"HC"},
		"engagement":{"work_diameter":80,"depth_of_cut":2.5},"parameters":{"cutting_speed":%v,"feed_per_revolution":%v},"machine":"lathe-315"}`, grade, map[string]string{"1.4301": "annealed", "1.1191": "normalised"}[grade], speed, feed)
}

func observe(t *testing.T, h http.Handler, body string) reply {
	t.Helper()
	return ask(t, h, "POST /v1/observations", []byte(body))
}

// A load reading is taken back to the tool: 10 kW at the motor, less idling, times the
// efficiency.
func TestALoadReadingSaysWhatTheToolAsked(t *testing.T) {
	h := newShop(t).handler()
	machine := call(t, h, "GET", "/v1/machines/lathe-315", "").doc
	spindle := member0(machine, "spindle")
	efficiency, idle := member0(spindle, "efficiency").(float64), member0(spindle, "idle_power").(float64)
	got := observe(t, h, `{"units":"metric","kind":"load","lot":"A1","cut":`+turned("1.4301", 0.25, 140)+`,"load":{"power":5}}`)
	if got.status != 201 || member0(got.doc, "state") != "accepted" {
		t.Fatalf("%d %s", got.status, got.body)
	}
	net := (5 - idle) * efficiency
	n := 140000 / (math.Pi * 80)
	if torque := member0(got.doc, "net_torque").(float64); math.Abs(torque/(net*9549.2966/n)-1) > 1e-5 {
		t.Errorf("net torque %v, want %v", torque, net*9549.2966/n)
	}
	if kc, q := member0(got.doc, "specific_cutting_force").(float64), 140*2.5*0.25; math.Abs(kc/(60000*net/q)-1) > 1e-5 {
		t.Errorf("kc %v, want %v", kc, 60000*net/q)
	}
	inch := observe(t, h, `{"units":"inch","kind":"load","cut":{"material":{"grade":"304"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.03,"tool_material":"HC"},"engagement":{"work_diameter":3,"depth_of_cut":0.1},"parameters":{"cutting_speed":450,"feed_per_revolution":0.01},"machine":"lathe-315"},"load":{"power":7}}`)
	if inch.status != 201 || member0(member0(inch.doc, "unit_of"), "net_torque") != "[lbf_av].[ft_i]" {
		t.Errorf("%d %s", inch.status, inch.body)
	}
}

// Evidence that proves nothing is kept aside with its reason; what cannot be is refused.
func TestBadEvidence(t *testing.T) {
	h := newShop(t).handler()
	cut := turned("1.4301", 0.25, 140)
	for name, row := range map[string]struct{ body, says string }{
		"too small":      {`{"units":"metric","kind":"load","cut":` + cut + `,"load":{"power":1.2}}`, "load-too-small"},
		"transient":      {`{"units":"metric","kind":"load","cut":` + cut + `,"load":{"power":5,"transient":true}}`, "transient"},
		"far off":        {`{"units":"metric","kind":"load","cut":` + cut + `,"load":{"power":30}}`, "far-outside-record"},
		"too short":      {`{"units":"metric","kind":"edge","cut":` + cut + `,"edge":{"minutes":0.05,"reason":"worn"}}`, "minutes-too-few"},
		"without a park": {`{"units":"metric","kind":"load","cut":` + strings.Replace(cut, `,"machine":"lathe-315"`, "", 1) + `,"load":{"power":5}}`, "machine-unknown"},
	} {
		got := observe(t, h, row.body)
		if got.status != 201 || member0(got.doc, "state") != "set-aside" || !strings.Contains(string(got.body), `"code":"`+row.says+`"`) {
			t.Errorf("%s: %d %s", name, got.status, got.body)
		}
	}
	for name, row := range map[string]struct{ body, field string }{
		"two loads":  {`{"units":"metric","kind":"load","cut":` + cut + `,"load":{"power":5,"percent":40}}`, `"field":"load"`},
		"no reason":  {`{"units":"metric","kind":"edge","cut":` + cut + `,"edge":{"minutes":12}}`, `"field":"edge.reason"`},
		"no cut":     {`{"units":"metric","kind":"edge","edge":{"minutes":12,"reason":"worn"}}`, `"field":"cut"`},
		"a group":    {`{"units":"metric","kind":"load","cut":` + strings.Replace(cut, `"grade":"1.4301","condition":"annealed"`, `"group":"M"`, 1) + `,"load":{"power":5}}`, `"field":"cut.material.grade"`},
		"no surface": {`{"units":"metric","kind":"surface","cut":` + cut + `,"surface":{}}`, `"field":"surface"`},
	} {
		if got := observe(t, h, row.body); got.status != 400 && got.status != 422 || !strings.Contains(string(got.body), row.field) {
			t.Errorf("%s: %d %s", name, got.status, got.body)
		}
	}
}

// Percent needs to be of something: a machine whose meter is not known, or counts current,
// gives nothing; one that counts the rated power gives that share of it.
func TestPercentOfWhat(t *testing.T) {
	h := newShop(t).handler()
	percent := func(id string) reply {
		return observe(t, h, `{"units":"metric","kind":"load","cut":`+strings.Replace(turned("1.4301", 0.25, 140), "lathe-315", id, 1)+`,"load":{"percent":30}}`)
	}
	machine := `{"units":"metric","process":"turning","spindle":{"max_speed":3000,"efficiency":0.9,"gears":[{"ratings":[{"rating":"S1","power":20,"torque":400}]}]},"basis":"demo"`
	for id, meter := range map[string]string{"bare": "", "amps": `,"meter":{"percent_of":"S1","quantity":"current","point":"motor"}`, "rated": `,"meter":{"percent_of":"S1","quantity":"power","point":"motor"}`} {
		if made := call(t, h, "PUT", "/v1/machines/"+id, machine+meter+"}", asJSON, "If-None-Match: *"); made.status != 201 {
			t.Fatalf("%s: %d %s", id, made.status, made.body)
		}
	}
	for _, id := range []string{"bare", "amps"} {
		if got := percent(id); !strings.Contains(string(got.body), "percent-of-unknown") || member0(got.doc, "net_torque") != nil {
			t.Errorf("%s: %d %s", id, got.status, got.body)
		}
	}
	want := 0.30 * 20 * 0.9 * 9549.2966 / (140000 / (math.Pi * 80))
	if got := percent("rated"); got.status != 201 || math.Abs(member0(got.doc, "net_torque").(float64)/want-1) > 1e-5 {
		t.Errorf("want %v: %d %s", want, got.status, got.body)
	}
}

// A shop whose austenitic bar takes 15 % more than the book, measured on a meter that reads
// true, gets a draft that says so with its interval; nothing serves until it is approved.
func TestCalibrationProposes(t *testing.T) {
	h := newShop(t).handler()
	if kept := call(t, h, "PUT", "/v1/cuts/flange-10", aKeptCut, asJSON, "If-None-Match: *"); kept.status != 201 {
		t.Fatalf("%d %s", kept.status, kept.body)
	}
	book := func(grade string, feed float64) float64 {
		got := ask(t, h, "POST /v1/estimates", []byte(`{"units":"metric",`+turned(grade, feed, 140)[1:]))
		return member0(member0(got.doc, "machine"), "motor_power").(float64)
	}
	r := rand.New(rand.NewPCG(4, 2))
	var items []string
	for i := range 30 {
		feed := []float64{0.18, 0.22, 0.28, 0.35, 0.45}[i%5]
		for grade, more := range map[string]float64{"1.4301": 1.15, "1.1191": 1} {
			power := book(grade, feed) * more * math.Exp(0.04*r.NormFloat64())
			items = append(items, fmt.Sprintf(`{"kind":"load","lot":"L%d","edge_id":"E%d","cut":%s,"load":{"power":%.4f,"minutes_in_cut":0}}`, i%3, i%4, turned(grade, feed, 140), power))
		}
	}
	batch := call(t, h, "POST", "/v1/observations/batch", `{"units":"metric","items":[`+strings.Join(items, ",")+`]}`, asJSON, "From: ann")
	if counts := member0(batch.doc, "counts"); batch.status != 200 || member0(counts, "accepted") != 60.0 {
		t.Fatalf("%d %.600s", batch.status, batch.body)
	}
	fit := call(t, h, "POST", "/v1/calibrations", `{"kind":"force","record":"kc-own-fit","process":"turning","material":{"grade":"1.4301","condition":"annealed"}}`, asJSON, "From: ann")
	if fit.status != 201 {
		t.Fatalf("%d %s", fit.status, fit.body)
	}
	force := member0(fit.doc, "specific_cutting_force_1_1")
	low, high := member0(force, "low").(float64), member0(force, "high").(float64)
	prior := call(t, h, "GET", "/v1/records/"+member0(fit.doc, "prior").(string), "").doc
	want := member0(member0(prior, "force"), "specific_cutting_force_1_1").(float64) * 1.15
	if low > want || high < want || member0(member0(fit.doc, "chip_thickness_exponent"), "fixed") != false {
		t.Errorf("kc1.1 in %v to %v, the bar has %v: %s", low, high, want, fit.body)
	}
	if impact := member0(fit.doc, "impact"); len(member0(impact, "cuts").([]any)) != 1 {
		t.Errorf("impact %v", impact)
	}
	if now, _ := servedIn(t, h, ""); now == "kc-own-fit" {
		t.Error("a proposal serves")
	}
	if own := call(t, h, "POST", "/v1/calibrations/kc-own-fit/approval", `{"reason":"fits"}`, asJSON, "From: ann"); own.status != 422 {
		t.Errorf("approved by who fitted it: %d", own.status)
	}
	if ok := call(t, h, "POST", "/v1/calibrations/kc-own-fit/approval", `{"reason":"fits"}`, asJSON, "From: bob"); ok.status != 200 {
		t.Fatalf("%d %s", ok.status, ok.body)
	}
	if now, _ := servedIn(t, h, ""); now != "kc-own-fit" {
		t.Errorf("approved, %s serves", now)
	}
	none := call(t, h, "POST", "/v1/calibrations", `{"kind":"force","record":"kc-none","process":"milling","material":{"grade":"1.4301"}}`, asJSON)
	if none.status != 422 || !strings.Contains(string(none.body), "evidence-missing") {
		t.Errorf("%d %s", none.status, none.body)
	}
}

// Edge logs give a law of life, edges changed by plan counted for what they prove; in CSV as
// in JSON.
func TestLifeFromEdgeLogs(t *testing.T) {
	h := newShop(t).handler()
	r := rand.New(rand.NewPCG(8, 8))
	lines := []string{"units,kind,lot,grade,condition,operation,class,corner_radius,tool_material,work_diameter,depth_of_cut,cutting_speed,feed_per_revolution,edge.minutes,reason"}
	for i := range 40 {
		v := []float64{140, 160, 180, 200}[i%4]
		life := math.Pow(320/v, 1/0.25) * math.Exp(0.2*r.NormFloat64())
		reason := "worn"
		if life > 15 {
			life, reason = 15, "by-plan"
		}
		lines = append(lines, fmt.Sprintf("metric,edge,L%d,1.4301,annealed,turning,turning-external,0.8,HC,80,2.5,%v,0.25,%.3f,%s", i%3, v, life, reason))
	}
	batch := call(t, h, "POST", "/v1/observations/batch", strings.Join(lines, "\n"), "Content-Type: text/csv")
	if batch.status != 200 || member0(member0(batch.doc, "counts"), "accepted") != 40.0 {
		t.Fatalf("%d %.800s", batch.status, batch.body)
	}
	fit := call(t, h, "POST", "/v1/calibrations", `{"kind":"life","record":"life-own","process":"turning","tool_material":"HC","material":{"grade":"1.4301","condition":"annealed"}}`, asJSON, "From: ann")
	if fit.status != 201 {
		t.Fatalf("%d %s", fit.status, fit.body)
	}
	for name, want := range map[string]float64{"taylor_exponent": 0.25, "taylor_speed": 320} {
		f := member0(fit.doc, name)
		if member0(f, "low").(float64) > want || member0(f, "high").(float64) < want {
			t.Errorf("%s %v, the shop has %v", name, f, want)
		}
	}
	if items, _ := pageOfObservations(t, h, "/v1/observations?kind=edge&limit=15"); len(items) != 15 {
		t.Errorf("%d on a page", len(items))
	}
	seen := 0
	for target := "/v1/observations?limit=15"; target != ""; {
		items, next := pageOfObservations(t, h, target)
		seen += len(items)
		target = next
	}
	if seen != 40 {
		t.Errorf("%d observations over the pages", seen)
	}
}

func pageOfObservations(t *testing.T, h http.Handler, target string) ([]any, string) {
	t.Helper()
	got := call(t, h, "GET", target, "")
	if got.status != 200 {
		t.Fatalf("%s: %d %s", target, got.status, got.body)
	}
	return member0(got.doc, "items").([]any), nextLink(t, got)
}
