package api

import "net/http"

// linkset is the catalogue of what is served here (RFC 9727) as a set of links (RFC 9264).
// Its targets are relative, so that they hold behind any proxy.
type linkset struct {
	Linkset []linkContext `json:"linkset"`
}

// linkContext is one API and what describes it.
type linkContext struct {
	Anchor      string       `json:"anchor"`
	Description []linkTarget `json:"service-desc"`
	Document    []linkTarget `json:"service-doc"`
	Status      []linkTarget `json:"status"`
	Meta        []linkTarget `json:"service-meta"`
}

// linkTarget is one end of a link.
type linkTarget struct {
	Href  string `json:"href"`
	Type  string `json:"type"`
	Title string `json:"title"`
}

// catalogueType is the media type of the catalogue, with the profile that says it is one.
const catalogueType = `application/linkset+json; profile="https://www.rfc-editor.org/info/rfc9727"`

// getCatalogue answers GET /.well-known/api-catalog.
func getCatalogue(x *exchange) error {
	x.link("/.well-known/api-catalog", "api-catalog")
	set := linkset{[]linkContext{{
		Anchor:      "/v1/",
		Description: []linkTarget{{"/openapi.json", "application/json", "OpenAPI 3.0.3"}},
		Document:    []linkTarget{{"/docs", "text/html", "the routes, to try in a browser"}, {"/problems", "text/html", "every kind of problem"}},
		Status:      []linkTarget{{"/readyz", "application/json", "whether data is loaded"}},
		Meta:        []linkTarget{{"/version", "application/json", "what runs"}},
	}}}
	return x.plainJSON(http.StatusOK, catalogueType, set)
}
