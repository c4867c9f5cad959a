package api_test

import (
	"net/http"
	"strings"
	"time"

	"swarf/api"
	"swarf/domain/catalog"
)

// keys walks a key through its life, with everything that can go wrong.
func (w *witness) keys(embedded http.Handler) {
	w.t.Helper()
	keys := newKeys()
	shop := newShop(w.t)
	h := shop.handlerOf(api.Options{Keys: keys})
	small := shop.handlerOf(api.Options{Keys: keys, Limits: api.Limits{BodyBytes: 5}})
	empty := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return nil }, Keys: keys}).Handler()
	admin := keys.make(w.t, "admin", false, "admin")
	const list = "/v1/keys"
	body := exampleBody(w.t, w.doc.Paths.Value(list).Post)
	w.ask(h, "POST", list+"?validate_only=true", body, asJSON, admin)
	made := w.ask(h, "POST", list, body, asJSON, admin)
	one := "/v1/keys/" + member2(made.doc, "id").(string)
	w.ask(h, "POST", list, body, asJSON, admin)
	w.ask(h, "POST", list, `{"name":"text","scopes":["read"]}`, asJSON, admin, "Accept: text/plain")
	for _, at := range []string{list, one} {
		w.askFormats(h, "GET", at, "", []string{admin}, w.doc.Paths.Value(strings.Replace(at, one, "/v1/keys/{id}", 1)).Get)
		w.ask(h, "GET", at, "", admin, "If-None-Match: *")
	}
	w.ask(h, "GET", list+"?state=lost", "", admin)
	w.ask(h, "GET", "/v1/keys/nobody", "", admin)
	steps := []string{one + "/rotation", one + "/revocation"}
	for _, at := range append([]string{list}, steps...) {
		w.ask(h, "POST", at, `{"colour":"red"}`, asJSON, admin)
		w.ask(h, "POST", at, body, admin)
		w.ask(h, "POST", at, `{"reason":"`+strings.Repeat("x", 600)+`"}`, asJSON, admin)
		w.ask(small, "POST", at, body, asJSON, admin)
	}
	for method, targets := range map[string][]string{"GET": {list, one}, "POST": append([]string{list}, steps...)} {
		for _, at := range targets {
			w.ask(embedded, method, at, "{}", asJSON)
			w.ask(empty, method, at, `{"name":"x","scopes":["read"]}`, asJSON, admin)
			w.ask(empty, method, at, "{}", asJSON, admin)
			w.ask(h, method, at+"?nonsense=1", "{}", asJSON, admin)
			w.ask(h, method, at, "{}", asJSON, admin, "Accept: image/webp")
		}
	}
	for range 2 { // the second would be the third secret
		w.ask(h, "POST", steps[0], exampleBody(w.t, w.doc.Paths.Value("/v1/keys/{id}/rotation").Post), asJSON, admin)
	}
	w.ask(h, "POST", steps[1], exampleBody(w.t, w.doc.Paths.Value("/v1/keys/{id}/revocation").Post), asJSON, admin)
	for _, step := range []string{"rotation", "revocation"} {
		w.ask(h, "POST", "/v1/keys/nobody/"+step, "{}", asJSON, admin)
	}
}

// guarded asks every route without a key, with one of another scope, over its quota, and
// with an Idempotency-Key that is busy, used or none.
func (w *witness) guarded() {
	w.t.Helper()
	keys, answers := newKeys(), newAnswers()
	always := newShop(w.t).handlerOf(api.Options{Keys: keys, Require: api.KeysAlways, Answers: answers})
	counted := newShop(w.t).handlerOf(api.Options{Keys: keys, OpenQuota: api.Quota{Units: 1, Window: time.Hour}})
	all := keys.make(w.t, "all", false, "read", "compute", "write", "approve", "admin")
	call(w.t, counted, "GET", "/v1/sources", "")
	for _, r := range api.Routes() {
		if r.Scope == "" {
			continue
		}
		other := "read"
		if r.Scope == other {
			other = "write"
		}
		name := r.Method + " " + r.Path
		w.ask(always, r.Method, targetOf(r), "", asJSON)
		w.ask(always, r.Method, targetOf(r), "", asJSON, keys.make(w.t, name, false, other))
		w.ask(counted, r.Method, targetOf(r), "", asJSON)
		if w.doc.Paths.Value(r.Path).GetOperation(r.Method).Parameters.GetByInAndName("header", "Idempotency-Key") == nil {
			continue
		}
		headers := []string{asJSON, all, "Prefer: respond-async"}
		w.ask(always, r.Method, targetOf(r), "", append(headers, `Idempotency-Key: "`)...)
		for _, body := range []string{"", "{"} {
			w.ask(always, r.Method, targetOf(r), body, append(headers, "Idempotency-Key: "+name)...)
		}
		answers.busy = true
		w.ask(always, r.Method, targetOf(r), "", append(headers, "Idempotency-Key: "+name)...)
		answers.busy = false
	}
}
