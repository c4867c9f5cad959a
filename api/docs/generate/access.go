package generate

import (
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
)

// Names of the ways to say who asks.
const (
	keyScheme  = "key"
	viewScheme = "viewToken"
)

// guard says of every operation which key it needs, what stands in the way, and that a write
// can be repeated.
func guard(doc *openapi3.T) {
	doc.Components.SecuritySchemes = openapi3.SecuritySchemes{
		// #nosec G101 -- the form of a key, not one
		keyScheme: {Value: &openapi3.SecurityScheme{Type: "http", Scheme: "bearer", BearerFormat: "swarf_<id>_<secret>_<checksum>",
			Description: "A key, in the Authorization field. Its scopes, read, compute, write, approve and admin, say what it may do."}},
		viewScheme: {Value: &openapi3.SecurityScheme{Type: "apiKey", In: "query", Name: "view_token",
			Description: "A view token, for callers that cannot set header fields, such as spreadsheets: it reads and computes by GET alone. Whoever sees the address can use it."}},
	}
	for _, r := range api.Routes() {
		operation := doc.Paths.Value(r.Path).GetOperation(r.Method)
		if r.Scope == "" {
			continue
		}
		need := openapi3.SecurityRequirements{{keyScheme: {}}}
		if r.Method == "GET" && r.Scope != "admin" {
			need = append(need, openapi3.SecurityRequirement{viewScheme: {}})
		}
		if r.Scope != "admin" { // the service may be open
			need = append(need, openapi3.SecurityRequirement{})
		}
		operation.Security = &need
		operation.Description = strings.TrimSpace(operation.Description + " Scope: " + r.Scope + ".")
		refused(doc, operation, "401", "the key is missing, or not valid", "WWW-Authenticate", "how to authenticate (RFC 6750)")
		refused(doc, operation, "403", "the key has not the scope "+r.Scope, "WWW-Authenticate", "the scope that is needed")
		refused(doc, operation, "429", "the quota of the caller is used up", "Retry-After", "seconds until it is not")
		for name, about := range map[string]string{"RateLimit": "what is left of the quota, and after how many seconds it is whole, or enough for this", "RateLimit-Policy": "the quota and its window"} {
			operation.Responses.Value("429").Value.Headers[name] = header(about)
		}
		if r.Writes || slices.Contains(later, r.Path) {
			repeatable(doc, operation, r.Writes)
		}
	}
}

// later are the batches that can be computed later, which keeps a job.
var later = []string{"/v1/estimates/batch", "/v1/recommendations/batch", "/v1/spindle-checks/batch"}

func header(about string) *openapi3.HeaderRef {
	return &openapi3.HeaderRef{Value: &openapi3.Header{Parameter: openapi3.Parameter{Description: about, Schema: openapi3.NewStringSchema().NewRef()}}}
}

// refused adds a status with a problem and a field.
func refused(doc *openapi3.T, operation *openapi3.Operation, status, about, name, says string) {
	r := openapi3.NewResponse().WithDescription(about)
	r.Content = problem(doc)
	if name != "" {
		r.Headers = openapi3.Headers{name: header(says)}
	}
	operation.Responses.Set(status, &openapi3.ResponseRef{Value: r})
}

// repeatable says that the write may carry an Idempotency-Key.
func repeatable(doc *openapi3.T, operation *openapi3.Operation, always bool) {
	about := "a key of the caller's own, 1 to 255 ASCII characters, quoted or bare: the same request with it is done once, and its answer repeated for a day (as the service is set) with Idempotency-Replayed: true; an answer of 5xx is not kept"
	if !always {
		about = "with Prefer: respond-async, which keeps a job: " + about
	}
	p := openapi3.NewHeaderParameter("Idempotency-Key").WithDescription(about).WithSchema(openapi3.NewStringSchema())
	operation.Parameters = append(operation.Parameters, &openapi3.ParameterRef{Value: p})
	for status, about := range map[string]string{"400": "cannot be read", "409": "the first request with this Idempotency-Key is still at work", "422": "the Idempotency-Key was used for another request"} {
		if have := operation.Responses.Value(status); have == nil {
			refused(doc, operation, status, about, "", "")
		} else if status != "400" {
			text := *have.Value.Description + "; or " + about
			have.Value.Description = &text
		}
	}
	for status, have := range operation.Responses.Map() {
		if strings.HasPrefix(status, "2") {
			have.Value.Headers["Idempotency-Replayed"] = header("true where the answer was kept from before")
		}
	}
}
