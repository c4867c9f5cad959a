// Package docs holds the published OpenAPI document and the page that shows it. The
// document is generated from the comments and types of package api by package
// generate beside it; neither is edited by hand. The page is Swagger UI, embedded: it
// loads nothing from elsewhere. Beside it stands a page of worked examples without scripts.
package docs

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"net/http"
	"path"
	"strings"
	"time"

	"swarf/api/page"
)

//go:embed openapi.json
var document []byte

//go:embed ui/index.html ui/initializer.js ui/swagger-ui.css ui/swagger-ui-bundle.js ui/favicon-32x32.png
var ui embed.FS

// Policy is the content security policy of the page: own scripts only, none inline;
// Swagger UI sets styles of its own.
const Policy = "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'"

// Page is one path and what answers it.
type Page struct {
	Path    string
	Handler http.Handler
	Policy  string
}

// Pages are the document and the page with its parts.
func Pages() []Page {
	return []Page{
		{Path: "/openapi.json", Handler: file(document, "application/json; charset=utf-8")},
		{Path: "/docs", Handler: part("index.html"), Policy: Policy},
		{Path: "/docs/examples", Handler: file(examplesPage(), contentTypes[".html"]), Policy: page.Policy},
		{Path: "/docs/initializer.js", Handler: part("initializer.js"), Policy: Policy},
		{Path: "/docs/swagger-ui.css", Handler: part("swagger-ui.css"), Policy: Policy},
		{Path: "/docs/swagger-ui-bundle.js", Handler: part("swagger-ui-bundle.js"), Policy: Policy},
		{Path: "/docs/favicon-32x32.png", Handler: part("favicon-32x32.png"), Policy: Policy},
	}
}

// Document is the OpenAPI document.
func Document() []byte { return bytes.Clone(document) }

var contentTypes = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".css": "text/css; charset=utf-8", ".png": "image/png",
}

// part serves one file of the page.
func part(name string) http.Handler {
	content, err := ui.ReadFile("ui/" + name)
	if err != nil {
		panic(err) // the file is named in the embed line above
	}
	return file(content, contentTypes[path.Ext(name)])
}

// file serves bytes that never change while the process runs, with a tag.
func file(content []byte, contentType string) http.Handler {
	sum := sha256.Sum256(content)
	tag := `"` + hex.EncodeToString(sum[:12]) + `"`
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", contentType)
		w.Header().Set("ETag", tag)
		w.Header().Set("Cache-Control", "no-cache")
		http.ServeContent(w, r, strings.TrimPrefix(r.URL.Path, "/"), time.Time{}, bytes.NewReader(content))
	})
}
