package api_test

import (
	"net/http"
	"strings"

	"swarf/api"
	"swarf/domain/catalog"
)

// stored reports a route of records or kept cuts, which need a store, or whose body is a
// document of its own: they are walked by themselves.
func stored(template string) bool {
	return strings.HasPrefix(template, "/v1/records") || strings.HasPrefix(template, "/v1/cuts") ||
		strings.HasPrefix(template, "/v1/observations") || strings.HasPrefix(template, "/v1/calibrations") ||
		strings.HasPrefix(template, "/v1/imports") || strings.HasPrefix(template, "/v1/jobs") || strings.HasPrefix(template, "/v1/keys") ||
		template == "/v1/tool-assets" // whose body is no JSON
}

// records walks a record and a kept cut through their lives, with everything that can go
// wrong.
func (w *witness) records(embedded http.Handler) {
	w.t.Helper()
	shop := newShop(w.t)
	h := shop.handler()
	empty := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return nil }, Store: newShop(w.t)}).Handler()
	small := newShop(w.t).handlerWith(api.Limits{BodyBytes: 20})
	for _, at := range []string{"/v1/records/kc-own", "/v1/cuts/op-10"} {
		item := w.doc.Paths.Value(at[:strings.LastIndex(at, "/")] + "/{id}")
		body := exampleBody(w.t, item.Put)
		w.ask(embedded, "PUT", at, body, asJSON, "If-None-Match: *")
		w.ask(empty, "GET", at, "")
		made := w.ask(h, "PUT", at, body, asJSON, "If-None-Match: *", "From: ann")
		tag := "If-Match: " + made.header.Get("ETag")
		w.ask(h, "PUT", at, body, asJSON, tag, "From: ann", "Accept: text/plain")
		w.ask(h, "PUT", at, body, asJSON, "If-None-Match: *")
		w.ask(h, "PUT", at, body, asJSON)
		w.ask(h, "PUT", at, body, "If-Match: *")
		w.ask(h, "PUT", at, body, asJSON, "If-Match: *", "Accept: image/webp")
		w.ask(h, "PUT", at, `{"colour":"red"}`, asJSON, "If-Match: *")
		w.ask(h, "PUT", at[:strings.LastIndex(at, "/")]+"/-bad", body, asJSON, "If-None-Match: *")
		w.ask(small, "PUT", at, body, asJSON, "If-None-Match: *")
	}
	for path, item := range map[string]string{"/v1/records": "/v1/records", "/v1/records/kc-own": "/v1/records/{id}", "/v1/records/kc-own/impact": "/v1/records/{id}/impact", "/v1/cuts": "/v1/cuts", "/v1/cuts/op-10": "/v1/cuts/{id}"} {
		w.askFormats(h, "GET", path, "", nil, w.doc.Paths.Value(item).Get)
		w.ask(h, "GET", path, "", "If-None-Match: *")
		w.ask(h, "GET", path+"?nonsense=1", "")
		w.ask(h, "GET", path+"?as_of=999", "")
		w.ask(h, "GET", path, "", "Accept: image/webp")
		w.ask(empty, "GET", path, "")
		w.ask(h, "GET", strings.NewReplacer("kc-own", "no-such", "op-10", "no-such").Replace(path), "")
	}
	for _, step := range []string{"approval", "withdrawal"} {
		at := "/v1/records/kc-own/" + step
		body := exampleBody(w.t, w.doc.Paths.Value("/v1/records/{id}/"+step).Post)
		w.ask(embedded, "POST", at, body, asJSON, "From: bob")
		w.ask(h, "POST", at, body, asJSON)
		w.ask(h, "POST", at, body, asJSON, "From: "+strings.Repeat("x", 600))
		w.ask(h, "POST", at, body, "From: bob")
		w.ask(h, "POST", at, body, asJSON, "From: bob", "Accept: image/webp")
		w.ask(small, "POST", at, body, asJSON, "From: bob")
		w.ask(h, "POST", strings.Replace(at, "kc-own", "no-such", 1), body, asJSON, "From: bob")
		w.ask(h, "POST", at, body, asJSON, "From: bob")
		w.ask(h, "POST", at, body, asJSON, "From: bob")
	}
	w.ask(h, "PUT", "/v1/records/kc-own", exampleBody(w.t, w.doc.Paths.Value("/v1/records/{id}").Put), asJSON, "If-Match: *")

	const cut = "/v1/cuts/op-10"
	w.ask(embedded, "DELETE", cut, "", "If-Match: *")
	w.ask(h, "DELETE", cut, "")
	w.ask(h, "DELETE", cut+"?nonsense=1", "", "If-Match: *")
	w.ask(h, "DELETE", cut+"?reason="+strings.Repeat("x", 600), "", "If-Match: *")
	w.ask(h, "DELETE", cut, "", `If-Match: "stale"`)
	w.ask(h, "DELETE", cut, "", "If-Match: *")
	w.ask(h, "DELETE", cut, "", "If-Match: *")
}

// evidence walks observations and a calibration through everything that can go wrong.
func (w *witness) evidence(embedded http.Handler) {
	w.t.Helper()
	h := newShop(w.t).handler()
	empty := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return nil }, Store: newShop(w.t)}).Handler()
	small := newShop(w.t).handlerWith(api.Limits{BodyBytes: 20, BatchBytes: 20})
	for _, at := range []string{"/v1/observations", "/v1/observations/batch", "/v1/calibrations"} {
		post := w.doc.Paths.Value(at).Post
		body := exampleBody(w.t, post)
		w.ask(embedded, "POST", at, body, asJSON)
		w.ask(empty, "POST", at, body, asJSON)
		w.ask(small, "POST", at, body, asJSON)
		w.ask(h, "POST", at, body, "Content-Type: application/xml")
		w.ask(h, "POST", at, `{"colour":"red"}`, asJSON)
		w.ask(h, "POST", at, body, asJSON, "Accept: image/webp")
		w.ask(h, "POST", at+"?nonsense=1", body, asJSON)
		w.ask(h, "POST", at, body, asJSON, "From: ann")
		w.ask(h, "POST", at+"?validate_only=true", body, asJSON, "From: ann")
		w.ask(h, "POST", at, body, asJSON, "Accept: text/csv", "From: ann")
	}
	w.ask(h, "POST", "/v1/observations", `{"units":"metric","kind":"edge","cut":{"material":{"grade":"unobtainium"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.2}},"edge":{"minutes":-3,"reason":"worn"}}`, asJSON)
	w.ask(h, "POST", "/v1/observations/batch?units=furlongs", "units\nmetric", "Content-Type: text/csv")
	many := newShop(w.t).handlerWith(api.Limits{BatchItems: 1})
	w.ask(many, "POST", "/v1/observations/batch", exampleBody(w.t, w.doc.Paths.Value("/v1/observations/batch").Post), asJSON)
	w.ask(h, "POST", "/v1/calibrations", `{"kind":"force","record":"kc-none","process":"milling","material":{"grade":"1.4301"}}`, asJSON)

	const at = "/v1/calibrations/kc-x5crni18-10-own/approval"
	body := exampleBody(w.t, w.doc.Paths.Value("/v1/calibrations/{id}/approval").Post)
	w.ask(embedded, "POST", at, body, asJSON, "From: bob")
	w.ask(h, "POST", at, body, asJSON)
	w.ask(h, "POST", at, body, asJSON, "From: ann")
	w.ask(h, "POST", at, body, "From: bob")
	w.ask(h, "POST", at, body, asJSON, "From: bob", "Accept: image/webp")
	w.ask(small, "POST", at, body, asJSON, "From: bob")
	w.ask(h, "POST", "/v1/calibrations/no-such/approval", body, asJSON, "From: bob")
	w.ask(h, "POST", at, body, asJSON, "From: bob", "Accept: text/csv")
	w.ask(h, "POST", at, body, asJSON, "From: bob")
	w.ask(h, "POST", "/v1/calibrations", exampleBody(w.t, w.doc.Paths.Value("/v1/calibrations").Post), asJSON, "From: ann")

	const list = "/v1/observations"
	w.askFormats(h, "GET", list, "", nil, w.doc.Paths.Value(list).Get)
	w.ask(h, "GET", list, "", "If-None-Match: *")
	w.ask(h, "GET", list+"?nonsense=1", "")
	w.ask(h, "GET", list+"?kind=smell", "")
	w.ask(h, "GET", list, "", "Accept: image/webp")
	w.ask(embedded, "GET", list, "")
}

// tables walks an import and its approval through everything that can go wrong.
func (w *witness) tables(embedded http.Handler) {
	w.t.Helper()
	shop := newShop(w.t)
	h := shop.handler()
	empty := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return nil }, Store: newShop(w.t)}).Handler()
	small := newShop(w.t).handlerWith(api.Limits{BodyBytes: 20, ImportBytes: 20})
	const at, table, force = "/v1/imports", "id,title,kind\nown,Own book,shop record\n", "id,scope.level,scope.key,process,method,specific_cutting_force_1_1 [N/mm2],chip_thickness_exponent,basis,source\nkc-own,material,x5crni18-10,turning,kienzle,2100,0.21,shop,shop\n"
	const tableType = "Content-Type: text/csv"
	w.ask(embedded, "POST", at+"?sheet=sources", table, tableType)
	w.ask(empty, "POST", at+"?sheet=sources", table, tableType)
	w.ask(small, "POST", at+"?sheet=sources", table, tableType)
	w.ask(h, "POST", at, table, tableType)
	w.ask(h, "POST", at+"?sheet=sources", table, "Content-Type: text/html")
	w.ask(h, "POST", at+"?sheet=sources", table, tableType, "Accept: image/webp")
	w.ask(h, "POST", at+"?sheet=sources", table+"own,Again,shop record\n", tableType)
	w.ask(h, "POST", at+"?sheet=sources", table+"own,Again,shop record\n", tableType, "Accept: text/plain")
	w.ask(h, "POST", at+"?sheet=sources", "no,such,columns\n1,2,3\n", tableType, "Accept: application/x-ndjson")
	w.ask(h, "POST", at+"?sheet=sources", table, tableType)
	w.askFormats(h, "POST", at+"?sheet=sources", table, []string{tableType}, w.doc.Paths.Value(at).Post)
	shop.overtake = true
	w.ask(h, "POST", at+"?sheet=force", force, tableType, "From: ann")
	shop.overtake = false
	made := w.ask(h, "POST", at+"?sheet=force", force, tableType, "From: ann")
	const route = "/v1/imports/{id}/approval"
	approval := strings.Replace(route, "{id}", member0(made.doc, "import").(string), 1)
	body := exampleBody(w.t, w.doc.Paths.Value(route).Post)
	w.ask(embedded, "POST", approval, body, asJSON, "From: bob")
	w.ask(small, "POST", approval, body, asJSON, "From: bob")
	w.ask(h, "POST", approval, body, asJSON)
	w.ask(h, "POST", approval, body, asJSON, "From: ann")
	w.ask(h, "POST", approval, body, "From: bob")
	w.ask(h, "POST", approval, body, asJSON, "From: bob", "Accept: image/webp")
	w.ask(h, "POST", approval, body, asJSON, "From: bob")
	w.ask(h, "POST", approval, body, asJSON, "From: bob")
	w.ask(h, "POST", "/v1/imports/first/approval", body, asJSON, "From: bob")
}
