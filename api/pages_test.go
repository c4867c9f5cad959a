package api_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"swarf/api/docs/worked"
	"swarf/api/page/pagetest"
)

const (
	asPage  = "Accept: text/html"
	browser = "Accept: text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8"
)

// shown asks for a page and holds it against what every page must be.
func shown(t *testing.T, h http.Handler, method, target, body string, headers ...string) (reply, *html.Node) {
	t.Helper()
	got := call(t, h, method, target, body, append([]string{browser}, headers...)...)
	if kind := got.header.Get("Content-Type"); kind != "text/html; charset=utf-8" {
		t.Fatalf("%s %s: %d %s %.300s", method, target, got.status, kind, got.body)
	}
	root := pagetest.Check(t, got.body)
	policy := got.header.Get("Content-Security-Policy")
	for _, sheet := range pagetest.All(root, "style") {
		sum := sha256.Sum256([]byte(sheet.FirstChild.Data))
		if hash := "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(policy, hash) {
			t.Errorf("a style sheet is not in the policy %s", policy)
		}
	}
	if !strings.HasPrefix(policy, "default-src 'none'; ") || strings.Contains(policy, "unsafe") || strings.Contains(policy, "script-src") {
		t.Errorf("policy %s", policy)
	}
	return got, root
}

var numeral = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// numbersOf lists the numbers that a page shows.
func numbersOf(root *html.Node) map[string]bool {
	seen := map[string]bool{}
	for _, text := range numeral.FindAllString(pagetest.Text(root), -1) {
		seen[text] = true
	}
	return seen
}

// Every number of a JSON answer stands in the page with the same digits, ratios in
// hundredths; so does every word of its findings, sources and derivation.
func TestPagesShowTheAnswer(t *testing.T) {
	h := embeddedService(t)
	names, _ := filepath.Glob("../testdata/api/*.json")
	count := 0
	for _, name := range names {
		var g golden
		strictFile(t, "api/"+filepath.Base(name), &g)
		method, target, _ := strings.Cut(g.Route, " ")
		path, query, _ := strings.Cut(target, "?")
		switch path {
		case "/v1/estimates", "/v1/recommendations", "/v1/spindle-checks", "/v1/diagnoses", "/v1/corrections":
		default:
			continue
		}
		if g.Status != http.StatusOK || strings.Contains(query, "fields=") || strings.Contains(query, "format=") {
			continue
		}
		count++
		t.Run(strings.TrimSuffix(filepath.Base(name), ".json"), func(t *testing.T) {
			same(t, h, method, target, string(g.Request))
		})
	}
	for i := range worked.Examples {
		e := &worked.Examples[i]
		t.Run(e.Operation, func(t *testing.T) {
			same(t, h, http.MethodGet, "/v1/estimates?window=true&"+e.Query().Encode(), "")
			same(t, h, http.MethodGet, "/v1/recommendations?"+e.Open().Encode(), "")
		})
	}
	if count < 12 {
		t.Errorf("%d golden answers", count)
	}
}

// same asks for an answer as JSON and as a page, and compares them.
func same(t *testing.T, h http.Handler, method, target, body string) {
	t.Helper()
	explained := target
	if !strings.Contains(target, "explain=") {
		explained = with(target, "explain=true")
	}
	var headers []string
	if body != "" {
		headers = append(headers, asJSON)
	}
	plain := call(t, h, method, explained, body, headers...)
	got, root := shown(t, h, method, target, body, headers...)
	if plain.status != http.StatusOK || got.status != http.StatusOK {
		t.Fatalf("%d and %d: %.300s", plain.status, got.status, plain.body)
	}
	decoder := json.NewDecoder(bytes.NewReader(plain.body))
	decoder.UseNumber()
	var answer any
	if err := decoder.Decode(&answer); err != nil {
		t.Fatal(err)
	}
	numbers, text := numbersOf(root), pagetest.Text(root)
	var compare func(at string, v any)
	compare = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for name, inner := range v {
				if name != "unit_of" && name != "unit" {
					compare(at+"."+name, inner)
				}
			}
		case []any:
			for i, inner := range v {
				compare(at+"["+strconv.Itoa(i)+"]", inner)
			}
		case json.Number:
			if small, _ := v.Float64(); numbers[v.String()] || numbers[inHundredths(v.String())] || small > 0 && small < 1e-6 && strings.HasSuffix(at, ".probability") {
				return
			}
			t.Errorf("%s is %s, which the page does not show", at, v)
		case string:
			for _, end := range []string{".message", ".fix", ".needs", ".why", ".formula", ".put_in", ".source", ".code", ".used_for"} {
				if strings.HasSuffix(at, end) && !strings.Contains(text, strings.Join(strings.Fields(v), " ")) {
					t.Errorf("%s is %q, which the page does not say", at, v)
				}
			}
		}
	}
	compare("", answer)
}

// inHundredths moves the point of a number without touching its digits.
func inHundredths(text string) string {
	sign := strings.HasPrefix(text, "-")
	whole, part, _ := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	part += "00"
	out := strings.TrimLeft(whole+part[:2], "0") + "." + strings.TrimRight(part[2:], "0")
	if out = strings.TrimSuffix(out, "."); out == "" || out[0] == '.' {
		out = "0" + out
	}
	if sign {
		out = "-" + out
	}
	return out
}

// The numbers to set stand in large letters with their units, in the caller's system.
func TestPagesShowWhatToSet(t *testing.T) {
	h := embeddedService(t)
	for target, want := range map[string]string{
		"/v1/estimates?" + aCutFlat: "Spindle speed n 1591.55 1/min",
		"/v1/recommendations?units=inch&grade=A96061&operation=slot-milling&class=mill-end&cutting_diameter=0.5&effective_edges=3&axial_depth=0.25": " in/min",
		"/v1/corrections?units=metric&feature=internal&sides_cut=2&programmed=40&measured=39.98&register=radius":                                    "Add to the radius -0.01 mm",
	} {
		_, root := shown(t, h, "GET", target, "")
		var tiles []string
		for _, dl := range pagetest.All(root, "dl") {
			if pagetest.Attr(dl, "class") == "tiles" {
				tiles = append(tiles, pagetest.Text(dl))
			}
		}
		if len(tiles) != 1 || !strings.Contains(tiles[0], want) {
			t.Errorf("%s: %q, want %q", target, tiles, want)
		}
	}
}

// What a caller writes is text in the page, wherever it comes up.
func TestPagesEscape(t *testing.T) {
	h := embeddedService(t)
	const nasty = `</style></title><script>alert(1)</script><img src=x onerror=alert(2)>" onload="x`
	machine := strings.Replace(aMachine, `"name":"demo mill"`, `"name":`+strconv.Quote(nasty), 1)
	cut := `{"units":"metric","ref":` + strconv.Quote(nasty) + `,"material":{"grade":"1.4301"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},
		"engagement":{"axial_depth":5,"radial_width":2},"parameters":{"cutting_speed":80,"feed_per_tooth":0.05},"stock":{"state":"wrought","lot":` + strconv.Quote(nasty) + `},"machine":` + machine + `}`
	got, root := shown(t, h, "POST", "/v1/estimates", cut, asJSON)
	if got.status != http.StatusOK || strings.Count(pagetest.Text(root), "<script>alert(1)</script>") < 2 {
		t.Errorf("%d %.800s", got.status, pagetest.Text(pagetest.All(root, "main")[0]))
	}
	got, root = shown(t, h, "GET", "/v1/estimates?units=metric&"+url.QueryEscape(nasty)+"=1", "")
	if got.status != http.StatusBadRequest || !strings.Contains(pagetest.Text(root), "<img src=x") {
		t.Errorf("%d %s", got.status, pagetest.Text(root))
	}
}

// A request that goes wrong is told as a page to a browser, with the same status and
// everything that the problem document says.
func TestPagesOfProblems(t *testing.T) {
	h := embeddedService(t)
	for target, want := range map[string]int{
		"/v1/estimates?units=metric&grade=stainless&operation=drilling&class=drill-indexable&cutting_diamter=30": 400,
		"/v1/materials/no-such-grade": 404, "/nowhere": 404, "/v1/materials?limit=0": 422, "/v1/estimates?format=html&picture=moon&" + aCutFlat: 422,
	} {
		plain := call(t, h, "GET", strings.Replace(target, "format=html&picture=moon", "format=svg&picture=moon", 1), "")
		got, root := shown(t, h, "GET", target, "")
		text := pagetest.Text(root)
		if got.status != want || plain.status != want || got.header.Get("Cache-Control") != "no-store" {
			t.Errorf("%s: %d and %d, want %d", target, got.status, plain.status, want)
		}
		for _, f := range list(plain.doc, "faults") {
			for _, name := range []string{"field", "message", "fix", "code"} {
				if part, _ := f.(map[string]any)[name].(string); !strings.Contains(text, strings.Join(strings.Fields(strings.ReplaceAll(part, "`", " ")), " ")) && !strings.Contains(part, "`") {
					t.Errorf("%s: the page does not say %q", target, part)
				}
			}
		}
	}
	if ask := call(t, h, "GET", "/v1/estimates?units=metric", "", "Accept: text/html;q=0.1, application/json"); !strings.HasPrefix(ask.header.Get("Content-Type"), "application/problem+json") {
		t.Errorf("%v", ask.header)
	}
}

// HEAD has the headers of the page; explain, fields and picture are heard; what a page has
// no room for is not asked of routes without pages.
func TestPagesAreAskedFor(t *testing.T) {
	h := embeddedService(t)
	target := "/v1/estimates?format=html&machine=vmc-50&" + aCutFlat
	whole, root := shown(t, h, "GET", target, "")
	if head := call(t, h, "HEAD", target, "", asPage); head.status != 200 || len(head.body) != 0 || head.header.Get("Content-Length") != strconv.Itoa(len(whole.body)) {
		t.Errorf("HEAD: %d %v", head.status, head.header)
	}
	text := pagetest.Text(root)
	for _, need := range []string{"Derivation", "Picture", "Loads", "Sources", "Not checked", "Limits of vmc-50"} {
		if !strings.Contains(text, need) {
			t.Errorf("no %s", need)
		}
	}
	if _, root := shown(t, h, "GET", target+"&explain=false", ""); strings.Contains(pagetest.Text(root), "Derivation") {
		t.Error("explain=false, and there is a derivation")
	}
	if _, root := shown(t, h, "GET", target+"&fields=loads.torque", ""); strings.Contains(pagetest.Text(root), "Sources") || !strings.Contains(pagetest.Text(root), "Torque") {
		t.Error("fields are not heard")
	}
	if _, root := shown(t, h, "GET", target+"&picture=region", ""); !strings.Contains(pagetest.Text(root), "feed per turn") {
		t.Error("picture is not heard")
	}
	if got := call(t, h, "GET", "/v1/materials?format=html", ""); got.status != 406 {
		t.Errorf("a page of the materials: %d", got.status)
	}
}

// The address that a page prints gives the answer again, and holds no parameter that is not
// of the request.
func TestPagesSayHowToAskAgain(t *testing.T) {
	h := embeddedService(t)
	_, root := shown(t, h, "GET", "/v1/estimates?format=html&tool.cutting_diameter=30&"+strings.Replace(aCutFlat, "cutting_diameter=30&", "", 1), "")
	var again string
	for _, p := range pagetest.All(root, "p") {
		if pagetest.Attr(p, "class") == "paper" {
			again = pagetest.Text(pagetest.All(p, "code")[0])
		}
	}
	if !strings.Contains(again, "as_of=1") || !strings.Contains(again, "tool.cutting_diameter=30") {
		t.Fatalf("again: %q", again)
	}
	_, second := shown(t, h, "GET", again, "")
	if a, b := pagetest.All(root, "main")[0], pagetest.All(second, "main")[0]; pagetest.Text(a) != pagetest.Text(b) {
		t.Error("asked again it is another page")
	}
}

// Plans have a page as well: each cut with its verdict and what to set.
func TestPagesOfPlans(t *testing.T) {
	h := embeddedService(t)
	body, err := os.ReadFile("../testdata/plans/valve-block.json")
	if err != nil {
		t.Fatal(err)
	}
	plain := call(t, h, "POST", "/v1/plans", string(body), asJSON)
	_, root := shown(t, h, "POST", "/v1/plans", string(body), asJSON)
	numbers, text := numbersOf(root), pagetest.Text(root)
	cuts := list(plain.doc, "cuts")
	for _, c := range cuts {
		p := member0(member0(member0(c, "answer"), "parameters"), "spindle_speed").(float64)
		if ref := member0(c, "ref").(string); !numbers[strconv.FormatFloat(p, 'f', -1, 64)] || !strings.Contains(text, ref) {
			t.Errorf("%s at %g is not in the page", ref, p)
		}
	}
	if len(cuts) < 10 {
		t.Errorf("%d cuts", len(cuts))
	}
}
