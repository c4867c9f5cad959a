// Package pagetest holds what every page must be: well-formed, with landmarks, headings in
// order and table headers for those who hear it, without scripts and without anything from
// elsewhere.
package pagetest

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// void are the elements of HTML that have no end tag (HTML Living Standard, 13.1.2).
var void = []string{"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}

// Check parses a page and reports what it must not be.
func Check(t testing.TB, body []byte) *html.Node {
	t.Helper()
	balanced(t, body)
	root, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if first := root.FirstChild; first.Type != html.DoctypeNode || first.Data != "html" {
		t.Error("the page has no doctype")
	}
	if Attr(All(root, "html")[0], "lang") != "en" {
		t.Error("the page does not say its language")
	}
	for _, name := range []string{"title", "main", "h1", "header", "footer"} {
		list := slices.DeleteFunc(All(root, name), func(n *html.Node) bool { return n.Namespace == "svg" })
		if len(list) != 1 || Text(list[0]) == "" {
			t.Errorf("the page has %d %s, or an empty one", len(list), name)
		}
	}
	headings(t, root)
	references(t, root)
	tables(t, root)
	lonely(t, root)
	return root
}

// balanced wants every start tag to have its end tag, in order.
func balanced(t testing.TB, body []byte) {
	t.Helper()
	z := html.NewTokenizer(bytes.NewReader(body))
	var open []string
	for {
		switch z.Next() {
		case html.ErrorToken:
			if len(open) > 0 {
				t.Errorf("left open: %v", open)
			}
			return
		case html.StartTagToken:
			if name, _ := z.TagName(); !slices.Contains(void, string(name)) {
				open = append(open, string(name))
			}
		case html.EndTagToken:
			name, _ := z.TagName()
			if len(open) == 0 || open[len(open)-1] != string(name) {
				t.Errorf("</%s> inside %v", name, open)
				return
			}
			open = open[:len(open)-1]
		}
	}
}

// headings start with one of the first level and never leave one out.
func headings(t testing.TB, root *html.Node) {
	t.Helper()
	level := 0
	walk(root, func(n *html.Node) {
		if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
			own := int(n.Data[1] - '0')
			if own > level+1 {
				t.Errorf("%q is a heading of level %d after one of %d", Text(n), own, level)
			}
			level = own
		}
	})
}

// references lead to something in the page; names are there once.
func references(t testing.TB, root *html.Node) {
	t.Helper()
	ids := map[string]bool{}
	walk(root, func(n *html.Node) {
		if id := Attr(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("the id %s is there twice", id)
			}
			ids[id] = true
		}
	})
	walk(root, func(n *html.Node) {
		for _, name := range []string{"for", "aria-labelledby"} {
			for id := range strings.FieldsSeq(Attr(n, name)) {
				if !ids[id] {
					t.Errorf("<%s %s> names %s, which is not there", n.Data, name, id)
				}
			}
		}
		if href := Attr(n, "href"); strings.HasPrefix(href, "#") && !ids[href[1:]] {
			t.Errorf("a link leads to %s, which is not there", href)
		}
		if n.DataAtom == atom.Input || n.DataAtom == atom.Select {
			if labels := slices.DeleteFunc(All(root, "label"), func(l *html.Node) bool { return Attr(l, "for") != Attr(n, "id") }); len(labels) != 1 {
				t.Errorf("the field %s has %d labels", Attr(n, "name"), len(labels))
			}
		}
	})
}

// tables have headers that say what they head.
func tables(t testing.TB, root *html.Node) {
	t.Helper()
	for _, table := range All(root, "table") {
		heads := All(table, "th")
		if len(heads) == 0 {
			t.Errorf("a table without headers: %.100s", Text(table))
		}
		for _, th := range heads {
			if scope := Attr(th, "scope"); scope != "col" && scope != "row" {
				t.Errorf("the header %q has no scope", Text(th))
			}
		}
	}
}

// lonely wants a page that runs nothing and loads nothing.
func lonely(t testing.TB, root *html.Node) {
	t.Helper()
	walk(root, func(n *html.Node) {
		switch n.Data {
		case "script", "iframe", "img", "object", "embed", "base", "foreignobject":
			t.Errorf("the page has a <%s>", n.Data)
		}
		for _, a := range n.Attr {
			value := strings.TrimSpace(strings.ToLower(a.Val))
			switch {
			case a.Key == "style", strings.HasPrefix(a.Key, "on"):
				t.Errorf("<%s %s=%q>", n.Data, a.Key, a.Val)
			case a.Key == "href" && n.Data == "link" && value == "data:,":
			case a.Key == "href" || a.Key == "src" || a.Key == "action" || a.Key == "formaction":
				if strings.Contains(strings.SplitN(value, "?", 2)[0], ":") || strings.HasPrefix(value, "//") {
					t.Errorf("<%s> leads elsewhere: %s", n.Data, a.Val)
				}
			}
		}
	})
}

// All lists the elements of a name below a node, in order.
func All(n *html.Node, name string) []*html.Node {
	var list []*html.Node
	walk(n, func(n *html.Node) {
		if n.Data == name {
			list = append(list, n)
		}
	})
	return list
}

// walk visits the elements of a tree.
func walk(n *html.Node, visit func(*html.Node)) {
	if n.Type == html.ElementNode {
		visit(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		walk(c, visit)
	}
}

// Attr is an attribute of an element, empty when it has none.
func Attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// Text is what a reader sees of a node, its parts with a blank between.
func Text(n *html.Node) string {
	var b strings.Builder
	var add func(*html.Node)
	add = func(n *html.Node) {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + " ")
		}
		if n.Type != html.ElementNode || n.Data != "style" {
			for c := n.FirstChild; c != nil; c = c.NextSibling {
				add(c)
			}
		}
	}
	add(n)
	return strings.Join(strings.Fields(b.String()), " ")
}
