package api_test

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"testing"
)

// discard is a response writer that keeps nothing but the status.
type discard struct {
	header http.Header
	status int
}

func (d *discard) Header() http.Header         { return d.header }
func (d *discard) Write(b []byte) (int, error) { return len(b), nil }
func (d *discard) WriteHeader(status int)      { d.status = status }

func BenchmarkEstimateHandler(b *testing.B) {
	handler := embeddedService(b)
	body := []byte(benchBody)
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodPost, "/v1/estimates", bytes.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := &discard{header: http.Header{}}
		handler.ServeHTTP(w, r)
		if w.status != http.StatusOK {
			b.Fatal(w.status)
		}
	}
}

const benchBody = `{"units":"metric","material":{"grade":"1.4301","condition":"annealed"},"operation":"face-milling",
"tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":2,"radial_width":60},
"parameters":{"cutting_speed":150,"feed_per_tooth":0.15},"machine":"vmc-50"}`
