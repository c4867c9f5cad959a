package catalog

import (
	"strings"
	"testing"
)

// FuzzFindGrade: whatever somebody calls a grade, it is found, or refused with words; the
// same however it is written, and a key is its own key.
func FuzzFindGrade(f *testing.F) {
	for _, seed := range []string{
		"1.4301", "X5 CrNi 18-10", "AISI 304", "stainless", "304 stainless", "EN-GJL-250", "14301", "\xff", "Ø12", "ß", "日本", "İ", "ſ", "K", "titanium 304", strings.Repeat("x", 500), "V2A", "1,4301", "+%", "٣٠٤",
	} {
		f.Add(seed)
	}
	s := snapshot(f, sample())
	f.Fuzz(func(t *testing.T, text string) {
		key := keyOf(text)
		if again := keyOf(key); again != key {
			t.Fatalf("the key of %q is %q, whose own is %q", text, key, again)
		}
		m, err := s.FindGrade(text)
		switch {
		case err == nil && m == nil:
			t.Fatalf("%q is nothing", text)
		case err != nil && (err.Code != "material-unknown" && err.Code != "material-ambiguous" || err.Msg == ""):
			t.Fatalf("%q: %+v", text, err)
		case err != nil && err.Code == "material-ambiguous" && len(err.Candidates) == 0:
			t.Fatalf("%q could be anything", text)
		}
		if twice, _ := s.FindGrade("  " + text + " "); len(text) < longestNamed && twice != m {
			t.Fatalf("%q is another grade with blanks around it", text)
		}
		for _, found := range s.Search(text, "") {
			if found == nil {
				t.Fatalf("a search for %q finds nothing", text)
			}
		}
	})
}
