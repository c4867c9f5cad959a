package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"swarf/domain"
)

var problemPages = template.Must(template.New("list").Parse(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Problems</title></head><body>
<h1>Problems</h1>
<p>Every error is a problem document (RFC 9457) whose <code>code</code> is one of these.</p>
<table><thead><tr><th>code</th><th>status</th><th>title</th></tr></thead><tbody>
{{range .}}<tr><td><a href="/problems/{{.Slug}}">{{.Slug}}</a></td><td>{{.Status}}</td><td>{{.Title}}</td></tr>
{{end}}</tbody></table>
</body></html>
{{define "one"}}<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>{{.Title}}</title></head><body>
<h1>{{.Title}}</h1>
<p><code>{{.Slug}}</code>, status {{.Status}}</p>
<h2>When</h2><p>{{.When}}</p>
<h2>What to do</h2><p>{{.Fix}}</p>
<p><a href="/problems">All problems</a></p>
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
		return x.send(http.StatusOK, formatText.contentType(), []byte(b.String()))
	}
	return x.plainJSON(http.StatusOK, problemList{problemKinds})
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
		body := fmt.Sprintf("code=%s\nstatus=%d\ntitle=%s\nwhen=%s\nfix=%s\n", k.Slug, k.Status, k.Title, k.When, k.Fix)
		return x.send(http.StatusOK, formatText.contentType(), []byte(body))
	}
	return x.plainJSON(http.StatusOK, k)
}

// page writes a page for people.
func (x *exchange) page(name string, data any) error {
	var b bytes.Buffer
	if err := problemPages.ExecuteTemplate(&b, name, data); err != nil {
		return err
	}
	return x.send(http.StatusOK, formatHTML.contentType(), b.Bytes())
}

// plainJSON writes JSON that has no quantities in it.
func (x *exchange) plainJSON(status int, v any) error {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(v); err != nil {
		return err
	}
	return x.send(status, formatJSON.contentType(), b.Bytes())
}
