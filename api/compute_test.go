package api

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"go/parser"
	"go/token"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/unit"
)

// square is a computation of the tests: the diagonal of a square.
type square struct {
	Units string   `json:"units,omitempty" enum:"metric,inch"`
	Ref   string   `json:"ref,omitempty"`
	Side  *float64 `json:"side,omitempty" q:"length"`
}

type diagonal struct {
	Ref      string      `json:"ref,omitempty"`
	Units    string      `json:"units,omitempty" enum:"metric,inch"`
	UnitOf   wire.UnitOf `json:"unit_of"`
	Revision int64       `json:"data_revision,omitempty"`
	Verdict  string      `json:"verdict"`
	Diagonal unit.Opt    `json:"diagonal,omitzero" q:"length"`
	Area     area        `json:"area"`
}

type area struct {
	Sides  int      `json:"sides"`
	Height unit.Opt `json:"height,omitzero" q:"length"`
}

func measure(_ context.Context, snap *catalog.Snapshot, req *square, opt *ComputeOptions) (any, int, error) {
	switch {
	case req.Ref == "boom":
		panic("secret of the house")
	case req.Ref == "broken":
		return nil, 0, errors.New("secret of the house")
	case req.Side == nil:
		opt.Faults.Missing("side", "a square has a side")
	case *req.Side <= 0:
		opt.Faults.Range("side", "the side is {value}, not above {limit}", unit.Of(unit.Length, *req.Side), unit.Of(unit.Length, 0), "send one above {limit}")
	}
	if err := opt.Faults.List.OrNil(); err != nil {
		return nil, 0, err
	}
	verdict := domain.Yes
	if *req.Side > 100 {
		verdict = domain.No
	}
	out := &diagonal{Ref: req.Ref, Verdict: string(verdict), Diagonal: unit.Some(*req.Side * 1.4142135623730951), Area: area{4, unit.Some(*req.Side)}}
	if !opt.Batch {
		out.Units, out.Revision = opt.System.String(), snap.Revision
	}
	return out, 2, nil
}

func verdictOfSquare(answer any) domain.Verdict { return domain.Verdict(answer.(*diagonal).Verdict) }

func squares(t *testing.T, log *bytes.Buffer, snap func() *catalog.Snapshot) http.Handler {
	t.Helper()
	if snap == nil {
		loaded, err := catalog.New(catalog.Data{Revision: 7})
		if err != nil {
			t.Fatal(err)
		}
		snap = func() *catalog.Snapshot { return loaded }
	}
	options := Options{Snapshots: snap, ModelVersion: "9", Limits: Limits{BatchItems: 5}}
	if log != nil {
		options.Logger = slog.New(slog.NewJSONHandler(log, nil))
	}
	return newServer(options, computationRows("/v1/squares", computation(measure), batch(measure, verdictOfSquare))).Handler()
}

func post(h http.Handler, target, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", target, strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json; charset=UTF-8")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func get(h http.Handler, target string) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", target, nil))
	return w
}

func TestComputationByPostAndByGetIsTheSame(t *testing.T) {
	h := squares(t, nil, nil)
	byPost, byGet := post(h, "/v1/squares", `{"units":"inch","ref":"a","side":2}`), get(h, "/v1/squares?units=inch&ref=a&side=2")
	want := `{"ref":"a","units":"inch","unit_of":{"diagonal":"[in_i]","height":"[in_i]"},"data_revision":7,"verdict":"yes","diagonal":2.82843,"area":{"sides":4,"height":2}}`
	if byPost.Code != 200 || byPost.Body.String() != want || byGet.Body.String() != want {
		t.Errorf("POST %d %s\nGET %d %s\nwant %s", byPost.Code, byPost.Body, byGet.Code, byGet.Body, want)
	}
	if byPost.Header().Get("Data-Revision") != "7" {
		t.Errorf("headers %v", byPost.Header())
	}
}

func TestComputationInOtherFormats(t *testing.T) {
	h := squares(t, nil, nil)
	text := post(h, "/v1/squares", `{"units":"metric","side":2}`, "Accept", "text/plain")
	if got := text.Body.String(); !strings.Contains(got, "\ndiagonal=2.82843\narea.sides=4\n") || !strings.HasSuffix(got, "\nstatus=ok\nlines=10\n") {
		t.Errorf("text:\n%s", got)
	}
	csv := get(h, "/v1/squares?units=metric&side=2&format=csv")
	lines := strings.Split(csv.Body.String(), "\r\n")
	if !strings.HasPrefix(csv.Header().Get("Content-Type"), "text/csv; charset=utf-8") || len(lines) != 3 || !strings.Contains(lines[0], "diagonal [mm]") || !strings.Contains(lines[1], "2.82843") {
		t.Errorf("csv %q:\n%s", csv.Header().Get("Content-Type"), csv.Body)
	}
}

func TestComputationShowsTheFieldsAskedFor(t *testing.T) {
	h := squares(t, nil, nil)
	want := `{"units":"metric","unit_of":{"height":"mm"},"data_revision":7,"verdict":"yes","area":{"height":2}}`
	if got := get(h, "/v1/squares?units=metric&side=2&fields=area.height"); got.Body.String() != want {
		t.Errorf("%d %s, want %s", got.Code, got.Body, want)
	}
	got := get(h, "/v1/squares?units=metric&side=2&fields=area.hight")
	if got.Code != 400 || !strings.Contains(got.Body.String(), `"unknown-field"`) || !strings.Contains(got.Body.String(), "area.height") {
		t.Errorf("%d %s", got.Code, got.Body)
	}
}

func TestComputationCollectsTheFaultsOfBothSides(t *testing.T) {
	h := squares(t, nil, nil)
	got := post(h, "/v1/squares?explain=perhaps", `{"units":"inch","colour":1,"side":-2}`)
	var p wire.Problem
	if err := json.Unmarshal(got.Body.Bytes(), &p); err != nil {
		t.Fatal(err)
	}
	var faults []string
	for _, f := range p.Faults {
		faults = append(faults, f.Code+" "+f.Field)
	}
	want := "wrong-type explain, unknown-field colour, value-out-of-range side"
	if p.Status != 400 || p.Code != requestInvalid || strings.Join(faults, ", ") != want {
		t.Errorf("%d %s %q, want %q", p.Status, p.Code, faults, want)
	}
	if text := p.Faults[2].Message; !strings.Contains(text, "-2 in") {
		t.Errorf("in inches: %q", text)
	}
}

func TestComputationOfALaterRevision(t *testing.T) {
	h := squares(t, nil, nil)
	for target, code := range map[string]int{"as_of=7": 200, "as_of=8": 422, "as_of=0": 422, "as_of=6": 422, "as_of=2026-03-03T12:00:00Z": 422, "as_of=soon": 400} {
		if got := get(h, "/v1/squares?units=metric&side=2&"+target); got.Code != code {
			t.Errorf("%s: %d %s, want %d", target, got.Code, got.Body, code)
		}
	}
}

func TestFaultsOfOursStayOurs(t *testing.T) {
	for _, ref := range []string{"boom", "broken"} {
		var log bytes.Buffer
		got := post(squares(t, &log, nil), "/v1/squares", `{"units":"metric","ref":"`+ref+`","side":2}`, "X-Request-Id", "find-me")
		if got.Code != 500 || strings.Contains(got.Body.String(), "secret") || !strings.Contains(got.Body.String(), `"code":"internal"`) || !strings.Contains(got.Body.String(), "find-me") {
			t.Errorf("%s: %d %s", ref, got.Code, got.Body)
		}
		if n := strings.Count(log.String(), "\n"); n != 1 || !strings.Contains(log.String(), "secret of the house") || !strings.Contains(log.String(), "find-me") {
			t.Errorf("%s: %d lines of log: %s", ref, n, log.String())
		}
	}
}

func TestLogHasOneLinePerRequest(t *testing.T) {
	var log bytes.Buffer
	h := squares(t, &log, nil)
	get(h, "/v1/squares?units=metric&side=2")
	get(h, "/nowhere/at/all")
	var lines []map[string]any
	for text := range strings.SplitSeq(strings.TrimSpace(log.String()), "\n") {
		var line map[string]any
		if err := json.Unmarshal([]byte(text), &line); err != nil {
			t.Fatal(err)
		}
		lines = append(lines, line)
	}
	if len(lines) != 2 {
		t.Fatalf("%d lines: %s", len(lines), log.String())
	}
	if l := lines[0]; l["route"] != "/v1/squares" || l["status"] != 200.0 || l["findings"] != 2.0 || l["id"] == "" || l["time"] == nil {
		t.Errorf("line %v", l)
	}
	if l := lines[1]; l["route"] != "none" || l["status"] != 404.0 {
		t.Errorf("line %v", l)
	}
}

func TestNoDataYet(t *testing.T) {
	h := squares(t, nil, func() *catalog.Snapshot { return nil })
	got := get(h, "/v1/squares?units=metric&side=2")
	if got.Code != 503 || !strings.Contains(got.Body.String(), `"data-not-ready"`) || got.Header().Get("Retry-After") == "" {
		t.Errorf("%d %s %v", got.Code, got.Body, got.Header())
	}
}

func TestBatchKeepsOrderAndLetsABadItemFailAlone(t *testing.T) {
	h := squares(t, nil, nil)
	got := post(h, "/v1/squares/batch", `{"units":"inch","items":[{"ref":"a","side":1},{"ref":"b","side":-1},{"ref":"c","sied":1},7,{"ref":"boom","side":1}]}`)
	var out struct {
		Units        string
		UnitOf       map[string]string `json:"unit_of"`
		DataRevision int64             `json:"data_revision"`
		ModelVersion string            `json:"model_version"`
		Counts       wire.Counts
		Items        []struct {
			Ref, Code, Units string
			Status           int
			Diagonal         float64
		}
	}
	if err := json.Unmarshal(got.Body.Bytes(), &out); err != nil || got.Code != 200 {
		t.Fatalf("%d %s", got.Code, got.Body)
	}
	if out.Units != "inch" || out.UnitOf["diagonal"] != "[in_i]" || out.DataRevision != 7 || out.ModelVersion != "9" || out.Counts != (wire.Counts{Items: 5, Yes: 1, Problems: 4}) {
		t.Errorf("%s", got.Body)
	}
	for i, want := range []string{"a  0", "b value-out-of-range 422", "c request-invalid 400", " json-invalid 400", "boom internal 500"} {
		item := out.Items[i]
		if text := item.Ref + " " + item.Code + " " + strconv.Itoa(item.Status); text != want || item.Units != "" {
			t.Errorf("item %d: %q in units %q, want %q", i, text, item.Units, want)
		}
	}
	if out.Items[0].Diagonal != 1.41421 {
		t.Errorf("item 0: %s", got.Body)
	}
}

func TestBatchFaults(t *testing.T) {
	h := squares(t, nil, nil)
	for _, c := range []struct {
		name, body string
		status     int
		code       string
	}{
		{"too many", `{"units":"metric","items":[{},{},{},{},{},{}]}`, 413, "batch-too-large"},
		{"no units", `{"items":[{"side":1}]}`, 400, "units-missing"},
		{"no items", `{"units":"metric"}`, 400, "field-missing"},
		{"no list", `{"units":"metric","items":{}}`, 400, "wrong-type"},
		{"more than items", `{"units":"metric","items":[],"item":1}`, 400, "unknown-field"},
		{"no JSON", `{"units":"metric","items":[`, 400, "json-invalid"},
	} {
		got := post(h, "/v1/squares/batch", c.body)
		if got.Code != c.status || !strings.Contains(got.Body.String(), `"code":"`+c.code+`"`) {
			t.Errorf("%s: %d %s", c.name, got.Code, got.Body)
		}
	}
	if got := post(h, "/v1/squares/batch", `{"units":"metric","items":[]}`); got.Code != 200 || !strings.Contains(got.Body.String(), `"items":[]`) {
		t.Errorf("an empty batch: %d %s", got.Code, got.Body)
	}
	if got := post(h, "/v1/squares/batch", `{"units":"metric","items":[{"units":"inch","side":1}]}`); !strings.Contains(got.Body.String(), `"fields-conflict"`) {
		t.Errorf("an item in other units: %s", got.Body)
	}
}

// The address of a caller is that of the connection, whatever headers say: Echo's
// default would believe them (CVE-2026-118653).
func TestAddressIsThatOfTheConnection(t *testing.T) {
	s := newServer(Options{Snapshots: func() *catalog.Snapshot { return nil }}, nil)
	r := httptest.NewRequest("GET", "/", nil)
	r.RemoteAddr = "192.0.2.7:4711"
	r.Header.Set("X-Forwarded-For", "198.51.100.1")
	r.Header.Set("X-Real-Ip", "198.51.100.2")
	if got := s.echo.NewContext(r, httptest.NewRecorder()).RealIP(); got != "192.0.2.7" {
		t.Errorf("the caller's address is %s", got)
	}
}

// The router's proxy and time-out middleware are not used: the one believes what it
// is sent (CVE-2026-118651), the other races by design.
func TestNoMiddlewareOfTheRouter(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 20 {
		t.Fatal(len(files), err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			if strings.HasSuffix(spec.Path.Value, `/middleware"`) {
				t.Errorf("%s imports %s", name, spec.Path.Value)
			}
		}
	}
}
