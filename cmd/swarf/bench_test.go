package main

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"swarf/api"
)

// BenchmarkEstimate is one POST /v1/estimates through the whole of the service but
// the network: where the time of an answer goes, with -cpuprofile.
func BenchmarkEstimate(b *testing.B) {
	config, err := parseConfig(nil)
	if err != nil {
		b.Fatal(err)
	}
	var options api.Options
	stop, err := (&program{config: config}).source(b.Context(), &options)
	if err != nil {
		b.Fatal(err)
	}
	defer stop()
	handler := api.New(options).Handler()
	const body = `{"units":"metric","material":{"grade":"1.4301"},"operation":"face-milling",
"tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6,"cutting_edge_angle":45},
"engagement":{"axial_depth":3,"radial_width":55},"parameters":{"cutting_speed":180,"feed_per_tooth":0.2}}`
	b.ReportAllocs()
	for b.Loop() {
		request := httptest.NewRequest(http.MethodPost, "/v1/estimates", strings.NewReader(body))
		request.Header.Set("Content-Type", "application/json")
		answer := httptest.NewRecorder()
		handler.ServeHTTP(answer, request)
		if answer.Code != http.StatusOK {
			b.Fatal(answer.Body)
		}
	}
}
