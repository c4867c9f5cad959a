package api_test

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"swarf/api"
	"swarf/domain/catalog"
)

// discard is a response writer that keeps nothing but the status.
type discard struct {
	header http.Header
	status int
}

func (d *discard) Header() http.Header         { return d.header }
func (d *discard) Write(b []byte) (int, error) { return len(b), nil }
func (d *discard) WriteHeader(status int)      { d.status = status }

func BenchmarkEstimateHandler(b *testing.B) { benchEstimate(b, embeddedService(b), "") }

// BenchmarkEstimateWithKey is the same with a key that is looked up and counted.
func BenchmarkEstimateWithKey(b *testing.B) {
	keys, snap := newKeys(), snapshotOf(b, embeddedData(b))
	key := keys.make(b, "a", false, "compute")
	handler := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, ModelVersion: "test", Keys: keys, Require: api.KeysAlways,
		KeyQuota: api.Quota{Units: 1e9, Window: time.Minute}, OpenQuota: api.Quota{Units: 60, Window: time.Minute}}).Handler()
	benchEstimate(b, handler, strings.TrimPrefix(key, "Authorization: "))
}

func benchEstimate(b *testing.B, handler http.Handler, key string) {
	body := []byte(benchBody)
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodPost, "/v1/estimates", bytes.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		if key != "" {
			r.Header.Set("Authorization", key)
		}
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
