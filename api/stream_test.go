package api_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// hole is a drilling cut of some diameter, in units of its own.
func hole(ref string, diameter float64, units string) string {
	return fmt.Sprintf(`{"units":%q,"ref":%q,"material":{"grade":"C45E"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":%v},"engagement":{"hole_depth":20,"through":true},"parameters":{"cutting_speed":22,"feed_per_revolution":0.16}}`, units, ref, diameter)
}

// Lines are answered in order, each as if it had been sent alone, whatever its units; a bad
// one is a problem in its place.
func TestLinesAreAnsweredInOrder(t *testing.T) {
	h := embeddedService(t)
	var body strings.Builder
	items := map[int]string{}
	const n = 2_000
	for i := range n {
		switch item := hole(fmt.Sprint("op-", i), 4+float64(i%160)/10, "metric"); {
		case i%97 == 13:
			items[i] = `{"units":"metric","ref":"bad-` + fmt.Sprint(i) + `","operation":"whittling"}`
		case i%101 == 7:
			items[i] = `{"ref":`
		case i%89 == 5:
			items[i] = strings.Replace(item, `"units":"metric",`, "", 1)
		case i%7 == 3:
			items[i] = strings.Replace(strings.Replace(hole(fmt.Sprint("op-", i), 0.5, "inch"), `"hole_depth":20`, `"hole_depth":0.8`, 1), `"feed_per_revolution":0.16`, `"feed_per_revolution":0.006`, 1)
		default:
			items[i] = item
		}
		body.WriteString(items[i] + "\n")
		if i%50 == 0 {
			body.WriteString("\r\n")
		}
	}
	got := call(t, h, "POST", "/v1/estimates/batch", body.String(), "Content-Type: application/x-ndjson")
	if got.status != http.StatusOK || !strings.HasPrefix(got.header.Get("Content-Type"), "application/x-ndjson") {
		t.Fatalf("%d %s", got.status, got.body)
	}
	lines := strings.Split(strings.TrimSuffix(string(got.body), "\n"), "\n")
	if len(lines) != n {
		t.Fatalf("%d lines for %d", len(lines), n)
	}
	problems := 0
	for i, line := range lines {
		alone := ask(t, h, "POST /v1/estimates", []byte(items[i]))
		if alone.status == http.StatusOK {
			if line != string(alone.body) {
				t.Fatalf("line %d is not what it is alone:\n%s\n%s", i, line, alone.body)
			}
			continue
		}
		problems++
		var p map[string]any
		if err := json.Unmarshal([]byte(line), &p); err != nil || p["code"] != member0(alone.doc, "code") || p["status"] != float64(alone.status) {
			t.Fatalf("line %d: %s\nalone: %s", i, line, alone.body)
		}
		if i%97 == 13 && p["ref"] != "bad-"+fmt.Sprint(i) {
			t.Errorf("line %d has the ref %v", i, p["ref"])
		}
	}
	if problems < 40 {
		t.Errorf("only %d problems", problems)
	}
	// Units of the query are those of lines without their own.
	with := call(t, h, "POST", "/v1/estimates/batch?units=metric&fields=loads.torque", strings.Replace(items[0], `"units":"metric",`, "", 1), "Content-Type: application/x-ndjson")
	if with.status != http.StatusOK || !strings.Contains(string(with.body), `"torque":`) || strings.Contains(string(with.body), `"thrust`) {
		t.Errorf("%d %s", with.status, with.body)
	}
	if bad := call(t, h, "POST", "/v1/estimates/batch?fields=no.such", items[0], "Content-Type: application/x-ndjson"); !strings.Contains(string(bad.body), `"problem`) && !strings.Contains(string(bad.body), `/problems/`) {
		t.Errorf("%s", bad.body)
	}
	if html := call(t, h, "POST", "/v1/estimates/batch?format=csv", items[0], "Content-Type: application/x-ndjson"); html.status != http.StatusNotAcceptable {
		t.Errorf("%d %s", html.status, html.body)
	}
	// The same items as JSON, answered in lines.
	asJSONItems := `{"units":"metric","items":[` + items[0] + "," + items[13] + `]}`
	if lined := call(t, h, "POST", "/v1/estimates/batch", asJSONItems, asJSON, "Accept: application/x-ndjson"); strings.Count(string(lined.body), "\n") != 2 || !strings.HasPrefix(string(lined.body), lines[0]) {
		t.Errorf("%s", lined.body)
	}
}

// Answers come while lines still go out, however many; a line that is too long and a body
// that breaks off are told in their place.
func TestLinesStream(t *testing.T) {
	server := httptest.NewServer(newShop(t).handlerWith(limitsOfBody(600)))
	defer server.Close()
	body, out := io.Pipe()
	r, _ := http.NewRequest("POST", server.URL+"/v1/spindle-checks/batch", body)
	r.Header.Set("Content-Type", "application/x-ndjson")
	item := `{"units":"metric","cut":` + strings.Replace(hole("a", 8, "metric"), `"units":"metric",`, "", 1) + `,"machine":"vmc-40"}` + "\n"
	heard := make(chan bool)
	const n = 20_000
	go func() {
		for i := range n {
			if i == 1_000 {
				io.WriteString(out, `{"ref":"`+strings.Repeat("x", 700)+`"}`+"\n")
			}
			io.WriteString(out, item)
			if i == 10_000 {
				<-heard
			}
		}
		out.Close()
	}()
	answer, err := server.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	lines := bufio.NewScanner(answer.Body)
	lines.Buffer(make([]byte, 64<<10), 1<<20)
	count, long := 0, 0
	for lines.Scan() {
		if count == 0 {
			heard <- true
		}
		count++
		if bytes.Contains(lines.Bytes(), []byte("body-too-large")) {
			long = count
		} else if !bytes.Contains(lines.Bytes(), []byte(`"verdict":"yes"`)) {
			t.Fatalf("line %d: %s", count, lines.Bytes())
		}
	}
	if count != n+1 || long != 1_001 {
		t.Errorf("%d answers, the long one at %d: %v", count, long, lines.Err())
	}
}

// A table is answered as the same batch in JSON.
func TestATableIsABatch(t *testing.T) {
	h := embeddedService(t)
	table := "ref,grade,operation,class,cutting_diameter,hole_depth,through,cutting_speed,feed_per_revolution\r\na,C45E,drilling,drill-twist-hss,8,20,true,22,0.16\r\nb,C45E,whittling,drill-twist-hss,8,20,true,22,0.16\r\nc,C45E,drilling,drill-twist-hss,12.5,20,true,22,0.16\r\n"
	items := `{"units":"metric","items":[` + strings.Join([]string{hole("a", 8, "metric"), strings.Replace(hole("b", 8, "metric"), `"drilling"`, `"whittling"`, 1), hole("c", 12.5, "metric")}, ",") + `]}`
	for _, format := range []string{"json", "csv"} {
		byTable := call(t, h, "POST", "/v1/estimates/batch?units=metric&format="+format, table, "Content-Type: text/csv")
		byJSON := call(t, h, "POST", "/v1/estimates/batch?format="+format, items, asJSON)
		strip := func(r reply) string {
			return strings.ReplaceAll(string(r.body), r.header.Get("X-Request-Id"), "")
		}
		if byTable.status != http.StatusOK || strip(byTable) != strip(byJSON) {
			t.Errorf("%s:\n%s\n%s", format, byTable.body, byJSON.body)
		}
	}
	if got := call(t, h, "POST", "/v1/estimates/batch", table, "Content-Type: text/csv"); got.status != http.StatusBadRequest || !strings.Contains(string(got.body), "units-missing") {
		t.Errorf("%d %s", got.status, got.body)
	}
}
