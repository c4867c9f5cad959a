package api

import (
	"net/http"
	"strings"
)

// Links of most answers, made once (RFC 8631, RFC 9727).
var (
	descriptionLink = []string{`</openapi.json>; rel="service-desc"; type="application/json"`}
	serviceLinks    = []string{`</openapi.json>; rel="service-desc"; type="application/json", </docs>; rel="service-doc"; type="text/html", ` +
		`</readyz>; rel="status", </.well-known/api-catalog>; rel="api-catalog"`}
)

// standing links every answer of a route: to the description of the service, and of a
// record to the list it stands in (RFC 6573).
func (r *route) standing() []string {
	switch {
	case r.kind == operating:
		return serviceLinks
	case r.kind == documenting && !strings.HasPrefix(r.path, "/problems") && !strings.HasPrefix(r.path, "/.well-known/"):
		return nil // pages of others
	}
	list, last, _ := cutLast(r.path)
	if last == "{id}" && r.method == http.MethodGet {
		return []string{descriptionLink[0] + ", <" + list + `>; rel="collection"`}
	}
	return descriptionLink
}

// cutLast splits a path before its last part.
func cutLast(path string) (before, last string, found bool) {
	at := strings.LastIndexByte(path, '/')
	if at < 0 {
		return path, "", false
	}
	return path[:at], path[at+1:], true
}

// link adds a link to the answer (RFC 8288); all stand in one field, which every caller
// reads.
func (x *exchange) link(target, relation string) {
	text := "<" + target + `>; rel="` + relation + `"`
	h := x.Response().Header()
	if have := h.Get("Link"); have != "" {
		text = have + ", " + text
	}
	h["Link"] = []string{text}
}
