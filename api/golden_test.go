package api_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the answers of testdata/api anew")

// golden is a file of testdata/api: a request, and the answer this service gave to
// it. It pins behaviour and is no evidence (self). To add one, write a file with
// title, route and request and run go test ./api -run Golden -update.
type golden struct {
	Title    string          `json:"title"`
	Standing string          `json:"standing"`
	Route    string          `json:"route"`
	Request  json.RawMessage `json:"request,omitempty"`
	Status   int             `json:"status"`
	Answer   json.RawMessage `json:"answer"`
}

func TestGoldenAnswers(t *testing.T) {
	names, err := filepath.Glob("../testdata/api/*.json")
	if err != nil || len(names) < 12 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	h := embeddedService(t)
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".json"), func(t *testing.T) {
			var g golden
			strictFile(t, "api/"+filepath.Base(name), &g)
			method, target, _ := strings.Cut(g.Route, " ")
			r := httptest.NewRequest(method, target, bytes.NewReader(g.Request))
			r.Header.Set("X-Request-Id", "golden")
			if len(g.Request) > 0 {
				r.Header.Set("Content-Type", "application/json")
			}
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if *update {
				g.Standing, g.Status, g.Answer = "self", w.Code, w.Body.Bytes()
				writeGolden(t, name, g)
				return
			}
			if g.Standing != "self" {
				t.Errorf("standing %q: what this service answered is no evidence", g.Standing)
			}
			if w.Code != g.Status {
				t.Errorf("status %d, was %d", w.Code, g.Status)
			}
			var was, is any
			if err := json.Unmarshal(g.Answer, &was); err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(w.Body.Bytes(), &is); err != nil {
				t.Fatalf("%v: %s", err, w.Body)
			}
			if diff := cmp.Diff(was, is); diff != "" {
				t.Errorf("%s: the answer has changed (-was +is); if that is meant, run with -update:\n%s", g.Title, diff)
			}
		})
	}
}

func writeGolden(t *testing.T, name string, g golden) {
	t.Helper()
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(g); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
