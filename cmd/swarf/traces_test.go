package main

import (
	"encoding/hex"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	collector "go.opentelemetry.io/proto/otlp/collector/trace/v1"
	trace "go.opentelemetry.io/proto/otlp/trace/v1"
	"google.golang.org/protobuf/proto"

	"swarf/db/dbtest"
)

// collecting is a collector that keeps every span it is sent.
func collecting(t *testing.T) (address string, spans func() []*trace.Span) {
	t.Helper()
	var mu sync.Mutex
	var all []*trace.Span
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, err := io.ReadAll(r.Body)
		var sent collector.ExportTraceServiceRequest
		if err == nil {
			err = proto.Unmarshal(body, &sent)
		}
		if err != nil || r.URL.Path != "/v1/traces" {
			t.Errorf("%s: %v", r.URL.Path, err)
		}
		mu.Lock()
		defer mu.Unlock()
		for _, resource := range sent.ResourceSpans {
			for _, scope := range resource.ScopeSpans {
				all = append(all, scope.Spans...)
			}
		}
	}))
	t.Cleanup(server.Close)
	return server.URL, func() []*trace.Span { mu.Lock(); defer mu.Unlock(); return all }
}

// A request is a span under its route, part of the caller's trace, with its statements under
// it; what was asked and the database's password are in none.
func TestTraces(t *testing.T) {
	address, spans := collecting(t)
	s := startService(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)), "SWARF_TRACES_URL="+address, "SWARF_TRACES_SHARE=1")
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	const id = "0af7651916cd43dd8448eb211c80319c"
	status, header, _ := call(t, http.MethodGet, s.address+"/v1/materials/x5crni18-10?units=metric", "", "traceparent", "00-"+id+"-b7ad6b7169203331-01")
	if status != http.StatusOK {
		t.Fatal(status)
	}
	get(t, s.address+"/v1/changes?limit=1")
	s.stop()
	names := map[string]int{}
	for _, span := range spans() {
		names[span.Name]++
		var text strings.Builder
		for _, a := range span.Attributes {
			text.WriteString(a.Key + "=" + a.Value.String() + " ")
		}
		if span.Name == "GET /v1/materials/{id}" {
			if got := strings.ReplaceAll(text.String(), `"`, ""); !strings.Contains(got, header.Get("X-Request-Id")) || !strings.Contains(got, "http.route=") || !strings.Contains(got, "swarf.data_revision") {
				t.Errorf("the span says %s", got)
			}
			if hex.EncodeToString(span.TraceId) != id {
				t.Errorf("trace %s is not the caller's", hex.EncodeToString(span.TraceId))
			}
		}
		if strings.Contains(text.String(), "password") {
			t.Errorf("%s: %s", span.Name, text.String())
		}
	}
	if names["GET /v1/materials/{id}"] != 1 || names["GET /v1/changes"] != 1 || names["query SELECT"]+names["SELECT"] == 0 {
		t.Errorf("spans: %v", names)
	}
}

// Without a setting nothing is traced, and a collector that is away costs no answers.
func TestTracesAreOff(t *testing.T) {
	if got, err := (&program{}).newTraces(t.Context()); got != nil || err != nil {
		t.Errorf("%v, %v", got, err)
	}
	s := startService(t, "SWARF_TRACES_URL=http://127.0.0.1:1", "SWARF_TRACES_SHARE=1")
	for range 20 {
		mustGet(t, s.address+"/v1/materials?limit=1")
	}
}
