package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/pprof"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// newRegistry is what is measured of the process itself.
func newRegistry() *prometheus.Registry {
	r := prometheus.NewRegistry()
	r.MustRegister(collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return r
}

// private serves those who run the service, on a port of its own: /metrics for Prometheus,
// /debug/pprof for profiles, and the health of the service for its own healthcheck. It is no part of the API and takes no keys: whoever opens
// it to a network guards it there. The function it returns ends it.
func (p *program) private(registry *prometheus.Registry) (stop func(), err error) {
	if p.config.PrivateListen == "" {
		return func() {}, nil
	}
	listener, err := net.Listen("tcp", p.config.PrivateListen)
	if err != nil {
		return nil, fmt.Errorf("%w; choose another address with SWARF_PRIVATE_LISTEN", err)
	}
	server := &http.Server{Handler: p.privateRoutes(registry), ReadHeaderTimeout: 5 * time.Second, ErrorLog: nil}
	go server.Serve(listener)
	fmt.Fprintf(p.out, "metrics and profiles, for those who run it, on %s\n", listener.Addr())
	return func() {
		ctx, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		if server.Shutdown(ctx) != nil {
			server.Close()
		}
	}, nil
}

func (p *program) privateRoutes(registry *prometheus.Registry) http.Handler {
	mux := http.NewServeMux()
	for _, path := range []string{"/healthz", "/readyz"} {
		mux.HandleFunc("GET "+path, func(w http.ResponseWriter, r *http.Request) {
			if server := p.server.Load(); server != nil {
				server.Handler().ServeHTTP(w, r)
				return
			}
			http.Error(w, "starting", http.StatusServiceUnavailable)
		})
	}
	mux.Handle("GET /metrics", promhttp.HandlerFor(registry, promhttp.HandlerOpts{MaxRequestsInFlight: 4, Timeout: 10 * time.Second}))
	mux.HandleFunc("GET /debug/pprof/", pprof.Index)
	mux.HandleFunc("GET /debug/pprof/cmdline", pprof.Cmdline)
	mux.HandleFunc("GET /debug/pprof/profile", pprof.Profile)
	mux.HandleFunc("GET /debug/pprof/symbol", pprof.Symbol)
	mux.HandleFunc("GET /debug/pprof/trace", pprof.Trace)
	return mux
}
