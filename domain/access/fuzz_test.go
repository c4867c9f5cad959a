package access_test

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain/access"
)

// FuzzParse: what is read as a token has its parts, is of a kind that its beginning tells,
// and has a digest of its own; one more or less letter and it is none.
func FuzzParse(f *testing.F) {
	key, _ := token(1, false, 1)
	view, _ := token(2, true, 2)
	for _, seed := range []string{key, view, key[1:], key + "a", strings.ToUpper(key), "swarf_", "swarfview_", strings.Replace(key, "_", "-", 1), "\x00", strings.Repeat("_", 63)} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := access.Parse(text)
		if err != nil {
			if got != (access.Token{}) {
				t.Fatalf("%q: %v, and still %+v", text, err, got)
			}
			return
		}
		if !access.LooksLike(text) || got.View != strings.HasPrefix(text, "swarfview_") || len(got.ID) != 8 || !strings.Contains(text, "_"+got.ID+"_") || got.Digest == (access.Digest{}) {
			t.Fatalf("%q: %+v", text, got)
		}
		for _, other := range []string{text + "a", text[:len(text)-1], " " + text} {
			if _, err := access.Parse(other); err == nil {
				t.Fatalf("%q and %q are both tokens", text, other)
			}
		}
	})
}

// FuzzParseScopes: scopes that are read are written as themselves; others are named.
func FuzzParseScopes(f *testing.F) {
	for _, seed := range []string{"read", "read,compute", "write,write", "", "admin,", "Read", "read compute", "nobody"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		names := strings.Split(text, ",")
		set, err := access.ParseScopes(names)
		if err != nil {
			return
		}
		again, err := access.ParseScopes(set.Names())
		if err != nil || again != set || set == 0 {
			t.Fatalf("%q is %v, and that %v (%v)", text, set.Names(), again.Names(), err)
		}
		for _, name := range names {
			if !slices.Contains(set.Names(), name) {
				t.Fatalf("%q is %v", text, set.Names())
			}
		}
	})
}
