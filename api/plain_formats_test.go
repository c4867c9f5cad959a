package api_test

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawnCut draws a cut as query parameters: speeds and feeds of the shop, any of several
// operations, either unit system.
func drawnCut(t *rapid.T) url.Values {
	number := func(name string, low, high float64) string {
		return strconv.FormatFloat(rapid.Float64Range(low, high).Draw(t, name), 'f', 4, 64)
	}
	q := url.Values{"grade": {rapid.SampledFrom(grades).Draw(t, "grade")}, "units": {rapid.SampledFrom([]string{"metric", "inch"}).Draw(t, "units")}}
	k, speed := 1.0, 1.0
	if q.Get("units") == "inch" {
		k, speed = 1/25.4, 3.28
	}
	set := func(name string, low, high float64) { q.Set(name, number(name, low*k, high*k)) }
	switch rapid.SampledFrom([]string{"turning", "drilling", "side-milling"}).Draw(t, "operation") {
	case "turning":
		q.Set("operation", "turning")
		q.Set("class", "turning-external")
		set("work_diameter", 30, 200)
		set("depth_of_cut", 0.5, 4)
		q.Set("machine", "lathe-315")
	case "drilling":
		q.Set("operation", "drilling")
		q.Set("class", "drill-solid-carbide")
		q.Set("through", "true")
		set("cutting_diameter", 4, 20)
		set("hole_depth", 10, 60)
		q.Set("machine", "vmc-50")
	default:
		q.Set("operation", "side-milling")
		q.Set("class", "mill-end")
		q.Set("effective_edges", "4")
		set("cutting_diameter", 10, 20)
		set("axial_depth", 2, 20)
		set("radial_width", 0.5, 8)
		q.Set("machine", "vmc-50")
	}
	q.Set("cutting_speed", number("cutting_speed", 30*speed, 250*speed))
	set("feed_per_revolution", 0.05, 0.4)
	return q
}

// plus is a query with more parameters, in pairs.
func plus(q url.Values, more ...string) string {
	own := url.Values{}
	for name, list := range q {
		own[name] = list
	}
	for i := 0; i+1 < len(more); i += 2 {
		own.Set(more[i], more[i+1])
	}
	return own.Encode()
}

var plainNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// Every form gives the digits of JSON: text and CSV all of them, value each by its path.
func TestEveryFormHasTheDigitsOfJSON(t *testing.T) {
	h := embeddedService(t)
	rapid.Check(t, func(rt *rapid.T) {
		q := drawnCut(rt)
		path := rapid.SampledFrom([]string{"/v1/estimates", "/v1/recommendations"}).Draw(rt, "route")
		get := func(more ...string) reply { return call(t, h, "GET", path+"?"+plus(q, more...), "") }
		whole := get()
		decoder := json.NewDecoder(strings.NewReader(string(whole.body)))
		decoder.UseNumber()
		var doc map[string]any
		if err := decoder.Decode(&doc); err != nil || whole.status != http.StatusOK {
			rt.Fatalf("%d %s %v", whole.status, whole.body, err)
		}
		want := map[string]string{}
		spellings("", doc, want)
		if textOf(doc, "verdict") != "no" && len(want) < 20 {
			rt.Fatalf("only %d numbers", len(want))
		}

		text := linesOf(rt, string(get("format", "text").body))
		rows, others := rowsOf(rt, ',', get("format", "csv")), rowsOf(rt, ';', get("format", "csv", "decimal", "comma"))
		cells := map[string]string{}
		for i, heading := range rows[0] {
			name, _, _ := strings.Cut(heading, " [")
			cells[name] = rows[1][i]
			if _, number := want[name]; number && strings.Replace(rows[1][i], ".", ",", 1) != others[1][i] {
				rt.Fatalf("%s: %s with a point, %s with a comma", name, rows[1][i], others[1][i])
			}
		}
		for name, digits := range want {
			if text[name] != digits || cells[name] != digits || !plainNumber.MatchString(digits) {
				rt.Fatalf("%s is %s in JSON, %s in text, %s in CSV", name, digits, text[name], cells[name])
			}
		}

		torque := strconv.Itoa(placeOf(doc, "machine.limits", "limit", "torque"))
		fields := map[string]string{"loads.torque": "loads.torque", "spindle_speed": "parameters.spindle_speed", "feed_rate": "parameters.feed_rate", "machine.limits[0].utilisation": "machine.limits[0].utilisation",
			"machine.limits[limit=torque].demand": "machine.limits[" + torque + "].demand", "verdict": "verdict"}
		for field, path := range fields {
			if field == "feed_rate" { // motion has some too
				continue
			}
			got := get("format", "value", "field", field)
			value, there := text[path]
			if there && (got.status != http.StatusOK || string(got.body) != value) || !there && (got.status != http.StatusUnprocessableEntity || !strings.HasPrefix(string(got.body), "#ERR no-value ")) {
				rt.Fatalf("%s: %d %q, in text %q", field, got.status, got.body, value)
			}
		}
	})
}

// linesOf reads a text, which is ASCII and closed by its status and the count of its lines.
func linesOf(t *rapid.T, body string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(body) {
		name, value, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
		if out[name] = value; !ok {
			t.Fatalf("a line without =: %q", line)
		}
	}
	if out["lines"] != strconv.Itoa(strings.Count(body, "\n")) || out["status"] == "" || strings.ContainsFunc(body, func(r rune) bool { return r > 126 }) {
		t.Fatalf("not closed, or not ASCII: %s", body)
	}
	return out
}

// rowsOf reads the headings and the one row of a table.
func rowsOf(t *rapid.T, comma rune, got reply) [][]string {
	r := csv.NewReader(strings.NewReader(string(got.body)))
	r.Comma = comma
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 2 {
		t.Fatalf("%d rows, %v: %s", len(rows), err, got.body)
	}
	return rows
}

// placeOf finds a member of a list by what it says.
func placeOf(doc any, list, name, word string) int {
	nodes, _ := find(doc, list+"[*]")
	for i, n := range nodes {
		if textOf(n.value, name) == word {
			return i
		}
	}
	return -1
}

// spellings lists the numbers of a document by their paths.
func spellings(path string, v any, into map[string]string) {
	switch v := v.(type) {
	case json.Number:
		into[path] = v.String()
	case map[string]any:
		for name, inner := range v {
			spellings(strings.TrimPrefix(path+"."+name, "."), inner, into)
		}
	case []any:
		for i, inner := range v {
			spellings(path+"["+strconv.Itoa(i)+"]", inner, into)
		}
	}
}

// What goes wrong is a marked line with the status it has in JSON.
func TestErrorsOfPlainForms(t *testing.T) {
	h := embeddedService(t)
	for _, c := range []struct {
		query, want string
		status      int
	}{
		{"format=value&field=torque&" + aCutFlat, "#ERR unknown-field ", 400},
		{"format=value&field=loads.torq&" + aCutFlat, "#ERR unknown-field ", 400},
		{"format=value&field=machine.limits[&" + aCutFlat, "#ERR unknown-field ", 400},
		{"format=value&field=a]b[&" + aCutFlat, "#ERR unknown-field ", 400},
		{"format=value&field=loads&" + aCutFlat, "#ERR unknown-field ", 400},
		{"format=value&field=findings.code&" + aCutFlat, "#ERR no-value ", 422},
		{"format=value&field=machine.limits[limit=none].demand&machine=vmc-50&" + aCutFlat, "#ERR no-value ", 422},
		{"format=value&" + aCutFlat, "#ERR field-missing ", 400},
		{"format=value&field=verdict", "#ERR request-invalid ", 400},
		{"format=words&x=1&" + aCutFlat, "#ERR unknown-parameter ", 400},
	} {
		got := call(t, h, "GET", "/v1/estimates?"+c.query, "")
		body := string(got.body)
		if got.status != c.status || !strings.HasPrefix(body, c.want) || strings.Contains(body, "\n") || !strings.HasPrefix(got.header.Get("Content-Type"), "text/plain") {
			t.Errorf("%s: %d %s", c.query, got.status, body)
		}
	}
	for query, code := range map[string]string{
		"field=verdict": "fields-conflict", "format=csv&decimal=comma&delimiter=comma": "fields-conflict", "format=csv&decimal=dot": "value-out-of-range",
		"decimal=comma": "fields-conflict", "speed_step=0x10": "fields-conflict", "format=csv&feed_mode=per-minute": "fields-conflict", "format=csv&bom=maybe": "wrong-type", "format=svg&fields=loads": "fields-conflict", "handling=hard": "value-out-of-range",
	} {
		got := call(t, h, "GET", "/v1/estimates?"+query+"&"+aCutFlat, "")
		if codes := problemCodes(got.doc); len(codes) == 0 || codes[0] != code {
			t.Errorf("%s: %d %s", query, got.status, got.body)
		}
	}
}

// A byte order mark, semicolons and tabs stand where they were asked for, in lists and
// exports too.
func TestStyleOfCSV(t *testing.T) {
	h := embeddedService(t)
	for target, want := range map[string]string{
		"/v1/sources?format=csv&bom=true&delimiter=semicolon&limit=1":                                           "\ufeffdata_revision;model_version;id;",
		"/v1/sources?format=csv&delimiter=tab&limit=1":                                                          "data_revision\tmodel_version\tid\t",
		"/v1/exports/force?format=csv&decimal=comma&bom=true":                                                   "\ufeffid;",
		"/v1/hardness-conversions?grade=C45&value=300&scale=HV&format=csv":                                      "units,",
		"/v1/hardness-conversions?grade=C45&value=300&scale=HV&format=value&field=conversions[scale=HBW].value": "285",
	} {
		got := call(t, h, "GET", target, "")
		if got.status != http.StatusOK || !strings.HasPrefix(string(got.body), want) {
			t.Errorf("%s: %d %.200q", target, got.status, got.body)
		}
	}
	point, comma := call(t, h, "GET", "/v1/exports/force?format=csv", ""), call(t, h, "GET", "/v1/exports/force?format=csv&decimal=comma", "")
	if point.header.Get("ETag") == comma.header.Get("ETag") || !strings.Contains(string(comma.body), ";0,") || strings.Contains(string(point.body), ";0,") {
		t.Errorf("tags %s and %s: %.300s", point.header.Get("ETag"), comma.header.Get("ETag"), comma.body)
	}
}
