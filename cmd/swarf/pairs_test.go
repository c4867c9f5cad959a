package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"swarf/api"
)

// embeddedHandler is the whole of the service but the network, on the embedded data.
func embeddedHandler(b *testing.B) http.Handler {
	b.Helper()
	config, err := parseConfig(nil)
	if err != nil {
		b.Fatal(err)
	}
	var options api.Options
	stop, err := (&program{config: config}).source(b.Context(), &options)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(stop)
	return api.New(options).Handler()
}

// pairs is a spindle check of so many cuts on so many machines, all of which run.
func pairs(cuts, machines int) string {
	var body strings.Builder
	body.WriteString(`{"units":"metric","cuts":[`)
	for i := range cuts {
		if i > 0 {
			body.WriteByte(',')
		}
		fmt.Fprintf(&body, `{"ref":"op-%d","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":%d.%d},"engagement":{"hole_depth":25,"through":true},"parameters":{"cutting_speed":80,"feed_per_revolution":0.15}}`, i, 6+i%8, i%10)
	}
	body.WriteString(`],"machines":[`)
	for i := range machines {
		if i > 0 {
			body.WriteByte(',')
		}
		body.WriteString([]string{`"vmc-40"`, `"vmc-50"`, `"hmc-63"`}[i%3])
	}
	body.WriteString(`]}`)
	return body.String()
}

// BenchmarkPairs is 100 cuts on 100 machines in one request, without the network.
func BenchmarkPairs(b *testing.B) {
	handler, body := embeddedHandler(b), pairs(100, 100)
	b.ReportAllocs()
	for b.Loop() {
		request := httptest.NewRequest(http.MethodPost, "/v1/spindle-checks", strings.NewReader(body))
		request.Header.Set("Content-Type", "application/json")
		answer := httptest.NewRecorder()
		handler.ServeHTTP(answer, request)
		if answer.Code != http.StatusOK {
			b.Fatal(answer.Body)
		}
		b.SetBytes(int64(answer.Body.Len()))
	}
	b.ReportMetric(float64(b.N)*10_000/b.Elapsed().Seconds(), "pairs/s")
}

// BenchmarkBatch is 10,000 distinct cuts in one batch, without the network.
func BenchmarkBatch(b *testing.B) {
	handler := embeddedHandler(b)
	var body strings.Builder
	body.WriteString(`{"units":"metric","items":[`)
	for i := range 10_000 {
		if i > 0 {
			body.WriteByte(',')
		}
		fmt.Fprintf(&body, `{"cut":{"ref":"op-%d","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":%d.%02d},"engagement":{"hole_depth":25,"through":true},"parameters":{"cutting_speed":80,"feed_per_revolution":0.15}},"machine":"vmc-50"}`, i, 6+i%8, i%100)
	}
	body.WriteString(`]}`)
	b.ReportAllocs()
	for b.Loop() {
		request := httptest.NewRequest(http.MethodPost, "/v1/spindle-checks/batch", strings.NewReader(body.String()))
		request.Header.Set("Content-Type", "application/json")
		answer := httptest.NewRecorder()
		handler.ServeHTTP(answer, request)
		if answer.Code != http.StatusOK {
			b.Fatal(answer.Body)
		}
	}
	b.ReportMetric(float64(b.N)*10_000/b.Elapsed().Seconds(), "pairs/s")
}
