package docs

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/oasdiff/oasdiff/checker"
	"github.com/oasdiff/oasdiff/diff"
	"github.com/oasdiff/oasdiff/load"
)

// published is the document as it was last tagged: what callers rely on. It is renewed with
// -tagged when a version is tagged, and at no other time.
const published = "../../testdata/openapi/v1.json"

var tagged = flag.Bool("tagged", false, "take the document for the one that is published with a tag")

// The document takes nothing away from what was published last, and asks for nothing more.
func TestDocumentOnlyGrows(t *testing.T) {
	if *tagged {
		var small bytes.Buffer
		if err := json.Compact(&small, document); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(published, append(small.Bytes(), '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range broken(t, lastTagged(t), document) {
		t.Errorf("callers of v1 would break: %s", text)
	}
}

func lastTagged(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// broken lists what a caller of one document trips over in the next.
func broken(t *testing.T, before, after []byte) []string {
	t.Helper()
	info := func(name string, text []byte) *load.SpecInfo {
		doc, err := openapi3.NewLoader().LoadFromData(text)
		if err != nil {
			t.Fatal(err)
		}
		return &load.SpecInfo{Url: name, Spec: doc}
	}
	report, sources, err := diff.GetWithOperationsSourcesMap(diff.NewConfig(), info("tagged", before), info("now", after))
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, c := range checker.CheckBackwardCompatibility(checker.NewConfig(checker.GetAllChecks()), report, sources) {
		if c.IsBreaking() && !additions[c.GetId()] {
			list = append(list, strings.Join([]string{c.GetOperation(), c.GetPath(), c.GetId() + ":", c.GetUncolorizedText(checker.NewDefaultLocalizer())}, " "))
		}
	}
	return list
}

// additions are what the checks warn of and we tell callers to expect: more words in what
// we answer, further forms.
var additions = map[string]bool{}
