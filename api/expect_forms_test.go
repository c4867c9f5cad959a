package api_test

import (
	"encoding/json"
	"net/http"
	"testing"
)

// The assertion language itself: every form holds on an answer that has what it
// asks for and fails on one that has not.
func TestExpectationForms(t *testing.T) {
	answer := reply{status: 200, header: http.Header{"Content-Type": {"application/json; charset=utf-8"}}, body: []byte(`{
		"units": "metric", "unit_of": {"torque": "N.m", "cutting_speed": "m/min"},
		"loads": {"torque": 50, "cutting_power": 8}, "loads_worn": {"torque": 65},
		"parameters": {"cutting_speed": 150},
		"machine": {"gear": "high", "limits": [
			{"limit": "torque", "demand": 50, "unit": "N.m", "utilisation": 0.5},
			{"limit": "power", "demand": 8, "unit": "kW", "utilisation": 0.8}]},
		"findings": [{"code": "exit-slug", "severity": "warning"}],
		"items": [{"code": "units-missing", "faults": [{"field": "tool.body", "code": "wrong-type"}]}, {"findings": []}]}`)}
	problem := reply{status: 422, header: http.Header{}, body: []byte(`{"code": "request-invalid", "status": 422,
		"faults": [{"field": "engagement.depth_of_cut", "code": "field-missing"}, {"field": "items[2].tool", "code": "tool-class-unknown"}]}`)}
	for _, r := range []*reply{&answer, &problem} {
		if err := json.Unmarshal(r.body, &r.doc); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		to     reply
		holds  bool
		expect string
	}{
		{answer, true, `{"status": 200}`}, {answer, true, `{"status": [200, 201]}`}, {answer, false, `{"status": [400, 422]}`},
		{answer, true, `{"path": "loads.torque", "value": 50.2}`}, {answer, false, `{"path": "loads.torque", "value": 50.3}`},
		{answer, false, `{"path": "loads.torque", "value": 50.2, "rel_tol": 0.001}`},
		{answer, true, `{"path": "loads.torque", "value": 52, "abs_tol": 2}`}, {answer, false, `{"path": "loads.torque", "value": 52, "abs_tol": 1}`},
		{answer, true, `{"path": "loads.torque", "value": 36.878, "unit": "[lbf_av].[ft_i]"}`}, {answer, false, `{"path": "loads.torque", "value": 50, "unit": "[lbf_av].[ft_i]"}`},
		{answer, false, `{"path": "loads.torque", "value": 50, "unit": "kW"}`}, {answer, false, `{"path": "loads.cutting_power", "value": 8, "unit": "kW"}`},
		{answer, true, `{"path": "machine.limits[limit=power].demand", "value": 8000, "unit": "W"}`},
		{answer, true, `{"path": "machine.gear", "equals": "high"}`}, {answer, false, `{"path": "machine.gear", "equals": "low"}`},
		{answer, true, `{"path": "machine.limits[*].utilisation", "min": 0.5, "max": 0.8}`}, {answer, false, `{"path": "machine.limits[*].utilisation", "min": 0, "max": 0.7}`},
		{answer, false, `{"path": "machine.limits[*].utilisation", "min": 0.6}`}, {answer, false, `{"path": "machine.limit[*].utilisation", "min": 0}`},
		{answer, true, `{"path": "machine.limits", "min_length": 2, "max_length": 2}`}, {answer, false, `{"path": "machine.limits", "min_length": 3}`}, {answer, false, `{"path": "loads.torque", "max_length": 3}`},
		{answer, true, `{"path": "unit_of", "present": true}`}, {answer, false, `{"path": "unit_of", "present": false}`}, {answer, true, `{"path": "motion.pecks", "present": false}`},
		{answer, true, `{"path": "loads_worn.torque", "op": ">=", "than": "loads.torque", "factor": 1.3, "rel_tol": 1e-6}`}, {answer, false, `{"path": "loads_worn.torque", "op": ">=", "than": "loads.torque", "factor": 1.31}`},
		{answer, true, `{"path": "loads_worn.torque", "op": "==", "than": "loads.torque", "factor": 1.31, "rel_tol": 0.01}`}, {answer, false, `{"path": "loads_worn.torque", "op": "==", "than": "loads.torque", "factor": 1.31, "rel_tol": 0.001}`},
		{answer, true, `{"path": "loads.torque", "op": "<", "than": "loads_worn.torque"}`}, {answer, false, `{"path": "loads.torque", "op": "<=", "than": "loads.missing"}`}, {answer, false, `{"path": "loads.torque", "op": "~", "than": "loads_worn.torque"}`},
		{answer, true, `{"contains_finding": {"code": "exit-slug", "severity": "warning"}}`}, {answer, false, `{"contains_finding": {"code": "exit-slug", "severity": "hold"}}`}, {answer, false, `{"contains_finding": {"code": "web-thin"}}`},
		{answer, true, `{"contains_finding": {"severity": "warning"}}`},
		{answer, true, `{"absent_finding": {"code": "web-thin"}}`}, {answer, false, `{"absent_finding": {"code": "exit-slug"}}`}, {answer, true, `{"absent_finding": {"severity": "refusal"}}`},
		{answer, true, `{"contains_finding": {"code": "units-missing", "severity": "refusal", "in": "items[0]"}}`}, {answer, false, `{"absent_finding": {"code": "web-thin", "in": "items[0]"}}`}, {answer, true, `{"absent_finding": {"code": "web-thin", "in": "items[1]"}}`},
		{problem, true, `{"contains_finding": {"code": "field-missing", "severity": "refusal"}}`}, {problem, false, `{"contains_finding": {"code": "field-missing", "severity": "hold"}}`}, {problem, false, `{"absent_finding": {"code": "web-thin"}}`},
		{problem, true, `{"problem_code": "request-invalid"}`}, {problem, true, `{"problem_code": "field-missing"}`}, {problem, false, `{"problem_code": "units-missing"}`}, {answer, false, `{"problem_code": "exit-slug"}`},
		{answer, true, `{"problem_code": "wrong-type", "in": "items[0]"}`}, {answer, false, `{"problem_code": "wrong-type", "in": "items[1]"}`}, {answer, false, `{"problem_code": "wrong-type", "in": "items[7]"}`},
		{problem, true, `{"contains_fault": {"field": "engagement", "code": "field-missing"}}`}, {problem, true, `{"contains_fault": {"field": "engagement.depth_of_cut", "code": "field-missing"}}`},
		{problem, false, `{"contains_fault": {"field": "engagement.depth", "code": "field-missing"}}`}, {problem, false, `{"contains_fault": {"field": "engagement", "code": "wrong-type"}}`}, {problem, true, `{"contains_fault": {"field": "items", "code": "tool-class-unknown"}}`},
		{answer, true, `{"header": "Content-Type", "equals": "application/json"}`}, {answer, false, `{"header": "Content-Type", "equals": "text/csv"}`}, {answer, false, `{"header": "ETag"}`}, {answer, true, `{"header": "content-type"}`},
		{answer, true, `{"body_contains": "exit-slug"}`}, {answer, false, `{"body_contains": "web-thin"}`},
		{answer, false, `{}`}, {answer, false, `{"path": "loads.torque"}`}, {answer, false, `{"path": "machine.limits[x].demand", "min": 0}`},
	} {
		var e expectation
		if err := json.Unmarshal([]byte(c.expect), &e); err != nil {
			t.Fatalf("%s: %v", c.expect, err)
		}
		if err := e.check(c.to, nil); (err == nil) != c.holds {
			t.Errorf("%s: holds %v, want %v (%v)", c.expect, err == nil, c.holds, err)
		}
	}
}
