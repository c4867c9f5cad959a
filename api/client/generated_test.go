package client_test

import (
	"encoding/json"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/oapi-codegen/oapi-codegen/v2/pkg/codegen"
	_ "github.com/oapi-codegen/runtime" // generated clients import it

	"swarf/api/docs"
)

// A client that a generator makes of the published document compiles, asks a live server
// and reads its answers. The program that uses it is testdata/generated/main.go; the
// compiler sees both as a package of the project, and nothing is written into its folders.
func TestDocumentGeneratesAWorkingClient(t *testing.T) {
	document, err := openapi3.NewLoader().LoadFromData(docs.Document())
	if err != nil {
		t.Fatal(err)
	}
	code, err := codegen.Generate(document, codegen.Configuration{
		PackageName: "main",
		Generate:    codegen.GenerateOptions{Client: true, Models: true},
	})
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	generated := filepath.Join(folder, "client.gen.go")
	if err := os.WriteFile(generated, []byte(code), 0o600); err != nil {
		t.Fatal(err)
	}
	here, err := filepath.Abs(".")
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {
		filepath.Join(here, "generated", "main.go"):       filepath.Join(here, "testdata", "generated", "main.go"),
		filepath.Join(here, "generated", "client.gen.go"): generated,
	}})
	if err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(list, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(folder, "asker")
	build := exec.Command("go", "build", "-overlay", list, "-o", program, "./generated")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("the generated client does not compile: %v\n%s", err, out)
	}
	server := httptest.NewServer(reference())
	defer server.Close()
	out, err := exec.Command(program, server.URL).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, line := range []string{
		"estimate 200 yes 1591.55 /min",
		"flat 200 yes 1591.55",
		"problem 422 material-ambiguous",
		"classes 3 next true",
		"check 200 1",
		"batch 200 2 items, 1 problem",
	} {
		if !strings.Contains(string(out), line+"\n") {
			t.Errorf("the program does not say %q:\n%s", line, out)
		}
	}
}
