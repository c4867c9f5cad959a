// Package page writes answers as pages for people: on a phone beside the machine, on a
// desk and on paper. A page is one document with its style in it: it runs no script and
// loads nothing. What differs, differs in shape and in words as well as in colour.
package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
)

//go:embed style.css *.html
var files embed.FS

// style is the one style sheet of all pages.
var style = func() template.CSS {
	text, err := files.ReadFile("style.css")
	if err != nil {
		panic(err) // the file is named in the embed line above
	}
	return template.CSS(text) // #nosec G203 -- a file of the program
}()

// Policy is the content security policy of every page: the style sheet and the font of
// pictures by their hashes, forms to this service, and nothing else.
var Policy = "default-src 'none'; style-src " + hashOf(string(style)) +
	"; font-src data:; img-src data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// hashOf names an inline style in a policy (CSP level 3, hash-source).
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// base holds the layout and the parts that pages share.
var base = template.Must(template.New("layout").Funcs(functions).ParseFS(files, "*.html"))

// functions are what templates may call.
var functions = template.FuncMap{
	"style": func() template.CSS { return style },
	"sign":  sign, "bar": bar, "swatch": swatch, "hatch": func() template.HTML { return hatch }, "over": over,
	"prose": prose, "operation": Operation, "verdict": verdictOf, "findings": findings, "loads": loads, "rest": Rest,
}

// Template is a page whose main part is to be filled in.
type Template struct{ t *template.Template }

// New makes a page of the text of a template of html/template that defines "main", and
// may define "links", items of the list in the foot. Text that is no template panics: it
// is part of the program.
func New(text string) *Template {
	return &Template{template.Must(template.Must(base.Clone()).Parse(text))}
}

// Write fills a page in: the title is that of the window, the data is what "main" gets.
func (t *Template) Write(title string, data any) ([]byte, error) {
	var out bytes.Buffer
	err := t.t.ExecuteTemplate(&out, "layout.html", struct {
		Title string
		Data  any
	}{title, data})
	return out.Bytes(), err
}
