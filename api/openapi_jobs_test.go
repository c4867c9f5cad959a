package api_test

import "net/http"

// jobs walks batches that are computed later through everything that can go wrong.
func (w *witness) jobs(embedded http.Handler) {
	w.t.Helper()
	shop := newShop(w.t)
	h := shop.handler()
	for _, at := range []string{"/v1/estimates/batch", "/v1/recommendations/batch", "/v1/spindle-checks/batch"} {
		w.ask(h, "POST", at, exampleBody(w.t, w.doc.Paths.Value(at).Post), asJSON, "Prefer: wait=5, respond-async", "From: ann")
	}
	const list, one, result = "/v1/jobs", "/v1/jobs/1", "/v1/jobs/1/result"
	w.ask(h, "GET", result, "")
	shop.work()
	w.askFormats(h, "GET", list, "", nil, w.doc.Paths.Value(list).Get)
	w.askFormats(h, "GET", one, "", nil, w.doc.Paths.Value("/v1/jobs/{id}").Get)
	w.askFormats(h, "GET", result, "", nil, w.doc.Paths.Value("/v1/jobs/{id}/result").Get)
	w.ask(h, "DELETE", one, "")
	w.ask(h, "GET", list+"?limit=no", "")
	w.ask(h, "GET", list+"?limit=0", "")
	for _, at := range []string{list, one} {
		w.ask(h, "GET", at, "", "If-None-Match: *")
	}
	for method, targets := range map[string][]string{"GET": {list, one, result}, "DELETE": {one}} {
		for _, at := range targets {
			w.ask(embedded, method, at, "")
			w.ask(h, method, at+"?nonsense=1", "")
			w.ask(h, method, at, "", "Accept: image/webp")
			if at != list {
				w.ask(h, method, "/v1/jobs/9"+at[len(one):], "")
			}
		}
	}
}
