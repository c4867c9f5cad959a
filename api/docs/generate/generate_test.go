package generate

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

var update = flag.Bool("update", false, "write the document anew")

// The committed document is what the sources say.
func TestDocumentIsCurrent(t *testing.T) {
	made, err := Document("../..")
	if err != nil {
		t.Fatal(err)
	}
	const file = "../openapi.json"
	if *update {
		if err := os.WriteFile(file, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(made, kept) {
		t.Error("api/docs/openapi.json is not what the sources say; run: go test ./api/docs/generate -update")
	}
	doc, err := openapi3.NewLoader().LoadFromData(kept)
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(t.Context()); err != nil {
		t.Error(err)
	}
}
