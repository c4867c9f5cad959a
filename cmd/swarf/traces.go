package main

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/exaring/otelpgx"
	"github.com/jackc/pgx/v5"
	"go.opentelemetry.io/contrib/instrumentation/net/http/otelhttp"
	"go.opentelemetry.io/otel"
	"go.opentelemetry.io/otel/attribute"
	"go.opentelemetry.io/otel/exporters/otlp/otlptrace/otlptracehttp"
	"go.opentelemetry.io/otel/propagation"
	"go.opentelemetry.io/otel/sdk/resource"
	"go.opentelemetry.io/otel/sdk/trace"
)

// traces sends spans of requests and of statements to a collector, by OTLP over HTTP.
// A nil one does nothing.
type traces struct{ provider *trace.TracerProvider }

// newTraces starts them where SWARF_TRACES_URL names a collector. A collector that is away
// costs spans, never answers.
func (p *program) newTraces(ctx context.Context) (*traces, error) {
	if p.config.TracesURL == "" {
		return nil, nil
	}
	address := p.config.TracesURL
	if at, err := url.Parse(address); err == nil && strings.Trim(at.Path, "/") == "" {
		address = at.JoinPath("v1", "traces").String()
	}
	exporter, err := otlptracehttp.New(ctx, otlptracehttp.WithEndpointURL(address), otlptracehttp.WithTimeout(5*time.Second))
	if err != nil {
		return nil, fmt.Errorf("SWARF_TRACES_URL: %w", err)
	}
	otel.SetErrorHandler(otel.ErrorHandlerFunc(func(err error) { p.log.Warn("traces are lost", "error", err) }))
	about := resource.NewSchemaless(attribute.String("service.name", "swarf"), attribute.String("service.version", build().Version))
	return &traces{trace.NewTracerProvider(trace.WithBatcher(exporter), trace.WithResource(about),
		trace.WithSampler(trace.ParentBased(trace.TraceIDRatioBased(p.config.TracesShare))))}, nil
}

// around makes a span of each request. Who calls may say by traceparent (W3C Trace Context)
// of which trace it is a part. The server gives the span the name of its route.
func (t *traces) around(h http.Handler) http.Handler {
	if t == nil {
		return h
	}
	return otelhttp.NewHandler(h, "request", otelhttp.WithTracerProvider(t.provider), otelhttp.WithPropagators(propagation.TraceContext{}))
}

// tracer makes a span of each statement; nil without traces. Values of a statement are
// never part of it.
func (t *traces) tracer() pgx.QueryTracer {
	if t == nil {
		return nil
	}
	return otelpgx.NewTracer(otelpgx.WithTracerProvider(t.provider))
}

// stop sends what is left.
func (t *traces) stop() {
	if t == nil {
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	t.provider.Shutdown(ctx)
}
