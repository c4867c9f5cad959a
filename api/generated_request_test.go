package api_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// generated is a request made from the document.
type generated struct {
	operation            *described
	method, target, body string
	kind                 string   // how it was made
	headers              []string // "Name: value"
	refused              string   // why it must be refused; empty: it need not be
	item                 bool     // an item of a batch, at least, must be
	answered             bool     // it must be answered
}

func (r *generated) String() string {
	return fmt.Sprintf("%s: %s %s\n  %q\n  %.3000s", r.kind, r.method, r.target, r.headers, r.body)
}

// has reports a header field.
func (r *generated) has(name string) bool {
	return slices.ContainsFunc(r.headers, func(line string) bool { return strings.HasPrefix(line, name+": ") })
}

// sent is the request as a client makes it.
func (r *generated) sent(base string) (*http.Request, error) {
	request, err := http.NewRequest(r.method, base+r.target, strings.NewReader(r.body))
	if err != nil {
		return nil, err
	}
	for _, line := range r.headers {
		name, value, _ := strings.Cut(line, ": ")
		request.Header.Add(name, value)
	}
	return request, nil
}

// described is an operation of the document with bodies that are known to be good.
type described struct {
	method, path string
	operation    *openapi3.Operation
	schema       *openapi3.Schema // of a JSON body; nil without
	bodies       []any
	numbers      []string // query parameters that are numbers
}

// describedOperations lists the operations of the document, each with its worked examples
// and the requests of golden answers.
func describedOperations(t testing.TB, doc *openapi3.T) []*described {
	t.Helper()
	var list []*described
	for _, path := range slices.Sorted(maps.Keys(doc.Paths.Map())) {
		for _, method := range slices.Sorted(maps.Keys(doc.Paths.Value(path).Operations())) {
			d := &described{method: method, path: path, operation: doc.Paths.Value(path).GetOperation(method)}
			list = append(list, d)
			for _, p := range d.operation.Parameters {
				if p.Value.In == "query" && (p.Value.Schema.Value.Type.Is("number") || p.Value.Schema.Value.Type.Is("integer")) {
					d.numbers = append(d.numbers, p.Value.Name)
				}
			}
			if d.operation.RequestBody == nil {
				continue
			}
			media := d.operation.RequestBody.Value.Content["application/json"]
			if media == nil {
				continue
			}
			d.schema = media.Schema.Value
			if media.Example != nil {
				d.bodies = append(d.bodies, media.Example)
			}
			for _, name := range slices.Sorted(maps.Keys(media.Examples)) {
				d.bodies = append(d.bodies, media.Examples[name].Value.Value)
			}
			if len(d.bodies) == 0 {
				t.Errorf("%s %s has no example", method, path)
			}
		}
	}
	names, _ := filepath.Glob("../testdata/api/*.json")
	for _, name := range names {
		var g golden
		text, err := os.ReadFile(name)
		if err != nil || json.Unmarshal(text, &g) != nil {
			t.Fatal(name, err)
		}
		method, target, _ := strings.Cut(g.Route, " ")
		for _, d := range list {
			var body any
			if path, _, _ := strings.Cut(target, "?"); d.method == method && d.path == path && g.Status == 200 && json.Unmarshal(g.Request, &body) == nil {
				d.bodies = append(d.bodies, body)
			}
		}
	}
	return list
}

// generator makes requests; the same seed makes the same ones.
type generator struct {
	rng        *rand.Rand
	operations []*described
	key        string // header of a key for everything
}

// slow are routes that go over all records, or all tables.
var slow = []string{"/v1/exports", "/v1/exports/{id}", "/v1/calibrations", "/v1/calibrations/{id}/approval", "/v1/records/{id}/impact"}

// everyTime is how often each operation is asked, in their order, before chance decides.
const everyTime = 10

// operation chooses the operation of a request by its number. Some take
// long, and pages that never change say little: after their turns they come seldom; bodies
// come twice as often as reads.
func (g *generator) operation(number int) *described {
	if number < everyTime*len(g.operations) {
		return g.operations[number%len(g.operations)]
	}
	for {
		d := g.operations[g.rng.IntN(len(g.operations))]
		dull := slices.Contains(slow, d.path) || d.schema == nil && len(d.operation.Parameters) == 0
		if dull && g.rng.IntN(8) == 0 || !dull && (d.schema != nil || g.rng.IntN(2) == 0) {
			return d
		}
	}
}

// request makes the request of a number.
func (g *generator) request(number int) *generated {
	d := g.operation(number)
	r := &generated{operation: d, method: d.method, kind: "read"}
	path, query := g.target(r)
	mode := g.rng.IntN(10)
	if d.schema != nil {
		g.writeBody(r, mode)
	} else if d.operation.RequestBody != nil {
		g.writeDocument(r)
	} else if mode >= 7 && d.operation.Parameters.GetByInAndName("query", "format") != nil {
		query, r.refused = g.spoilQuery(query, d.numbers)
		r.kind, r.answered = "spoilt query", false
	}
	g.header(r)
	if d.method == http.MethodGet && g.rng.IntN(12) == 0 {
		r.method = http.MethodHead
	}
	if r.target = path; query != "" {
		r.target += "?" + query
	}
	return r
}

// target fills in the path and chooses query parameters.
func (g *generator) target(r *generated) (path, query string) {
	d, rng := r.operation, g.rng
	path = d.path
	var parts []string
	plain := rng.IntN(3) > 0 // only what the document shows
	r.answered = plain && d.method == http.MethodGet && !stateful(d.path)
	for _, p := range d.operation.Parameters {
		v := p.Value
		text := ""
		if v.Example != nil {
			text = strings.Trim(strings.ReplaceAll(fmt.Sprint(v.Example), " ", ","), "[]")
		}
		switch {
		case v.In == "path":
			if text == "" || !plain {
				text = oddIDs[rng.IntN(len(oddIDs))]
			}
			path = strings.ReplaceAll(path, "{"+v.Name+"}", text)
		case v.In != "query":
		case v.Example != nil && (plain || rng.IntN(4) > 0):
			parts = append(parts, url.QueryEscape(v.Name)+"="+url.QueryEscape(text))
		case !plain && rng.IntN(6) == 0:
			text = fmt.Sprint(invented(rng, v.Schema.Value, 1))
			parts = append(parts, url.QueryEscape(v.Name)+"="+url.QueryEscape(text))
		}
	}
	return path, strings.Join(parts, "&")
}

// stateful are routes whose answer depends on what was written before.
func stateful(path string) bool {
	return stored(path) || strings.HasPrefix(path, "/v1/machines") || path == "/v1/spindle-checks" || strings.Contains(path, "{") || strings.HasPrefix(path, "/v1/keys")
}

var oddIDs = []string{"vmc-50", "1.4301", "drill-twist", "mill-1", "no-such-thing", "a", "%2F", "..%2f..", "%00", "%C3%98", strings.Repeat("x", 300), "1", "0", "-1", "99999999999999999999", "a%20b", ".", "%25", "é"}

// writeBody writes a JSON body in one of several ways.
func (g *generator) writeBody(r *generated, mode int) {
	d := r.operation
	body := copyOf(d.bodies[g.rng.IntN(len(d.bodies))])
	r.headers = append(r.headers, asJSON)
	switch {
	case mode < 2:
		r.kind, r.body = "example", jsonText(body)
	case mode < 4:
		g.graft(body, d.schema)
		r.kind, r.body = "grafted", jsonText(body)
	case mode < 6:
		g.edges(body, d.schema)
		r.kind, r.body = "at the edge", jsonText(body)
	case mode < 9:
		r.kind = "spoilt"
		r.body, r.refused, r.item = g.spoil(body, d.schema)
	default:
		r.kind = "shaken"
		r.body, r.refused = g.shaken(jsonText(body))
	}
	if g.rng.IntN(40) == 0 {
		r.kind, r.refused, r.item = "other type", "no JSON by its type", false
		r.headers[0] = []string{"Content-Type: text/plain", "Content-Type: application/json; charset=utf-16", "X-None: 1", "Content-Type: application/xml2"}[g.rng.IntN(4)]
	}
	if strings.HasSuffix(d.path, "/batch") && g.rng.IntN(8) == 0 {
		g.writeLines(r, body)
	}
}

// writeLines sends the items of a batch as lines, or as a table that is none.
func (g *generator) writeLines(r *generated, body any) {
	r.kind, r.refused, r.item = "lines", "", false
	object, _ := body.(map[string]any)
	items, _ := object["items"].([]any)
	var b strings.Builder
	for _, item := range items {
		line := jsonText(item)
		if g.rng.IntN(3) == 0 {
			line, _ = g.shaken(line)
		}
		b.WriteString(line + "\n")
	}
	r.body = b.String()
	r.headers[0] = []string{"Content-Type: " + lineType, "Content-Type: text/csv"}[g.rng.IntN(2)]
}

// writeDocument sends something to a route that takes no JSON.
func (g *generator) writeDocument(r *generated) {
	types := slices.Sorted(maps.Keys(r.operation.operation.RequestBody.Value.Content))
	r.headers = append(r.headers, "Content-Type: "+types[g.rng.IntN(len(types))])
	r.kind = "document"
	r.body, _ = g.shaken(documents[g.rng.IntN(len(documents))])
	r.answered = false
}

var documents = []string{
	"id,name,group,subgroup\nx1,X,P,P1\n", "{\"sheet\":\"materials\",\"id\":\"x\",\"name\":\"X\",\"group\":\"P\"}\n", "PK\x03\x04", "", "id;name\n1;2\n",
	tool13399, "<a/>", "<!DOCTYPE a [<!ENTITY b \"c\">]><a>&b;</a>", "{}", "id,id\n",
}

const tool13399 = `<CuttingTool assetId="a" timestamp="2026-03-03T12:00:00Z" toolId="t"><CuttingToolLifeCycle><Measurements><CuttingDiameterMax nominal="12">12</CuttingDiameterMax></Measurements></CuttingToolLifeCycle></CuttingTool>`

// header adds fields that callers send.
func (g *generator) header(r *generated) {
	add := func(in int, lines ...string) {
		if g.rng.IntN(in) == 0 {
			r.headers = append(r.headers, lines[g.rng.IntN(len(lines))])
		}
	}
	write := r.method == http.MethodPut || r.method == http.MethodDelete
	if write {
		add(1, "If-Match: *", "If-None-Match: *", `If-Match: "stale"`, "If-Match: ", `If-Match: W/"a", *`)
	} else {
		add(10, "If-None-Match: *", `If-None-Match: "a", W/"b"`, "If-None-Match: ,,")
	}
	var media []string
	for kind := range maps.Keys(r.operation.operation.Responses.Value(r.operation.success()).Value.Content) {
		media = append(media, "Accept: "+kind)
	}
	slices.Sort(media)
	if len(media) > 0 && g.rng.IntN(3) == 0 {
		r.headers = append(r.headers, media[g.rng.IntN(len(media))])
	}
	if before := len(r.headers); len(media) > 0 {
		add(25, "Accept: image/webp", "Accept: ;;q=,*", "Accept: */*;q=0.1, text/*;q=NaN", "Accept: application/json;q=0")
		r.answered = r.answered && len(r.headers) == before
	}
	add(20, "From: ann@example.org", "From: "+strings.Repeat("f", 600), "From: \u00e9", "X-Request-Id: <script>", "X-Request-Id: a-1", "Prefer: respond-async", "Content-Encoding: gzip", "Authorization: Bearer x", "Authorization: Basic Og==")
	if write || r.method == http.MethodPost {
		add(6, "Idempotency-Key: k", `Idempotency-Key: "k"`, `Idempotency-Key: "`, "Idempotency-Key: "+strings.Repeat("k", 300), "Idempotency-Key: \u00e9")
	}
	r.answered = r.answered && !r.has("Authorization")
}

// success is the first status of success that the operation lists.
func (d *described) success() string {
	codes := slices.Sorted(maps.Keys(d.operation.Responses.Map()))
	return codes[0]
}
