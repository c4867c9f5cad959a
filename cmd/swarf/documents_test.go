package main

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// Paths that the documents name in backquotes exist.
func TestDocumentsNameWhatIsThere(t *testing.T) {
	path := regexp.MustCompile("`(\\./)?((?:api|cmd|db|deploy|domain|migrations|testdata)(?:/[A-Za-z0-9_.-]+)*)`")
	for _, name := range []string{"README.md", "DEVELOPERS.md"} {
		text, err := os.ReadFile("../../" + name)
		if err != nil {
			t.Fatal(err)
		}
		found := path.FindAllStringSubmatch(string(text), -1)
		if name == "DEVELOPERS.md" && len(found) < 30 {
			t.Errorf("only %d paths in %s", len(found), name)
		}
		for _, m := range found {
			if _, err := os.Stat("../../" + strings.TrimSuffix(m[2], "/")); err != nil {
				t.Errorf("%s names %s, which is not there", name, m[2])
			}
		}
	}
}
