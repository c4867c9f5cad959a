package api

import (
	"net/http"
	"reflect"
	"slices"
	"strconv"

	"swarf/api/page"
	"swarf/api/picture"
	"swarf/api/wire"
)

// show writes the answer to a computation as a page, with its picture where it has one.
func (x *exchange) show(asked, answer any, drawn *picture.Picture) error {
	given, err := x.fields.Leaves(answer, x.system)
	if err != nil {
		return err
	}
	request, err := (*wire.Selection)(nil).Leaves(asked, x.system)
	if err != nil {
		return err
	}
	r := &page.Result{Asked: page.Tree(request, x.system), Answer: page.Tree(given, x.system)}
	if drawn != nil {
		drawn.Inset()
		r.Figure = page.NewFigure(drawn.Title, drawn.Says, drawn.SVG())
	}
	if x.Request().Method != http.MethodPost {
		r.Again, r.Links = x.again(asked), x.forms()
	}
	body, err := r.Write()
	if err != nil {
		return err
	}
	asPage(x.Response().Header(), r.Policy())
	return x.send(http.StatusOK, formatHTML.contentType(), body)
}

// forms lead to the other forms of an answer that was asked for by GET.
func (x *exchange) forms() []page.Link {
	var out []page.Link
	values := x.Request().URL.Query()
	values.Del("explain")
	for _, f := range x.route.offers {
		if f != formatHTML {
			values.Set("format", f.String())
			out = append(out, page.Link{Text: f.String(), Href: "?" + values.Encode()})
		}
	}
	return out
}

// again is the address that gives the answer once more, from the same data. It is printed,
// so it holds the members of the request and the parameters of the route and nothing else.
func (x *exchange) again(asked any) string {
	known := slices.Clone(x.route.known())
	for name, path := range wire.FlatNames(reflect.TypeOf(asked).Elem()) {
		known = append(known, name, path)
	}
	values := x.Request().URL.Query()
	for name := range values {
		if !slices.Contains(known, name) {
			values.Del(name)
		}
	}
	values.Set("as_of", strconv.FormatInt(x.snap.Revision, 10))
	return x.Request().URL.EscapedPath() + "?" + values.Encode()
}
