package api

import (
	"go.opentelemetry.io/otel/attribute"
	otelcodes "go.opentelemetry.io/otel/codes"
	"go.opentelemetry.io/otel/trace"
)

// trace gives the span of the request, if there is one, the name of its route and what the
// log line says.
func (x *exchange) trace() {
	span := trace.SpanFromContext(x.Request().Context())
	if !span.IsRecording() {
		return
	}
	route := "none"
	if x.route != nil {
		route = x.route.path
	}
	span.SetName(x.Request().Method + " " + route)
	span.SetAttributes(attribute.String("http.route", route), attribute.String("swarf.request_id", x.id), attribute.Int("swarf.findings", x.findings))
	if x.snap != nil {
		span.SetAttributes(attribute.Int64("swarf.data_revision", x.snap.Revision))
	}
	if x.cause != nil {
		span.SetStatus(otelcodes.Error, "")
		span.RecordError(x.cause)
	}
}
