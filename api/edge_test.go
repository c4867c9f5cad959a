package api_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// aCut is a whole estimate, for rows that spoil one thing in it.
const aCut = `"units":"metric","material":{"grade":"1.4301"},"operation":"drilling",` +
	`"tool":{"class":"drill-indexable","cutting_diameter":30},"engagement":{"hole_depth":60,"through":true},` +
	`"parameters":{"cutting_speed":150,"feed_per_revolution":0.12},"force_data":{"specific_cutting_force_1_1":2300,"chip_thickness_exponent":0.2}`

// aCutFlat is the same as query parameters.
const aCutFlat = "units=metric&grade=1.4301&operation=drilling&class=drill-indexable&cutting_diameter=30&hole_depth=60&through=true" +
	"&cutting_speed=150&feed_per_revolution=0.12&specific_cutting_force_1_1=2300&chip_thickness_exponent=0.2"

// TestStrictEdge holds the edge against inputs that lenient services take in
// silence: a value from the wrong place, a second value, a number that is none.
func TestStrictEdge(t *testing.T) {
	h := embeddedService(t)
	if got := call(t, h, "POST", "/v1/estimates", "{"+aCut+"}", asJSON); got.status != 200 {
		t.Fatalf("the sound request answers %d %s", got.status, got.body)
	}
	if got := call(t, h, "GET", "/v1/estimates?"+aCutFlat, ""); got.status != 200 {
		t.Fatalf("the sound query answers %d %s", got.status, got.body)
	}
	big := `{"units":"metric","ref":"` + strings.Repeat("x", 1<<20) + `"}`
	for _, c := range []struct {
		name, method, target, body string
		headers                    []string
		status                     int
		code, fault                string // fault: one that must be among them; empty: not looked at
	}{
		{"a query parameter does not override the path", "GET", "/v1/materials/x5crni18-10?id=c45e", "", nil, 400, "unknown-parameter", "unknown-parameter id"},
		{"a query parameter beside a body", "POST", "/v1/estimates?cutting_speed=1", "{" + aCut + "}", []string{asJSON}, 400, "unknown-parameter", "unknown-parameter cutting_speed"},
		{"a second value after the body", "POST", "/v1/estimates", "{" + aCut + "}{" + aCut + "}", []string{asJSON}, 400, "json-invalid", ""},
		{"junk after the body", "POST", "/v1/estimates", "{" + aCut + "} junk", []string{asJSON}, 400, "json-invalid", ""},
		{"an unknown member", "POST", "/v1/estimates", `{"colour":"red",` + aCut + "}", []string{asJSON}, 400, "unknown-field", "unknown-field colour"},
		{"a member in other letters", "POST", "/v1/estimates", `{"OPERATION":"turning",` + aCut + "}", []string{asJSON}, 400, "unknown-field", "unknown-field OPERATION"},
		{"a member twice", "POST", "/v1/estimates", `{"operation":"drilling",` + aCut + "}", []string{asJSON}, 400, "json-invalid", "json-invalid operation"},
		{"an empty body", "POST", "/v1/estimates", "", []string{asJSON}, 400, "json-invalid", ""},
		{"blanks for a body", "POST", "/v1/estimates", " \n", []string{asJSON}, 400, "json-invalid", ""},
		{"null for a body", "POST", "/v1/estimates", "null", []string{asJSON}, 400, "json-invalid", ""},
		{"a list for a body", "POST", "/v1/estimates", "[]", []string{asJSON}, 400, "json-invalid", ""},
		{"an empty object", "POST", "/v1/estimates", "{}", []string{asJSON}, 400, "request-invalid", "units-missing units"},
		{"null for a number", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", "null", 1) + "}", []string{asJSON}, 400, "", "wrong-type parameters.cutting_speed"},
		{"text for a number", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", `"150"`, 1) + "}", []string{asJSON}, 400, "", "wrong-type parameters.cutting_speed"},
		{"a number beyond all", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", "1e999", 1) + "}", []string{asJSON}, 422, "", "value-out-of-range parameters.cutting_speed"},
		{"NaN in a body", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", "NaN", 1) + "}", []string{asJSON}, 400, "json-invalid", ""},
		{"zero", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", "0", 1) + "}", []string{asJSON}, 422, "", "value-out-of-range parameters.cutting_speed"},
		{"a negative number", "POST", "/v1/estimates", "{" + strings.Replace(aCut, "150", "-150", 1) + "}", []string{asJSON}, 422, "", "value-out-of-range parameters.cutting_speed"},
		{"both kinds at once", "POST", "/v1/estimates", `{"colour":1,` + strings.Replace(aCut, "150", "-150", 1) + "}", []string{asJSON}, 400, "request-invalid", "value-out-of-range parameters.cutting_speed"},

		{"NaN in a query", "GET", "/v1/estimates?" + strings.Replace(aCutFlat, "=150", "=NaN", 1), "", nil, 422, "", "value-out-of-range parameters.cutting_speed"},
		{"Inf in a query", "GET", "/v1/estimates?" + strings.Replace(aCutFlat, "=150", "=Inf", 1), "", nil, 422, "", "value-out-of-range parameters.cutting_speed"},
		{"an empty parameter", "GET", "/v1/estimates?" + strings.Replace(aCutFlat, "=150", "=", 1), "", nil, 400, "", "wrong-type parameters.cutting_speed"},
		{"a parameter twice", "GET", "/v1/estimates?" + aCutFlat + "&cutting_speed=2", "", nil, 400, "", "wrong-type parameters.cutting_speed"},
		{"a decimal comma", "GET", "/v1/estimates?" + strings.Replace(aCutFlat, "=150", "=1,5", 1), "", nil, 400, "", "wrong-type parameters.cutting_speed"},
		{"an unknown parameter", "GET", "/v1/estimates?" + aCutFlat + "&depht=2", "", nil, 400, "unknown-parameter", "unknown-parameter depht"},
		{"a reserved parameter twice", "GET", "/v1/estimates?" + aCutFlat + "&explain=true&explain=false", "", nil, 400, "wrong-type", "wrong-type explain"},
		{"explain is neither true nor false", "POST", "/v1/estimates?explain=yes", "{" + aCut + "}", []string{asJSON}, 400, "wrong-type", "wrong-type explain"},
		{"a query that cannot be read", "GET", "/v1/estimates?" + aCutFlat + "&ref=%zz", "", nil, 400, "wrong-type", ""},
		{"no units in a query", "GET", "/v1/estimates?" + strings.Replace(aCutFlat, "units=metric&", "", 1), "", nil, 400, "units-missing", "units-missing units"},
		{"a list parameter twice", "GET", "/v1/materials?limit=1&limit=2", "", nil, 400, "wrong-type", "wrong-type limit"},
		{"a list parameter empty", "GET", "/v1/materials?limit=", "", nil, 400, "wrong-type", "wrong-type limit"},
		{"a list of NaN", "GET", "/v1/materials?limit=NaN", "", nil, 400, "wrong-type", "wrong-type limit"},
		{"a list of nothing", "GET", "/v1/materials?limit=0", "", nil, 422, "value-out-of-range", "value-out-of-range limit"},
		{"a list beyond the most", "GET", "/v1/materials?limit=501", "", nil, 422, "value-out-of-range", "value-out-of-range limit"},
		{"an unknown group", "GET", "/v1/materials?group=X", "", nil, 422, "value-out-of-range", "value-out-of-range group"},
		{"unknown units of a read", "GET", "/v1/machines?units=imperial", "", nil, 400, "units-unknown", "units-unknown units"},
		{"several faults of a read at once", "GET", "/v1/materials?limit=0&grup=M", "", nil, 400, "unknown-parameter", "unknown-parameter grup"},

		{"no content type", "POST", "/v1/estimates", "{" + aCut + "}", nil, 415, "media-type-unsupported", ""},
		{"another JSON", "POST", "/v1/estimates", "{" + aCut + "}", []string{"Content-Type: application/merge-patch+json"}, 415, "media-type-unsupported", ""},
		{"a form", "POST", "/v1/estimates", "a=b", []string{"Content-Type: application/x-www-form-urlencoded"}, 415, "media-type-unsupported", ""},
		{"another character set", "POST", "/v1/estimates", "{" + aCut + "}", []string{"Content-Type: application/json; charset=latin1"}, 415, "media-type-unsupported", ""},
		{"a compressed body", "POST", "/v1/estimates", "{" + aCut + "}", []string{asJSON, "Content-Encoding: gzip"}, 415, "media-type-unsupported", ""},
		{"a picture asked for", "GET", "/v1/materials", "", []string{"Accept: image/webp"}, 406, "not-acceptable", ""},
		{"an unknown format", "GET", "/v1/materials?format=xml", "", nil, 406, "not-acceptable", ""},
		{"a record as a table", "GET", "/v1/tool-classes/mill-end", "", []string{"Accept: text/csv"}, 406, "not-acceptable", ""},

		{"a slash at the end of an id", "GET", "/v1/machines/vmc-50/", "", nil, 404, "not-found", ""},
		{"a slash at the end of a list", "GET", "/v1/machines/", "", nil, 404, "not-found", ""},
		{"a slash at the end of a computation", "POST", "/v1/estimates/", "{" + aCut + "}", []string{asJSON}, 404, "not-found", ""},
		{"a second part behind an id", "GET", "/v1/materials/x5crni18-10/more", "", nil, 404, "not-found", ""},
		{"a slash in an id, encoded", "GET", "/v1/materials/x5crni18-10%2Fmore", "", nil, 404, "not-found", ""},
		{"no such path", "GET", "/v2/materials", "", nil, 404, "not-found", ""},
		{"no path", "GET", "/", "", nil, 404, "not-found", ""},
		{"no such id", "GET", "/v1/machines/none", "", nil, 404, "not-found", ""},
		{"no such problem", "GET", "/problems/none", "", nil, 404, "not-found", ""},
		{"another method", "PATCH", "/v1/machines/vmc-50", "{}", []string{asJSON}, 405, "method-not-allowed", ""},
		{"a method of nowhere", "BREW", "/v1/estimates", "", nil, 405, "method-not-allowed", ""},
		{"trace", "TRACE", "/v1/estimates", "", nil, 405, "method-not-allowed", ""},
		{"options", "OPTIONS", "/v1/estimates", "", nil, 405, "method-not-allowed", ""},

		{"a body over the limit", "POST", "/v1/estimates", big, []string{asJSON}, 413, "body-too-large", ""},
		{"a write without a database", "PUT", "/v1/machines/mine", "{}", []string{asJSON, "If-None-Match: *"}, 503, "storage-not-configured", ""},
		{"a removal without a database", "DELETE", "/v1/machines/mine", "", []string{"If-Match: *"}, 503, "storage-not-configured", ""},
		{"a history without a database", "GET", "/v1/changes", "", nil, 503, "storage-not-configured", ""},
		{"a revision that is not there", "GET", "/v1/materials?as_of=2", "", nil, 422, "as-of-unknown", "as-of-unknown as_of"},
		{"a revision that is none", "GET", "/v1/materials?as_of=yesterday", "", nil, 400, "wrong-type", "wrong-type as_of"},
		{"a cursor of our own making", "GET", "/v1/materials?cursor=abc", "", nil, 400, "cursor-invalid", "cursor-invalid cursor"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := call(t, h, c.method, c.target, c.body, c.headers...)
			code, faults := problemOf(t, got)
			if got.status != c.status || c.code != "" && code != c.code {
				t.Errorf("%d %s, want %d %s: %s", got.status, code, c.status, c.code, got.body)
			}
			if c.fault != "" && !contains(faults, c.fault) {
				t.Errorf("faults %q, want %q among them", faults, c.fault)
			}
			page := strings.HasPrefix(got.header.Get("Content-Type"), "text/html")
			guarded := got.header.Get("Content-Security-Policy") != "" && got.header.Get("Referrer-Policy") == "no-referrer"
			if got.header.Get("X-Content-Type-Options") != "nosniff" || guarded != page {
				t.Errorf("headers %v", got.header)
			}
		})
	}
}

func contains(list []string, want string) bool {
	for _, text := range list {
		if text == want {
			return true
		}
	}
	return false
}

func TestADecimalCommaGetsHelp(t *testing.T) {
	got := call(t, embeddedService(t), "GET", "/v1/estimates?"+strings.Replace(aCutFlat, "=150", "=1,5", 1), "")
	if text := string(got.body); !strings.Contains(text, "1.5") || strings.Contains(text, "strconv") {
		t.Errorf("%s", text)
	}
}

func TestAllowListsTheMethods(t *testing.T) {
	h := embeddedService(t)
	for target, want := range map[string]string{
		"/v1/machines/some":   "DELETE, GET, HEAD, PUT",
		"/v1/materials":       "GET, HEAD",
		"/v1/estimates":       "GET, HEAD, POST, QUERY",
		"/v1/estimates/batch": "POST, QUERY",
		"/healthz":            "GET, HEAD",
	} {
		got := call(t, h, "PATCH", target, "")
		if got.status != http.StatusMethodNotAllowed || got.header.Get("Allow") != want {
			t.Errorf("%s: %d, Allow: %s; want %s", target, got.status, got.header.Get("Allow"), want)
		}
	}
}

// HEAD must give the headers of GET and no body (RFC 9110, 9.3.2).
func TestHeadWorksWhereGetDoes(t *testing.T) {
	h := embeddedService(t)
	for _, target := range []string{"/v1/materials", "/v1/materials/x5crni18-10", "/v1/tool-classes/mill-end", "/v1/sources", "/v1/estimates?" + aCutFlat, "/healthz", "/readyz", "/version", "/problems", "/problems/not-found"} {
		get, head := call(t, h, "GET", target, ""), call(t, h, "HEAD", target, "")
		if get.status != 200 || head.status != 200 || len(head.body) != 0 {
			t.Errorf("%s: GET %d, HEAD %d with %d bytes", target, get.status, head.status, len(head.body))
		}
		for _, name := range []string{"Content-Type", "Content-Length", "ETag", "Data-Revision"} {
			if g, w := head.header.Get(name), get.header.Get(name); g != w {
				t.Errorf("%s: HEAD has %s %q, GET %q", target, name, g, w)
			}
		}
	}
	if got := call(t, h, "HEAD", "/v1/materials/none", ""); got.status != 404 || len(got.body) != 0 {
		t.Errorf("HEAD of nothing: %d %q", got.status, got.body)
	}
}

// A body without a stated length is cut off at the limit as well.
func TestAChunkedBodyOverTheLimit(t *testing.T) {
	endless := &endlessBody{}
	r := httptest.NewRequest("POST", "/v1/estimates", endless)
	r.ContentLength = -1
	r.Header.Set("Content-Type", "application/json")
	got := answerTo(embeddedService(t), r)
	if code, _ := problemOf(t, got); got.status != 413 || code != "body-too-large" {
		t.Errorf("%d %s", got.status, code)
	}
	if endless.read > 2<<20 {
		t.Errorf("%d bytes were read", endless.read)
	}
}

// endlessBody never ends.
type endlessBody struct{ read int }

func (b *endlessBody) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	b.read += len(p)
	return len(p), nil
}

func TestProblemsForWhoReadsText(t *testing.T) {
	h := embeddedService(t)
	for _, c := range []struct {
		target string
		header []string
	}{
		{"/v1/estimates?" + aCutFlat + "&depht=2&format=text", nil},
		{"/v1/estimates?" + aCutFlat + "&depht=2", []string{"Accept: text/plain"}},
		{"/v1/materials/none?format=text", nil},
		{"/nowhere", []string{"Accept: text/plain"}},
	} {
		got := call(t, h, "GET", c.target, "", c.header...)
		if got.status < 400 || !strings.HasPrefix(got.header.Get("Content-Type"), "text/plain") || !strings.Contains(string(got.body), "\nstatus=error\nlines=") {
			t.Errorf("%s: %d %s\n%s", c.target, got.status, got.header.Get("Content-Type"), got.body)
		}
	}
	got := call(t, h, "GET", "/v1/materials?limit=0", "", "Accept: text/csv")
	if !strings.HasPrefix(got.header.Get("Content-Type"), "application/problem+json") {
		t.Errorf("a caller of CSV gets %s", got.header.Get("Content-Type"))
	}
}

func TestRequestIDs(t *testing.T) {
	h := embeddedService(t)
	if got := call(t, h, "GET", "/healthz", "", "X-Request-Id: job-17.b"); got.header.Get("X-Request-Id") != "job-17.b" {
		t.Errorf("a plain id became %q", got.header.Get("X-Request-Id"))
	}
	seen := make(map[string]bool)
	for _, given := range []string{"", "with blank", "new\tline", strings.Repeat("x", 65), "<script>"} {
		id := call(t, h, "GET", "/healthz", "", "X-Request-Id: "+given).header.Get("X-Request-Id")
		if id == "" || id == given || seen[id] {
			t.Errorf("%q became %q", given, id)
		}
		seen[id] = true
	}
}
