package generate

import (
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
)

// An operation whose row goes is marked, with its headers in every answer.
func TestWhatGoesIsMarked(t *testing.T) {
	o := openapi3.NewOperation()
	o.Responses = openapi3.NewResponses(openapi3.WithStatus(200, &openapi3.ResponseRef{Value: openapi3.NewResponse()}), openapi3.WithStatus(404, &openapi3.ResponseRef{Value: openapi3.NewResponse()}))
	retire(o, api.RouteInfo{})
	if o.Deprecated || len(o.Responses.Value("200").Value.Headers) > 0 {
		t.Error("what stays is marked")
	}
	retire(o, api.RouteInfo{Retired: &api.Retirement{Deprecation: "@1772323200", Sunset: "Tue, 01 Sep 2026 00:00:00 GMT"}})
	for _, code := range []string{"200", "404"} {
		h := o.Responses.Value(code).Value.Headers
		if !o.Deprecated || h["Deprecation"] == nil || h["Sunset"] == nil {
			t.Errorf("%s: %v", code, h)
		}
	}
}
