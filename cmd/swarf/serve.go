package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"runtime/debug"
	"time"

	"swarf/api"
	"swarf/api/docs"
	"swarf/api/gate"
	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// serve answers HTTP from the embedded data, or from PostgreSQL where DATABASE_URL
// names one, until its context ends. Then it stops being ready, waits, lets requests
// under way end and closes.
func serve(ctx context.Context, p *program, args []string) error {
	if err := parse(p.flags("serve"), args); err != nil {
		return err
	}
	calmCollector()
	need, err := p.config.requirement()
	secured, wrong := p.tls()
	if err := errors.Join(err, wrong, p.databaseNamed()); err != nil {
		return err
	}
	gate.Spare()
	registry := newRegistry()
	options := api.Options{Logger: p.log, ModelVersion: estimate.ModelVersion, Build: build(), Extra: pages(), Metrics: registry, Require: need, Limits: api.Limits{HeldBytes: int64(p.config.WorkMemory) << 20},
		KeyQuota: api.Quota{Units: p.config.RateLimit, Window: time.Minute}, OpenQuota: api.Quota{Units: p.config.RateLimitOpen, Window: time.Minute}}
	if p.traces, err = p.newTraces(ctx); err != nil {
		return err
	}
	defer p.traces.stop()
	stop, err := p.source(ctx, &options)
	if err != nil {
		return err
	}
	defer stop()
	close, err := p.private(registry)
	if err != nil {
		return err
	}
	defer close()
	listener, err := net.Listen("tcp", p.config.Listen)
	if err != nil {
		return fmt.Errorf("%w; choose another address with SWARF_LISTEN", err)
	}
	server := api.New(options)
	p.server.Store(server)
	front := server.HTTPServer(p.config.Listen)
	front.Handler = p.traces.around(front.Handler)
	front.TLSConfig = secured
	ended := make(chan error, 1)
	go func() { ended <- serveOn(front, listener) }()
	p.greet(options, listener.Addr().String())
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	return p.drain(server, front)
}

// serveOn serves https where certificates are set, else http.
func serveOn(front *http.Server, listener net.Listener) error {
	if front.TLSConfig != nil {
		return front.ServeTLS(listener, "", "")
	}
	return front.Serve(listener)
}

// pages are the document of the routes and the page that shows it.
func pages() []api.Page {
	var list []api.Page
	for _, page := range docs.Pages() {
		list = append(list, api.Page{Path: page.Path, Handler: page.Handler, ContentSecurityPolicy: page.Policy})
	}
	return list
}

// calmCollector lets the heap grow further before it is cleaned than Go would, unless
// GOGC says otherwise: the snapshot is small and every request leaves some litter.
// Further still costs more in fresh memory than it saves; deploy/bench shows both.
func calmCollector() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(200)
	}
}

// source fills in where the data comes from. The function it returns lets go of it.
func (p *program) source(ctx context.Context, options *api.Options) (stop func(), err error) {
	if p.config.DatabaseURL != "" {
		return p.database(ctx, options)
	}
	embedded, err := data.Embedded()
	if err != nil {
		return nil, fmt.Errorf("the embedded data: %w", err)
	}
	snap, err := catalog.New(embedded)
	if err != nil {
		return nil, fmt.Errorf("the embedded data: %w", err)
	}
	options.Mode = api.Embedded
	options.Snapshots = func() *catalog.Snapshot { return snap }
	return func() {}, nil
}

// drain shuts the service down so that no caller loses an answer: those who ask for
// readiness go elsewhere first.
func (p *program) drain(server *api.Server, front *http.Server) error {
	p.log.Info("stopping", "wait", p.config.ShutdownWait, "limit", p.config.ShutdownLimit)
	server.Drain()
	time.Sleep(p.config.ShutdownWait)
	ctx, cancel := context.WithTimeout(context.Background(), p.config.ShutdownLimit)
	defer cancel()
	if err := front.Shutdown(ctx); err != nil {
		return errors.Join(fmt.Errorf("requests did not end within %v: %w", p.config.ShutdownLimit, err), front.Close())
	}
	p.log.Info("stopped")
	return nil
}

// greet prints where the service is and what to try.
func (p *program) greet(options api.Options, address string) {
	what := "the embedded reference data, read-only (DATABASE_URL names a PostgreSQL to keep your own)"
	if options.Mode == api.PostgreSQL {
		what = "data from PostgreSQL"
	}
	at := "http://" + reachable(address)
	if p.config.TLSCert != "" {
		at = "https://" + reachable(address)
	}
	fmt.Fprintf(p.out, "swarf serves %s\non %s. To try it:\n\n", what, at)
	for _, query := range tries {
		fmt.Fprintf(p.out, "  curl '%s%s'\n", at, query)
	}
	if options.Require == api.KeysAlways {
		fmt.Fprintf(p.out, "\nRequests need a key (SWARF_KEYS): swarf key make prints one, to be sent with curl -H 'Authorization: Bearer swarf_…'\n")
	}
	fmt.Fprintf(p.out, "\nAll routes, to try in a browser: %s/docs\n", at)
}

// tries are requests worth a first look: what a grade is, what a cut loads, what to run.
var tries = []string{
	"/v1/materials?q=1.4301",
	"/v1/estimates?units=metric&grade=1.4301&operation=drilling&class=drill-indexable&cutting_diameter=30&effective_edges=1&hole_depth=60&through=true&cutting_speed=150&feed_per_revolution=0.12&format=text",
	"/v1/recommendations?units=inch&grade=A96061&operation=slot-milling&class=mill-end&cutting_diameter=0.5&effective_edges=3&axial_depth=0.25&format=text",
}
