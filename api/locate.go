package api

import (
	"net/http"
	"reflect"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain/catalog"
)

// locate names the URL by which GET gives the same answer to a QUERY (RFC 10008): the
// request flat, with the revision that answered, so that it can be kept and sent on. A
// request that has no such URL has no location.
func (x *exchange) locate(body []byte, request reflect.Type, snap *catalog.Snapshot) {
	if x.Request().Method != methodQuery || !strings.Contains(x.s.allow[x.Path()], http.MethodGet) {
		return
	}
	values, ok := wire.FlatQuery(body, request)
	if !ok {
		return
	}
	for name, text := range x.query {
		values.Set(name, text)
	}
	if !values.Has("as_of") && x.s.AsOf != nil {
		values.Set("as_of", strconv.FormatInt(snap.Revision, 10))
	}
	if !values.Has("format") && x.format != formatJSON {
		values.Set("format", x.format.String())
	}
	target := x.Request().URL.EscapedPath() + "?" + values.Encode()
	r := &http.Request{Host: x.Request().Host, RequestURI: target}
	if checkLength(r) == nil {
		x.Response().Header().Set("Content-Location", target)
	}
}
