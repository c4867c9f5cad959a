package main

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/prometheus/client_golang/prometheus"
	dto "github.com/prometheus/client_model/go"
	"github.com/prometheus/common/expfmt"
	"github.com/prometheus/common/model"

	"swarf/db/dbtest"
	"swarf/deploy/watch"
)

var privateAddress = regexp.MustCompile(`for those who run it, on (127\.0\.0\.1:\d+)`)

// startWatched starts a service with a private port, and returns that port's address too.
func startWatched(t *testing.T, environ ...string) (s *service, private string) {
	t.Helper()
	s = startService(t, append([]string{"SWARF_PRIVATE_LISTEN=127.0.0.1:0"}, environ...)...)
	found := privateAddress.FindStringSubmatch(s.out.String())
	if found == nil {
		t.Fatalf("no private address in %s", s.out.String())
	}
	return s, "http://" + found[1]
}

// families are the metrics of a service as Prometheus reads them.
func families(t *testing.T, private string) map[string]*dto.MetricFamily {
	t.Helper()
	parser := expfmt.NewTextParser(model.LegacyValidation)
	all, err := parser.TextToMetricFamilies(strings.NewReader(mustGet(t, private+"/metrics")))
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// value is the sum over a family's metrics that have these labels; of a histogram, its count.
func value(f *dto.MetricFamily, labels prometheus.Labels) (sum float64) {
	for _, m := range f.GetMetric() {
		have := prometheus.Labels{}
		for _, l := range m.Label {
			have[l.GetName()] = l.GetValue()
		}
		fits := true
		for name, want := range labels {
			fits = fits && have[name] == want
		}
		if fits {
			sum += m.GetCounter().GetValue() + m.GetGauge().GetValue() + float64(m.GetHistogram().GetSampleCount())
		}
	}
	return sum
}

// What a service does is counted by route pattern, status, finding and group, never by what
// somebody sent.
func TestMetricsCountWhatIsDone(t *testing.T) {
	s, private := startWatched(t)
	before := families(t, private)
	const cut = "/v1/estimates?units=metric&grade=1.4301&operation=turning&class=turning-external&work_diameter=60&depth_of_cut=2&cutting_speed=140&feed_per_revolution=0.02"
	for range 3 {
		mustGet(t, s.address+cut)
	}
	get(t, s.address+"/v1/materials/no-such-thing")
	get(t, s.address+"/no/such/route")
	call(t, "BREW", s.address+"/v1/estimates", "")
	get(t, s.address+"/v1/estimates?units=metric&grade=PVDF&operation=turning&class=turning-external&work_diameter=60&depth_of_cut=2&cutting_speed=140&feed_per_revolution=0.2")
	after := families(t, private)
	grown := func(name string, labels prometheus.Labels) float64 {
		return value(after[name], labels) - value(before[name], labels)
	}
	const duration = "http_server_request_duration_seconds"
	for name, c := range map[string]struct {
		family string
		labels prometheus.Labels
		want   float64
	}{
		"estimates":         {duration, prometheus.Labels{"http_request_method": "GET", "http_route": "/v1/estimates", "http_response_status_code": "200"}, 4},
		"a missing grade":   {duration, prometheus.Labels{"http_route": "/v1/materials/{id}", "http_response_status_code": "404"}, 1},
		"no route":          {duration, prometheus.Labels{"http_route": "none", "http_response_status_code": "404"}, 1},
		"an unheard method": {duration, prometheus.Labels{"http_request_method": "_OTHER"}, 1},
		"thin chips":        {"swarf_findings_total", prometheus.Labels{"code": "chip-too-thin"}, 3},
		"a plastic":         {"swarf_no_data_total", prometheus.Labels{"group": "O"}, 1},
		"a plastic's hold":  {"swarf_findings_total", prometheus.Labels{"code": "no-data"}, 1},
	} {
		if got := grown(c.family, c.labels); got != c.want {
			t.Errorf("%s: counted %v times, not %v", name, got, c.want)
		}
	}
	for name, want := range map[string]float64{"swarf_data_revision": 1, "swarf_database_up": 1, "swarf_data_age_seconds": 0, "swarf_build_info": 1, "http_server_active_requests": 0, "swarf_draining": 0} {
		if got := value(after[name], nil); got != want {
			t.Errorf("%s is %v, not %v", name, got, want)
		}
	}
	for _, f := range after {
		for _, m := range f.Metric {
			for _, l := range m.Label {
				if strings.Contains(l.GetValue(), "no-such") || strings.Contains(l.GetValue(), "BREW") {
					t.Errorf("%s has what was sent: %v", f.GetName(), l)
				}
			}
		}
	}
}

// Profiles are served on the private port and there alone.
func TestPrivateRoutesArePrivate(t *testing.T) {
	s, private := startWatched(t)
	for _, path := range []string{"/metrics", "/debug/pprof/", "/debug/pprof/heap"} {
		if status, _ := get(t, private+path); status != http.StatusOK {
			t.Errorf("%s on the private port: %d", path, status)
		}
		if status, _ := get(t, s.address+path); status != http.StatusNotFound {
			t.Errorf("%s on the public port: %d", path, status)
		}
	}
	if status, body := get(t, private+"/readyz"); status != http.StatusOK || !strings.Contains(body, "ready") {
		t.Errorf("/readyz on the private port: %d %s", status, body)
	}
	if status, _ := get(t, private+"/v1/materials"); status != http.StatusNotFound {
		t.Errorf("the API on the private port: %d", status)
	}
}

// The rules and the dashboard ask for metrics and labels that a service with a database has.
func TestWhatIsWatchedIsThere(t *testing.T) {
	s, private := startWatched(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)))
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	get(t, s.address+"/v1/estimates?units=metric&grade=PVDF&operation=turning&class=turning-external&work_diameter=60&depth_of_cut=2&cutting_speed=140&feed_per_revolution=0.2")
	have := map[string]map[string]bool{"up": {"job": true, "instance": true}}
	for name, f := range families(t, private) {
		labels := map[string]bool{"job": true, "instance": true, "le": f.GetType() == dto.MetricType_HISTOGRAM}
		for _, m := range f.Metric {
			for _, l := range m.Label {
				labels[l.GetName()] = true
			}
		}
		have[name] = labels
		if f.GetType() == dto.MetricType_HISTOGRAM {
			have[name+"_bucket"], have[name+"_count"], have[name+"_sum"] = labels, labels, labels
		}
	}
	asked := watch.Asked(t)
	if len(asked) < 30 {
		t.Fatalf("only %d expressions", len(asked))
	}
	for _, a := range asked {
		for name, labels := range a.Metrics {
			if have[name] == nil {
				t.Errorf("%s asks for %s, which there is not", a.Where, name)
			}
			for _, l := range labels {
				if have[name] != nil && !have[name][l] {
					t.Errorf("%s asks for the label %s of %s, which there is not", a.Where, l, name)
				}
			}
		}
	}
}
