package api_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"golang.org/x/net/html"

	"swarf/api"
)

// hostile are texts that do harm where they are written down as they came: formulas for
// spreadsheets, marks for pages and pictures, lines for logs and texts, ends of comments for
// controls.
var hostile = []string{
	"=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1+1", "\r=1+1", "=HYPERLINK(\"http://x\";\"y\")", "'=1+1",
	"<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "]]></text><script>alert(1)</script>", "' style='x:y' onload='alert(1)",
	"a\nstatus=ok\nlines=1", "a\r\nX-Evil: yes", "S9999 F9999) M3 (x", "%\nM30", "\x1b[2J\x1b[31mred", "\u202egnp.exe", "{{.}} ${7*7} %s%n",
}

// freeTexts are the members in which callers write what they like.
var freeTexts = []string{"ref", "note", "reason", "by", "name", "lot", "edge_id", "setup", "place", "title", "gear"}

// poisoned is a body whose free texts are all one text; where it has a ref of its own, or may
// have one, that is the text too.
func poisoned(t *testing.T, example, text string, ref bool) string {
	t.Helper()
	var body map[string]any
	if err := json.Unmarshal([]byte(example), &body); err != nil {
		t.Fatal(err)
	}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for name, value := range v {
				if _, ok := value.(string); ok && slices.Contains(freeTexts, name) {
					v[name] = text
				} else {
					walk(value)
				}
			}
		case []any:
			for _, item := range v {
				walk(item)
			}
		}
	}
	walk(body)
	if ref {
		body["ref"] = text
	}
	out, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

var aNumber = regexp.MustCompile(`^-?\d+([.,]\d+)?([eE][-+]?\d+)?$`)

// harm says what of an answer could do harm where it is opened; empty when nothing can.
func harm(got reply) string {
	for name, values := range got.header {
		if name == "X-Evil" || strings.ContainsAny(strings.Join(values, ""), "\r\n") {
			return "header " + name
		}
	}
	media, _, _ := strings.Cut(got.header.Get("Content-Type"), ";")
	switch {
	case media == "text/csv":
		return formulaIn(got.body)
	case media == "text/html":
		return activeIn(got.body)
	case strings.HasSuffix(media, "xml"):
		return strayIn(got.body)
	case media == "application/problem+json", media == "application/json":
		if !json.Valid(got.body) {
			return "no JSON"
		}
	case media == "text/plain":
		return forgedIn(got)
	case media == xlsxType:
		return cellsOf(got.body)
	}
	return ""
}

// formulaIn finds a cell of CSV that a spreadsheet computes.
func formulaIn(body []byte) string {
	table := csv.NewReader(bytes.NewReader(body))
	table.FieldsPerRecord = -1
	for {
		cells, err := table.Read()
		if errors.Is(err, io.EOF) {
			return ""
		}
		if err != nil {
			return err.Error()
		}
		for _, cell := range cells {
			if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) && !aNumber.MatchString(cell) || strings.ContainsAny(cell, "\r\n\x1b") {
				return "cell " + cell
			}
		}
	}
}

// cellsOf finds a formula in a workbook, or a text that one begins.
func cellsOf(body []byte) string {
	book, err := excelize.OpenReader(bytes.NewReader(body))
	if err != nil {
		return err.Error()
	}
	defer book.Close()
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			return err.Error()
		}
		for y, row := range rows {
			for x, cell := range row {
				name, _ := excelize.CoordinatesToCellName(x+1, y+1)
				formula, _ := book.GetCellFormula(sheet, name)
				if formula != "" || cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && !aNumber.MatchString(cell) {
					return sheet + "!" + name + " " + cell + formula
				}
			}
		}
	}
	return ""
}

// activeIn finds what runs, loads or leads away in a page.
func activeIn(body []byte) string {
	page := html.NewTokenizer(bytes.NewReader(body))
	for {
		switch page.Next() {
		case html.ErrorToken:
			if errors.Is(page.Err(), io.EOF) {
				return ""
			}
			return page.Err().Error()
		case html.StartTagToken, html.SelfClosingTagToken:
			tag := page.Token()
			if slices.Contains([]string{"script", "iframe", "object", "embed", "img", "base", "form"}, tag.Data) {
				return tag.String()
			}
			for _, a := range tag.Attr {
				if strings.HasPrefix(a.Key, "on") || strings.HasPrefix(strings.ToLower(strings.TrimSpace(a.Val)), "javascript:") {
					return tag.String()
				}
			}
		}
	}
}

// strayIn finds what does not belong into a picture or a document of a standard.
func strayIn(body []byte) string {
	d := xml.NewDecoder(bytes.NewReader(body))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return ""
		}
		if err != nil {
			return err.Error()
		}
		if tag, ok := token.(xml.StartElement); ok {
			if slices.Contains([]string{"script", "foreignObject", "img", "a", "use"}, tag.Name.Local) {
				return tag.Name.Local
			}
			for _, a := range tag.Attr {
				if strings.HasPrefix(a.Name.Local, "on") {
					return tag.Name.Local + " " + a.Name.Local
				}
			}
		}
	}
}

// forgedIn holds a text against its own count of lines, or finds an end of the comment of a
// block that is not at its end.
func forgedIn(got reply) string {
	text := string(got.body)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	switch {
	case strings.ContainsFunc(text, func(r rune) bool { return r < ' ' && r != '\n' || r > '~' }):
		return "a character that is not printable ASCII: " + text
	case strings.HasPrefix(text, "#ERR ") || strings.HasPrefix(text, "S"):
		if len(lines) > 1 || text[0] == 'S' && strings.Count(text, "(")+strings.Count(text, ")") > 2 {
			return text
		}
	default:
		statuses := 0
		for _, line := range lines {
			if strings.HasPrefix(line, "status=") {
				statuses++
			}
			if !strings.Contains(line, "=") {
				return "a line without a name: " + line
			}
		}
		if statuses != 1 || !strings.HasPrefix(lines[len(lines)-1], "lines=") {
			return text
		}
	}
	return ""
}

// Whatever callers write into a request, no answer in any format carries it so that a
// spreadsheet, a browser, a control or a script that reads it does as the text says.
func TestCallersTextsAreHarmlessInEveryAnswer(t *testing.T) {
	h := newShop(t).handler()
	doc := published(t)
	answered, stored := map[string]int{}, 0
	look := func(method, target, body string, headers ...string) int {
		got := call(t, h, method, target, body, headers...)
		if what := harm(got); what != "" {
			t.Errorf("%s %s: %d carries %q\n%.200q", method, target, got.status, what, body)
		}
		if got.status >= 500 {
			t.Errorf("%s %s: %d %s", method, target, got.status, got.body)
		}
		if got.status < 300 {
			media, _, _ := strings.Cut(got.header.Get("Content-Type"), ";")
			answered[media]++
		}
		return got.status
	}
	// First what computes: a record that is withdrawn ends answers that rest on it.
	for n := range 2 * len(hostile) {
		text := hostile[n%len(hostile)]
		for at, r := range api.Routes() {
			if r.Writes != (n >= len(hostile)) || r.Writes && n%2 == 1 || r.Method == http.MethodGet || r.Method == http.MethodDelete || strings.HasPrefix(r.Path, "/v1/keys") || r.Path == "/v1/imports" || r.Path == "/v1/tool-assets" {
				continue
			}
			item := doc.Paths.Value(r.Path)
			operation := item.GetOperation(r.Method)
			target := strings.ReplaceAll(r.Path, "{id}", "hostile-"+string(rune('a'+n%len(hostile))))
			example := exampleBody(t, operation)
			body := poisoned(t, example, text, r.Path == "/v1/estimates" || r.Path == "/v1/recommendations")
			headers := []string{asJSON, "From: " + strings.NewReplacer("\n", " ", "\r", " ", "\x1b", " ").Replace(text)}
			if r.Method == http.MethodPut {
				headers = append(headers, "If-None-Match: *")
			}
			if r.Writes {
				if look(r.Method, target+"?reason="+url.QueryEscape(text), body, headers...) == http.StatusBadRequest {
					look(r.Method, target, body, headers...)
				}
				stored++
				continue
			}
			for i, format := range r.Offers { // each text in a third of the formats of each route, so that all meet
				if format != "png" && (n+at+i)%3 == 0 {
					look(r.Method, target+"?format="+format, body, headers...)
				}
			}
		}
	}
	for _, r := range api.Routes() { // what was stored is read in every format
		if r.Method != http.MethodGet || r.Scope == "" || r.Scope == "admin" {
			continue
		}
		for _, format := range r.Offers {
			if format != "png" {
				for n := range hostile {
					look(http.MethodGet, with(strings.NewReplacer("{id}", "hostile-"+string(rune('a'+n)), "{slug}", "held").Replace(r.Path), "format="+format), "")
					if !strings.Contains(r.Path, "{id}") {
						break
					}
				}
			}
		}
	}
	for _, sheet := range []string{"machines", "materials", "force"} {
		look(http.MethodGet, "/v1/exports/"+sheet, "")
		look(http.MethodGet, "/v1/exports/"+sheet+"?format=xlsx", "")
	}
	for media, least := range map[string]int{"text/csv": 80, "text/html": 30, "image/svg+xml": 20, "text/plain": 80, "application/json": 100, xlsxType: 1} {
		if answered[media] < least {
			t.Errorf("only %d answers in %s prove little (all: %v, %d writes)", answered[media], media, answered, stored)
		}
	}
}

// What stands in a path, a parameter's name or a member's comes back in problems, harmless.
func TestCallersTextsAreHarmlessInProblems(t *testing.T) {
	h := embeddedService(t)
	for _, text := range hostile {
		member, _ := json.Marshal(text)
		for _, format := range []string{"json", "text", "html", "csv", "value", "words", "svg"} {
			for _, c := range []struct{ method, target, body string }{
				{"GET", "/v1/machines/" + url.PathEscape(text) + "?format=" + format, ""},
				{"GET", "/nowhere/" + url.PathEscape(text) + "?format=" + format, ""},
				{"GET", "/problems/" + url.PathEscape(text) + "?format=" + format, ""},
				{"GET", "/v1/estimates?format=" + format + "&" + url.QueryEscape(text) + "=1", ""},
				{"GET", "/v1/estimates?format=" + format + "&" + aCutFlat + "&grade=" + url.QueryEscape(text), ""},
				{"GET", "/v1/materials?format=" + format + "&group=" + url.QueryEscape(text), ""},
				{"GET", "/v1/materials?format=" + url.QueryEscape(text), ""},
				{"POST", "/v1/estimates?format=" + format, `{` + string(member) + `:1,` + aCut + `}`},
				{"POST", "/v1/estimates?format=" + format, strings.Replace(`{`+aCut+`}`, `"1.4301"`, string(member), 1)},
				{"POST", "/v1/estimates?format=" + format, strings.Replace(`{`+aCut+`}`, `"drilling"`, string(member), 1)},
			} {
				got := call(t, h, c.method, c.target, c.body, asJSON)
				if what := harm(got); got.status < 400 || got.status >= 500 || what != "" {
					t.Errorf("%s %s: %d carries %q\n%.300s", c.method, c.target, got.status, what, got.body)
				}
			}
		}
	}
}
