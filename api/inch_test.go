package api_test

import (
	"encoding/json"
	"math"
	"testing"

	"swarf/api/wire"
	"swarf/domain/unit"
)

// The two systems of an answer's codes: what a code measures.
func quantityOf(code string, system unit.System) (unit.Quantity, bool) {
	for q := unit.Length; q.Name() != ""; q++ {
		if q.Code(system) == code {
			return q, true
		}
	}
	return 0, false
}

// sameNumbers compares two answers member by member, what has a unit turned into metric:
// both are written with six digits.
func sameNumbers(t *testing.T, path string, metric, inch any, name string, codes map[string]any) (compared int) {
	t.Helper()
	switch m := metric.(type) {
	case map[string]any:
		for key, v := range m {
			if key == "unit_of" || key == "units" || key == "message" || key == "fix" || key == "why" || key == "valid" || key == "explain" {
				continue
			}
			i, ok := inch.(map[string]any)[key]
			if !ok {
				t.Errorf("%s.%s is not in the answer in inches", path, key)
				continue
			}
			if _, measured := m["unit"]; measured && (key == "value" || key == "limit" || key == "demand" || key == "allowed" || key == "unit") {
				continue // the unit stands beside it
			}
			under := key
			if key == "low" || key == "high" {
				under = name
			}
			compared += sameNumbers(t, path+"."+key, v, i, under, codes)
		}
	case []any:
		list := inch.([]any)
		if len(list) != len(m) {
			t.Errorf("%s: %d items in metric, %d in inches", path, len(m), len(list))
			return compared
		}
		for k := range m {
			compared += sameNumbers(t, path, m[k], list[k], name, codes)
		}
	case float64:
		i := inch.(float64)
		if code, ok := codes[name].(string); ok {
			q, ok := quantityOf(code, unit.Inch)
			if !ok {
				t.Errorf("%s: code %q measures nothing known", path, code)
				return compared
			}
			i = q.ToMetric(unit.Inch, i)
		}
		if math.Abs(i-m) > 1.1e-5*math.Max(math.Abs(m), 1e-6) {
			t.Errorf("%s is %v in metric and %v from inches", path, m, i)
		}
		return compared + 1
	}
	return compared
}

// Every operation asked in inches answers with the numbers of the same cut asked in
// metric. Requests in inches are read to within 1e-12 (api/wire), answers rounded once.
func TestInchAndMetricAgree(t *testing.T) {
	h := embeddedService(t)
	for _, r := range routings {
		t.Run(r.operation, func(t *testing.T) {
			request := map[string]any{"units": "metric", "material": map[string]any{"grade": "1.4301"}, "operation": r.operation,
				"tool": json.RawMessage(r.tool), "engagement": json.RawMessage(r.engagement)}
			chosen := ask(t, h, "POST /v1/recommendations", request)
			p := member0(chosen.doc, "parameters").(map[string]any)
			request["engagement"] = member0(chosen.doc, "engagement")
			request["parameters"] = map[string]any{"spindle_speed": p["spindle_speed"], "feed_per_revolution": p["feed_per_revolution"]}
			body, err := json.Marshal(request)
			if err != nil {
				t.Fatal(err)
			}
			var cut wire.Cut
			if in := wire.Decode(body, &cut, wire.DecodeOptions{RequireUnits: true}); len(in.Faults) > 0 {
				t.Fatalf("%+v", in.Faults)
			}
			cut.Units = "inch"
			inches, err := wire.AppendJSON(nil, &cut, unit.Inch)
			if err != nil {
				t.Fatal(err)
			}
			metric, inch := ask(t, h, "POST /v1/estimates", body), ask(t, h, "POST /v1/estimates", inches)
			if metric.status != 200 || inch.status != 200 {
				t.Fatalf("%d %s\n%d %s", metric.status, metric.body, inch.status, inch.body)
			}
			codes := member0(inch.doc, "unit_of").(map[string]any)
			if n := sameNumbers(t, "", metric.doc, inch.doc, "", codes); n < 20 {
				t.Errorf("only %d numbers compared", n)
			}
		})
	}
}
