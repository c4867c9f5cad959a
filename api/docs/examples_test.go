package docs

import (
	"net/url"
	"slices"
	"testing"

	"golang.org/x/net/html"

	"swarf/api/docs/worked"
	"swarf/api/page/pagetest"
	"swarf/domain/cut"
)

// The page has an example of every operation, each once, in a form whose fields are its
// members.
func TestExamplesPage(t *testing.T) {
	root := pagetest.Check(t, examplesPage())
	var made []string
	for _, e := range worked.Examples {
		made = append(made, e.Operation)
	}
	slices.Sort(made)
	if want := slices.Sorted(slices.Values(cut.Names())); !slices.Equal(made, want) {
		t.Errorf("examples of %v, the operations are %v", made, want)
	}
	forms := pagetest.All(root, "form")
	if len(forms) != len(worked.Examples) {
		t.Fatalf("%d forms", len(forms))
	}
	for _, form := range forms {
		values := url.Values{}
		for _, in := range pagetest.All(form, "input") {
			values.Set(pagetest.Attr(in, "name"), pagetest.Attr(in, "value"))
		}
		for _, in := range pagetest.All(form, "select") {
			for _, option := range pagetest.All(in, "option") {
				if slices.ContainsFunc(option.Attr, func(a html.Attribute) bool { return a.Key == "selected" }) {
					values.Set(pagetest.Attr(in, "name"), pagetest.Text(option))
				}
			}
		}
		at := slices.IndexFunc(worked.Examples, func(e worked.Example) bool { return e.Operation == values.Get("operation") })
		if at < 0 {
			t.Fatalf("a form of %q", values.Get("operation"))
		}
		if want := worked.Examples[at].Query().Encode(); values.Encode() != want {
			t.Errorf("%s: the form sends %s, want %s", worked.Examples[at].Operation, values.Encode(), want)
		}
	}
}
