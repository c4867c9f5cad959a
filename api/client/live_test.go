package client_test

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"swarf/api"
	"swarf/api/client"
	"swarf/api/wire"
	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// reference is a service with the reference data and the demonstration machines.
var reference = sync.OnceValue(func() http.Handler {
	embedded, err := data.Embedded()
	if err != nil {
		panic(err)
	}
	snap, err := catalog.New(embedded)
	if err != nil {
		panic(err)
	}
	return api.New(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, ModelVersion: estimate.ModelVersion}).Handler()
})

// at is a client of a handler.
func at(t *testing.T, h http.Handler, o client.Options) *client.Client {
	t.Helper()
	server := httptest.NewServer(h)
	t.Cleanup(server.Close)
	c, err := client.New(server.URL, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func ptr[T any](v T) *T { return &v }

// drill is the cut of the first example of the README.
func drill() wire.Cut {
	return wire.Cut{
		Units: "metric", Ref: "op-30", Material: &wire.Material{Grade: "1.4301"}, Operation: "drilling",
		Tool:       &wire.Tool{Class: "drill-indexable", CuttingDiameter: ptr(30.0), EffectiveEdges: ptr(1.0)},
		Engagement: &wire.Engagement{HoleDepth: ptr(60.0), Through: ptr(true)},
		Parameters: &wire.Parameters{CuttingSpeed: ptr(150.0), FeedPerRevolution: ptr(0.12)},
	}
}

// There is a method for every route; those without one are listed with the reason.
func TestEveryRouteHasAMethod(t *testing.T) {
	without := map[string]string{
		"GET /healthz":                 "for those who run the service: Ready says more",
		"GET /.well-known/api-catalog": "for those who have yet to find the service",
		"GET /problems":                "pages for people",
		"GET /problems/{slug}":         "pages for people",
		"GET /v1/estimates":            "a form of the POST, for callers that have no body",
		"GET /v1/corrections":          "so",
		"GET /v1/diagnoses":            "so",
		"GET /v1/keys":                 "for those who run the service: swarf key does it from the command line", "POST /v1/keys": "so",
		"GET /v1/keys/{id}": "so", "POST /v1/keys/{id}/rotation": "so", "POST /v1/keys/{id}/revocation": "so",
		"GET /v1/spindle-checks": "so", "GET /v1/recommendations": "so",
	}
	var mu sync.Mutex
	seen := map[string]bool{}
	h := reference()
	c := at(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		seen[r.Method+" "+r.URL.Path] = true
		mu.Unlock()
		h.ServeHTTP(w, r)
	}), client.Options{Tries: 1, From: "test"})
	askEverything(t, c)
	var unasked []string
	for _, route := range api.Routes() {
		name := route.Method + " " + route.Path
		_, excused := without[name]
		path := regexp.MustCompile("^" + regexp.MustCompile(`\\\{\w+\\\}`).ReplaceAllString(regexp.QuoteMeta(name), "[^/]+") + "$")
		asked := false
		for one := range seen {
			literal := slices.ContainsFunc(api.Routes(), func(other api.RouteInfo) bool { return other.Method+" "+other.Path == one })
			asked = asked || one == name || path.MatchString(one) && !literal
		}
		switch {
		case asked && excused:
			t.Errorf("%s is asked and stands among those without a method", name)
		case !asked && !excused:
			unasked = append(unasked, name)
		}
	}
	if len(unasked) > 0 {
		t.Errorf("no method of the client, or none called here, for:\n%s", strings.Join(unasked, "\n"))
	}
}

// refusedBy reports the problem code of an error; empty when it is none.
func refusedBy(err error) string {
	var p *client.Problem
	if errors.As(err, &p) {
		return p.Code
	}
	return ""
}

// askEverything calls every method. Those that store are refused, for want of a database.
func askEverything(t *testing.T, c *client.Client) {
	t.Helper()
	ctx := t.Context()
	cut := drill()
	fine := func(what string, err error) {
		t.Helper()
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	check := wire.SpindleCheck{Units: "metric", Cut: &cut, Machine: inlineMachine()}
	correction := wire.CorrectionRequest{Units: "metric", Feature: "external", SidesCut: ptr(2.0), Programmed: ptr(50.0), Measured: ptr(50.04), Register: "diameter"}
	reading := wire.DiagnosisRequest{Units: "metric", Cut: &cut, Load: &wire.LoadReading{Torque: ptr(60.0), Point: "spindle"}}
	reading.Cut.Machine = inlineMachine()
	plain := drill()

	answer, err := c.Estimate(ctx, plain, client.Compute{Explain: true, Window: true})
	if fine("estimate", err); err == nil && (answer.Verdict == "" || len(answer.Explain) == 0 || answer.UnitOf["torque"] != "N.m") {
		t.Errorf("estimate: %+v", answer)
	}
	_, err = c.Recommend(ctx, plain, client.Compute{})
	fine("recommend", err)
	checked := check
	checked.Cut = &plain
	results, err := c.CheckSpindles(ctx, checked, client.Compute{})
	if fine("check", err); err == nil && len(results.Results) != 1 {
		t.Errorf("check: %+v", results)
	}
	_, err = c.Plan(ctx, wire.PlanRequest{Units: "metric", Cuts: []wire.PlanCut{{Cut: plain}}, Machines: []wire.MachineRef{*inlineMachine()}}, client.Compute{})
	fine("plan", err)
	_, err = c.Correct(ctx, correction, client.Compute{})
	fine("correct", err)
	_, err = c.Diagnose(ctx, reading, client.Compute{})
	fine("diagnose", err)
	bad := drill()
	bad.Tool.CuttingDiameter = ptr(-1.0)
	batch, err := c.EstimateAll(ctx, "metric", []wire.Cut{plain, bad}, client.Compute{})
	if fine("batch", err); err == nil && (batch.Counts.Items != 2 || batch.Items[0].Answer == nil || batch.Items[1].Problem == nil || batch.Items[1].Problem.Code != "value-out-of-range") {
		t.Errorf("batch: %+v %+v", batch.Counts, batch.Items)
	}
	_, err = c.RecommendAll(ctx, "metric", []wire.Cut{plain}, client.Compute{})
	fine("batch", err)
	_, err = c.CheckAll(ctx, "metric", []wire.SpindleCheck{checked}, client.Compute{})
	fine("batch", err)
	_, err = c.CorrectAll(ctx, "metric", []wire.CorrectionRequest{correction}, client.Compute{})
	fine("batch", err)
	_, err = c.DiagnoseAll(ctx, "metric", []wire.DiagnosisRequest{reading}, client.Compute{})
	fine("batch", err)
	askReads(t, c, fine)
	askWrites(t, c)
}

func inlineMachine() *wire.MachineRef {
	return &wire.MachineRef{Inline: &wire.Machine{ID: "vmc-1", Units: "metric", Process: "milling", Spindle: &wire.Spindle{MaxSpeed: ptr(8000.0), Efficiency: ptr(0.9),
		Gears: []wire.Gear{{MinSpeed: ptr(0.0), MaxSpeed: ptr(8000.0), Ratings: []wire.Rating{{Rating: "S1", Power: ptr(15.0), Torque: ptr(95.0)}}}}}}}
}
