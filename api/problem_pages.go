package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
)

// problemPages are the pages of the catalogue. They run no script and load nothing; their
// one style sheet is theirs by its hash.
var problemPages = template.Must(template.New("list").Funcs(template.FuncMap{"code": codeIn}).Parse(`{{define "head"}}<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>{{.}}</title>
<style>` + problemStyle + `</style></head><body>
{{end}}{{template "head" "Problems"}}<h1>Problems</h1>
<p>Every error is a problem document (RFC 9457) whose <code>code</code> is one of these.</p>
<table><thead><tr><th>code</th><th>status</th><th>what it says</th></tr></thead><tbody>
{{range .}}<tr><th><a href="/problems/{{.Slug}}">{{.Slug}}</a></th><td>{{.Status}}</td><td>{{.Title}}</td></tr>
{{end}}</tbody></table>
</body></html>
{{define "one"}}{{template "head" .Title}}<p class="up"><a href="/problems">All problems</a></p>
<h1>{{.Title}}</h1>
<p class="code"><code>{{.Slug}}</code> status {{.Status}}</p>
<h2>When</h2><p>{{code .When}}</p>
<h2>What to do</h2><p>{{code .Fix}}</p>
</body></html>
{{end}}`))

// problemList is the catalogue on the wire.
type problemList struct {
	Items []ProblemKind `json:"items"`
}

// listProblems answers GET /problems.
func listProblems(x *exchange) error {
	switch x.format {
	case formatHTML:
		return x.page("list", problemKinds)
	case formatText:
		var b strings.Builder
		for _, k := range problemKinds {
			fmt.Fprintf(&b, "%s=%d %s\n", k.Slug, k.Status, k.Title)
		}
		return x.plainText(b.String())
	}
	return x.plainJSON(http.StatusOK, formatJSON.contentType(), problemList{problemKinds})
}

// getProblem answers GET /problems/{slug}.
func getProblem(x *exchange) error {
	slug, err := x.pathValue("slug")
	if err != nil {
		return err
	}
	k, ok := problemBySlug[slug]
	if !ok {
		return fault(domain.NotFound, "not-found", "", "there is no problem called "+clip(slug), "see /problems for those there are")
	}
	switch x.format {
	case formatHTML:
		return x.page("one", k)
	case formatText:
		return x.plainText(fmt.Sprintf("code=%s\nhttp_status=%d\ntitle=%s\nwhen=%s\nfix=%s\n", k.Slug, k.Status, k.Title, k.When, k.Fix))
	}
	return x.plainJSON(http.StatusOK, formatJSON.contentType(), k)
}

// page writes a page for people.
func (x *exchange) page(name string, data any) error {
	var b bytes.Buffer
	if err := problemPages.ExecuteTemplate(&b, name, data); err != nil {
		return err
	}
	x.policy = "default-src 'none'; style-src '" + problemStyleHash + "'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	return x.send(http.StatusOK, formatHTML.contentType(), b.Bytes())
}

// plainText writes lines key=value that are there already, and closes them.
func (x *exchange) plainText(lines string) error {
	return x.send(http.StatusOK, formatText.contentType(), wire.AppendTextClose(wire.ASCIILines(lines), "ok"))
}

// plainJSON writes JSON that has no quantities in it.
func (x *exchange) plainJSON(status int, contentType string, v any) error {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(v); err != nil {
		return err
	}
	return x.send(status, contentType, b.Bytes())
}
