package finding_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// raises finds where this package raises a finding: the code, and its severity where it
// stands beside it.
var raises = regexp.MustCompile(`(?:says\(|tells\(|Code: |exceeded: |term: )"([a-z0-9]+(?:-[a-z0-9]+)+)"(?:, (?:Severity: )?domain\.(Refusal|Hold|Warning|Note)\b)?`)

// Every code of this package, with each severity it can have, has a row in the table of
// triggers.
func TestEveryCodeHasATrigger(t *testing.T) {
	held := map[string]bool{"not-checked": true, "not-checked hold": true} // TestReleaseFailsClosed
	for _, x := range triggers() {
		held[x.code], held[x.code+" "+x.severity.String()] = true, true
	}
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range raises.FindAllStringSubmatch(string(text), -1) {
			found++
			want := m[1]
			if m[2] != "" {
				want += " " + strings.ToLower(m[2])
			}
			if !held[want] {
				t.Errorf("%s raises %s, and no row of the table triggers it", name, want)
			}
		}
	}
	if found < 70 {
		t.Errorf("only %d places raise a finding", found)
	}
}
