package api

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/prometheus/client_golang/prometheus"

	"swarf/domain"
	"swarf/domain/material"
)

// metrics counts what a server does, for Prometheus. Names and labels of requests are
// those of OpenTelemetry's conventions for HTTP servers; a route is a pattern of the route
// table, never a path that somebody sent.
type metrics struct {
	duration *prometheus.HistogramVec
	active   prometheus.Gauge
}

// known are the methods that are counted under their own name.
var known = []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions, http.MethodPatch, http.MethodTrace, http.MethodConnect, methodQuery}

// newMetrics registers what a server counts.
func newMetrics(s *Server) *metrics {
	m := &metrics{
		duration: prometheus.NewHistogramVec(prometheus.HistogramOpts{Name: "http_server_request_duration_seconds", Help: "Time from the first byte read to the last written.",
			Buckets: []float64{.0001, .00025, .0005, .001, .0025, .005, .01, .025, .05, .1, .25, .5, 1, 2.5, 5, 10}}, []string{"http_request_method", "http_route", "http_response_status_code"}),
		active: prometheus.NewGauge(prometheus.GaugeOpts{Name: "http_server_active_requests", Help: "Requests under way."}),
	}
	gauge := func(name, help string, value func() float64) prometheus.Collector {
		return prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: name, Help: help}, value)
	}
	s.Metrics.MustRegister(m.duration, m.active, findingsTold, materialsWithout,
		gauge("swarf_data_revision", "Revision of the data that is answered from; 0 before any is loaded.", func() float64 {
			if snap := s.Snapshots(); snap != nil {
				return float64(snap.Revision)
			}
			return 0
		}),
		gauge("swarf_data_age_seconds", "Time since the database was last heard of; 0 while it is.", func() float64 {
			if d := s.degraded(); d != nil {
				return time.Since(d.Since).Seconds()
			}
			return 0
		}),
		gauge("swarf_database_up", "1 while the database answers, and where none is used.", func() float64 {
			if s.degraded() != nil {
				return 0
			}
			return 1
		}),
		gauge("swarf_draining", "1 while the service is stopping.", func() float64 {
			if s.Draining() {
				return 1
			}
			return 0
		}))
	s.Metrics.MustRegister(s.admission.collectors()...)
	build := prometheus.NewGauge(prometheus.GaugeOpts{Name: "swarf_build_info", Help: "What is running; always 1.",
		ConstLabels: prometheus.Labels{"version": s.Build.Version, "go": s.Build.Go, "commit": s.Build.Commit, "model_version": s.ModelVersion, "mode": s.Mode}})
	build.Set(1)
	s.Metrics.MustRegister(build)
	return m
}

func (s *Server) degraded() *Degraded {
	if s.Degraded == nil {
		return nil
	}
	return s.Degraded()
}

// count counts a request that has been answered.
func (m *metrics) count(x *exchange) {
	method, route := x.Request().Method, "none"
	if !slices.Contains(known, method) {
		method = "_OTHER"
	}
	if x.route != nil {
		route = x.route.path
	}
	m.duration.WithLabelValues(method, route, strconv.Itoa(x.Response().Status)).Observe(time.Since(x.started).Seconds())
}

// What answers say is counted for the whole process: an answer does not know its server.
var (
	findingsTold     = prometheus.NewCounterVec(prometheus.CounterOpts{Name: "swarf_findings_total", Help: "Findings of answers, by code."}, []string{"code", "severity"})
	materialsWithout = prometheus.NewCounterVec(prometheus.CounterOpts{Name: "swarf_no_data_total", Help: "Cuts for which no record gave a load or a start, by group of ISO 513."}, []string{"group"})
)

// counted holds the counters of what findings there can be, so that a batch of thousands
// does not look them up by their texts.
var counted = counters{vec: findingsTold}

// tell counts findings of an answer.
func tell(list []domain.Finding) {
	for i := range list {
		counted.of(findingKey{list[i].Code, list[i].Severity}).Inc()
	}
}

// without counts a cut of a group for which there was no data.
func without(list []domain.Finding, group material.Group) {
	if slices.ContainsFunc(list, func(f domain.Finding) bool { return f.Code == "no-data" }) {
		materialsWithout.WithLabelValues(string(group)).Inc()
	}
}
