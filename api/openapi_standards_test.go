package api_test

import (
	"net/http"
	"strings"

	"swarf/api"
	"swarf/domain/catalog"
)

const asXML = "Content-Type: application/xml"

// assets walks a cutting tool asset through everything that can go wrong.
func (w *witness) assets(h http.Handler) {
	w.t.Helper()
	post := w.doc.Paths.Value("/v1/tool-assets").Post
	at := exampleTarget("/v1/tool-assets", post)
	body := post.RequestBody.Value.Content["application/xml"].Example.(string)
	snap := snapshotOf(w.t, embeddedData(w.t))
	empty := serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return nil }})
	small := serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, Limits: api.Limits{BodyBytes: 20}})
	for media := range post.RequestBody.Value.Content {
		w.askFormats(h, "POST", at, body, []string{"Content-Type: " + media}, post)
	}
	w.ask(empty, "POST", at, body, asXML)
	w.ask(small, "POST", at, body, asXML)
	w.ask(h, "POST", at, body, asJSON)
	w.ask(h, "POST", at, body, asXML, "Accept: image/webp")
	w.ask(h, "POST", at, "<CuttingTool", asXML)
	w.ask(h, "POST", at+"&nonsense=1", body, asXML)
	w.ask(h, "POST", at+"&as_of=999", body, asXML)
	w.ask(h, "POST", "/v1/tool-assets", body, asXML)
	w.ask(h, "POST", at, strings.Replace(body, ">12<", ">twelve<", 1), asXML)
}
