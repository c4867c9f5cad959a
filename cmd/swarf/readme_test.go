package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"strings"
	"testing"

	"swarf/api"
	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// quoted finds what stands in single quotes of a shell line, or the header after -H.
var (
	quoted   = regexp.MustCompile(`'([^']*)'`)
	examples = regexp.MustCompile("(?s)```sh\n(curl [^\n]*)\n```\n\n```\n(.*?)\n```")
)

// The requests of the README are sent as they stand there, and answered as they stand
// there.
func TestReadmeIsTrue(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	reference, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	snap, err := catalog.New(reference)
	if err != nil {
		t.Fatal(err)
	}
	h := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, ModelVersion: estimate.ModelVersion}).Handler()
	found := examples.FindAllStringSubmatch(string(text), -1)
	if len(found) != 3 {
		t.Fatalf("%d requests with answers in the README, want 3", len(found))
	}
	for _, example := range found {
		parts := quoted.FindAllStringSubmatch(example[1], -1)
		target := strings.TrimPrefix(parts[len(parts)-1][1], "http://127.0.0.1:8080")
		method, body := http.MethodGet, ""
		if len(parts) == 3 { // header, body, address
			method, body = http.MethodPost, parts[1][1]
		}
		r := httptest.NewRequest(method, target, strings.NewReader(body))
		if len(parts) == 3 {
			name, value, _ := strings.Cut(parts[0][1], ": ")
			r.Header.Set(name, value)
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		answer, _ := io.ReadAll(w.Body)
		if got := strings.TrimSpace(strings.ReplaceAll(string(answer), "\r\n", "\n")); got != example[2] {
			t.Errorf("%s\nanswers\n%s\nand the README says\n%s", example[1], got, example[2])
		}
	}
}
