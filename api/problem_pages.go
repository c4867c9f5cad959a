package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"swarf/api/page"
	"swarf/api/wire"
	"swarf/domain"
)

// listPage and kindPage are the pages of the catalogue.
var (
	listPage = page.New(`{{define "main"}}<h1>Problems</h1>
<p>Every error is a problem document (RFC 9457) whose <code>code</code> is one of these.</p>
<table class="stack"><thead><tr><th scope="col">Code</th><th scope="col">Status</th><th scope="col">What it says</th></tr></thead><tbody>
{{range .}}<tr><th scope="row"><a href="/problems/{{.Slug}}">{{.Slug}}</a></th><td data-label="Status">{{.Status}}</td><td data-label="What it says">{{.Title}}</td></tr>
{{end}}</tbody></table>
{{end}}`)
	kindPage = page.New(`{{define "main"}}<h1>{{.Title}}</h1>
<p class="soft"><code>{{.Slug}}</code>, status {{.Status}}</p>
<h2>When</h2><p>{{prose .When}}</p>
<h2>What to do</h2><p>{{prose .Fix}}</p>
{{end}}
{{define "links"}}<li><a href="/problems">All problems</a></li>{{end}}`)
)

// problemList is the catalogue on the wire.
type problemList struct {
	Items []ProblemKind `json:"items"`
}

// listProblems answers GET /problems.
func listProblems(x *exchange) error {
	switch x.format {
	case formatHTML:
		return x.page(listPage, "Problems", problemKinds)
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
		return x.page(kindPage, k.Title, k)
	case formatText:
		return x.plainText(fmt.Sprintf("code=%s\nhttp_status=%d\ntitle=%s\nwhen=%s\nfix=%s\n", k.Slug, k.Status, k.Title, k.When, k.Fix))
	}
	return x.plainJSON(http.StatusOK, formatJSON.contentType(), k)
}

// page writes a page for people.
func (x *exchange) page(t *page.Template, title string, data any) error {
	body, err := t.Write(title, data)
	if err != nil {
		return err
	}
	return x.send(http.StatusOK, formatHTML.contentType(), body)
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
