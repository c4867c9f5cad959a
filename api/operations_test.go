package api_test

import (
	"encoding/json"
	"testing"

	"swarf/domain/cut"
)

// routings is one cut of every operation, as a planner would ask for it: the tool's class
// and what it has no default for, the engagement without what may be chosen.
var routings = []struct{ operation, tool, engagement string }{
	{"turning", `{"class":"turning-external"}`, `{"work_diameter":60}`},
	{"facing", `{"class":"turning-external"}`, `{"work_diameter":60}`},
	{"boring-internal", `{"class":"turning-internal"}`, `{"work_diameter":40}`},
	{"grooving", `{"class":"turning-grooving"}`, `{"work_diameter":60,"width":3,"depth":5}`},
	{"parting", `{"class":"turning-parting"}`, `{"work_diameter":40,"width":3,"depth":20}`},
	{"thread-turning", `{"class":"turning-threading"}`, `{"work_diameter":30,"pitch":2,"thread_depth":1.23,"length":40}`},
	{"face-milling", `{"class":"mill-face","cutting_diameter":80,"effective_edges":6}`, `{}`},
	{"side-milling", `{"class":"mill-end","cutting_diameter":12,"effective_edges":4}`, `{}`},
	{"slot-milling", `{"class":"mill-end","cutting_diameter":12,"effective_edges":4}`, `{}`},
	{"plunge-milling", `{"class":"mill-end","cutting_diameter":20,"effective_edges":4}`, `{"axial_depth":40}`},
	{"trochoidal-milling", `{"class":"mill-end","cutting_diameter":12,"effective_edges":5}`, `{"axial_depth":20,"slot_width":18,"engagement_angle":45}`},
	{"ball-milling", `{"class":"mill-ball","cutting_diameter":10,"effective_edges":2}`, `{}`},
	{"circular-milling", `{"class":"mill-end","cutting_diameter":20,"effective_edges":4}`, `{"start_diameter":30,"end_diameter":33,"internal":true,"axial_depth":10}`},
	{"thread-milling", `{"class":"mill-thread","cutting_diameter":12,"effective_edges":3}`, `{"start_diameter":18.376,"end_diameter":20,"internal":true,"pitch":1.5}`},
	{"chamfer-milling", `{"class":"mill-chamfer","cutting_diameter":10,"effective_edges":4}`, `{"chamfer_width":0.5,"chamfer_angle":45}`},
	{"drilling", `{"class":"drill-solid-carbide","cutting_diameter":10}`, `{"hole_depth":25,"through":true}`},
	{"reaming", `{"class":"reamer","cutting_diameter":10,"effective_edges":6}`, `{"hole_depth":25,"through":true,"start_diameter":9.8}`},
	{"countersinking", `{"class":"countersink","cutting_diameter":16,"effective_edges":3}`, `{"hole_depth":3,"through":false,"start_diameter":10}`},
	{"counterboring", `{"class":"counterbore","cutting_diameter":18,"effective_edges":2}`, `{"hole_depth":8,"through":false,"start_diameter":10}`},
	{"spot-drilling", `{"class":"drill-spot","cutting_diameter":10}`, `{"hole_depth":2,"through":false}`},
	{"boring-rotating", `{"class":"boring-head","cutting_diameter":40}`, `{"hole_depth":30,"through":true,"start_diameter":39.5}`},
	{"tapping", `{"class":"tap-cutting"}`, `{"nominal_diameter":10,"pitch":1.5,"hole_diameter":8.5,"thread_depth":15,"hole_depth":25,"through":false}`},
	{"thread-forming", `{"class":"tap-forming"}`, `{"nominal_diameter":6,"pitch":1,"hole_diameter":5.55,"thread_depth":12,"hole_depth":16,"through":false}`},
	{"chain-drilling", `{"class":"drill-solid-carbide","cutting_diameter":14}`, `{"slot_width":16,"slot_length":100,"slot_depth":20,"pitch":15,"wall_allowance":1,"floor_allowance":0.3}`},
}

// grades stand for the groups of ISO 513 that every shop cuts.
var grades = []string{"1.4301", "1.1191", "A96061", "R56400", "EN-GJL-250"}

// Every operation is recommended in every metal; what was chosen is computed by estimates to the
// same digits, with its derivation, and checked against a machine.
func TestEveryOperationInEveryMetal(t *testing.T) {
	h := embeddedService(t)
	asked := make(map[string]bool)
	for _, r := range routings {
		asked[r.operation] = true
		for _, grade := range grades {
			t.Run(r.operation+"/"+grade, func(t *testing.T) {
				request := map[string]any{"units": "metric", "material": map[string]any{"grade": grade}, "operation": r.operation,
					"tool": json.RawMessage(r.tool), "engagement": json.RawMessage(r.engagement)}
				chosen := ask(t, h, "POST /v1/recommendations", request)
				if chosen.status != 200 || member0(chosen.doc, "verdict") == "no" || member0(chosen.doc, "loads") == nil {
					t.Fatalf("recommended: %d %.2000s", chosen.status, chosen.body)
				}
				p := member0(chosen.doc, "parameters").(map[string]any)
				request["engagement"] = member0(chosen.doc, "engagement")
				request["parameters"] = map[string]any{"spindle_speed": p["spindle_speed"], "feed_per_revolution": p["feed_per_revolution"]}
				computed := ask(t, h, "POST /v1/estimates?explain=true", request)
				if computed.status != 200 {
					t.Fatalf("computed: %d %.2000s", computed.status, computed.body)
				}
				for _, load := range []string{"torque", "cutting_power", "cutting_force"} {
					got, want := member0(member0(computed.doc, "loads"), load).(float64), member0(member0(chosen.doc, "loads"), load).(float64)
					if got < want*(1-1e-4) || got > want*(1+1e-4) { // parameters of six digits went in
						t.Errorf("%s is %v, recommended with %v", load, got, want)
					}
				}
				if steps := member0(computed.doc, "explain").([]any); len(steps) < 5 {
					t.Errorf("the derivation has %d steps", len(steps))
				}
				machine := "vmc-50"
				if o, _ := cut.Find(r.operation); o.Family == cut.TurningFamily {
					machine = "lathe-315"
				}
				delete(request, "units")
				checked := ask(t, h, "POST /v1/spindle-checks", map[string]any{"units": "metric", "cut": request, "machine": machine})
				if checked.status != 200 || len(member0(checked.doc, "results").([]any)) != 1 {
					t.Errorf("checked: %d %.2000s", checked.status, checked.body)
				}
			})
		}
	}
	for _, name := range cut.Names() {
		if !asked[name] {
			t.Errorf("%s is not asked for", name)
		}
	}
}

// member0 is a member of a document, nil without it.
func member0(doc any, name string) any {
	v, _ := member(doc, name)
	return v
}
