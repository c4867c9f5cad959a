package api_test

import "testing"

// Every answer to a scenario with its own force data is held against the oracle:
// not the members a scenario names, but all that both know, to the last digit
// written; the sampled peak to half a percent.
func TestAnswersAgreeWithTheOracle(t *testing.T) {
	h := embeddedService(t)
	tolerance := func(path string) float64 {
		if path == "loads.torque_peak" {
			return 5e-4 // sampled
		}
		return 2e-5 // the oracle starts from parameters of six digits
	}
	held := 0
	for _, s := range loadScenarios(t) {
		if s.Route != "POST /v1/estimates" && s.Route != "POST /v1/estimates/batch" {
			continue
		}
		got := ask(t, h, s.Route, s.Request)
		if got.status != 200 {
			continue // a scenario about a fault
		}
		units, _ := s.Request["units"].(string)
		_, batch := s.Request["items"]
		for i, request := range cutsOf(s.Request) {
			part := got.doc
			if batch {
				part, _ = partOf(got.doc, "items["+itoa(i)+"]")
			}
			if problemCodes(part) != nil || !hasLaw(request) {
				continue
			}
			held++
			t.Run(s.ID+"/"+itoa(i), func(t *testing.T) {
				if err := oracleAgreesOn(got.doc, part, request, units, nil, tolerance); err != nil {
					t.Errorf("%s: %v", s.Title, err)
				}
			})
		}
	}
	if held < 60 {
		t.Errorf("only %d answers were held against the oracle", held)
	}
}
