package access_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/access"
)

func token(id byte, view bool, secret byte) (string, access.Digest) {
	return access.NewToken(access.NewID([access.IDBytes]byte{id}), view, [access.SecretBytes]byte{secret})
}

func parsed(t testing.TB, text string) access.Token {
	t.Helper()
	got, err := access.Parse(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return got
}

// The CRC-32 of "123456789" is CBF43926 (the check value of CRC-32/ISO-HDLC in catalogues
// of such checks); the letters are those of RFC 4648, section 10: "foobar" is MZXW6YTBOI.
func TestATokenHasItsParts(t *testing.T) {
	var random [access.SecretBytes]byte
	copy(random[:], "foobar")
	text, digest := access.NewToken(access.NewID([access.IDBytes]byte{'f', 'o', 'o', 'b', 'a'}), false, random)
	if want := "swarf_mzxw6ytb_mzxw6ytboi"; !strings.HasPrefix(text, want) || len(text) != len("swarf_")+8+1+40+1+7 {
		t.Errorf("%s does not begin with %s, or is not 63 long", text, want)
	}
	got := parsed(t, text)
	if got.ID != "mzxw6ytb" || got.View || got.Digest != digest {
		t.Errorf("%+v", got)
	}
	view, _ := token(1, true, 1)
	if !parsed(t, view).View || !strings.HasPrefix(view, "swarfview_") {
		t.Errorf("%s is no view token", view)
	}
	if 8*access.SecretBytes < 160 {
		t.Error("a secret is under 160 bits")
	}
}

// Any one letter that is wrong is told by the checksum, or by the shape.
func TestATypoIsTold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, _ := access.NewToken(access.NewID([access.IDBytes]byte(rapid.SliceOfN(rapid.Byte(), 5, 5).Draw(t, "id"))), rapid.Bool().Draw(t, "view"),
			[access.SecretBytes]byte(rapid.SliceOfN(rapid.Byte(), 25, 25).Draw(t, "secret")))
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		wrong := []byte(text)
		if wrong[at] = rapid.ByteRange('!', '~').Draw(t, "letter"); string(wrong) == text {
			return
		}
		if _, err := access.Parse(string(wrong)); !errors.Is(err, access.ErrShape) && !errors.Is(err, access.ErrChecksum) {
			t.Fatalf("%s for %s: %v", wrong, text, err)
		}
		if _, err := access.Parse(text[:at]); err == nil {
			t.Fatalf("%s was taken", text[:at])
		}
	})
}

func TestWhatIsNoToken(t *testing.T) {
	for _, text := range []string{"", "swarf", "swarf_", "Bearer", "swarf__", strings.Repeat("swarf_", 10), "SWARF" + strings.Repeat("_a", 29)} {
		if _, err := access.Parse(text); !errors.Is(err, access.ErrShape) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A key serves from when it is made until it expires or is revoked, with each of its
// secrets as long as that lasts, and with no other.
func TestWhenAKeyServes(t *testing.T) {
	old, oldDigest := token(1, false, 1)
	present, digest := token(1, false, 2)
	other, _ := token(1, false, 3)
	stranger, _ := token(2, false, 2)
	key := access.Key{ID: parsed(t, old).ID, ExpiresUnix: 1000, Secrets: []access.Secret{{Digest: digest}, {Digest: oldDigest, UntilUnix: 500}}}
	revoked := key
	revoked.RevokedUnix = 300
	for name, c := range map[string]struct {
		key  access.Key
		text string
		at   int64
		want bool
	}{
		"present":          {key, present, 100, true},
		"old, in overlap":  {key, old, 499, true},
		"old, after it":    {key, old, 500, false},
		"another":          {key, other, 100, false},
		"of another key":   {key, stranger, 100, false},
		"just not expired": {key, present, 999, true},
		"expired":          {key, present, 1000, false},
		"revoked":          {revoked, present, 100, false},
	} {
		found, got := access.NewRing([]access.Key{c.key}).Find(parsed(t, c.text), c.at)
		if got != c.want || got && found.ID != key.ID {
			t.Errorf("%s: %v", name, got)
		}
	}
	// A view token is not one for the header because somebody wrote the other prefix.
	view, viewDigest := token(1, true, 2)
	seen := access.Key{ID: key.ID, View: true, Secrets: []access.Secret{{Digest: viewDigest}}}
	if !seen.Fits(parsed(t, view), 1) || seen.Fits(parsed(t, present), 1) {
		t.Error("view token and key are confused")
	}
}

func TestRotation(t *testing.T) {
	key := access.Key{Secrets: []access.Secret{{Digest: access.Digest{1}}}}
	next, err := key.Rotate(access.Digest{2}, 100, 50)
	if want := []access.Secret{{Digest: access.Digest{2}, MadeUnix: 100}, {Digest: access.Digest{1}, UntilUnix: 150}}; err != nil || !slices.Equal(next, want) {
		t.Fatalf("%v %v", next, err)
	}
	key.Secrets = next
	if _, err := key.Rotate(access.Digest{3}, 149, 50); err == nil || domain.Faults(err)[0].Code != "state-unfit" {
		t.Errorf("three secrets at a time: %v", err)
	}
	if next, err := key.Rotate(access.Digest{3}, 149, 0); err != nil || len(next) != 1 {
		t.Errorf("without overlap: %v %v", next, err)
	}
	if next, err := key.Rotate(access.Digest{3}, 150, 50); err != nil || len(next) != 2 || next[1].Digest != (access.Digest{2}) {
		t.Errorf("after the overlap: %v %v", next, err)
	}
	key.RevokedUnix = 1
	if _, err := key.Rotate(access.Digest{3}, 150, 0); err == nil {
		t.Error("a revoked key has a new secret")
	}
}

func TestWhatKeysMayBe(t *testing.T) {
	for name, c := range map[string]struct {
		key   access.Key
		wants []string
	}{
		"plain":        {access.Key{Name: "MES line 3", Scopes: access.Write}, nil},
		"view":         {access.Key{Name: "wall sheet", View: true, Scopes: access.Viewing}, nil},
		"view writes":  {access.Key{Name: "x", View: true, Scopes: access.Read | access.Write}, []string{"scopes"}},
		"all at once":  {access.Key{ExpiresUnix: 1}, []string{"name", "scopes", "expires"}},
		"somebody":     {access.Key{Name: "Local", Scopes: access.Read}, []string{"name"}},
		"a token":      {access.Key{Name: "swarf_abc", Scopes: access.Read}, []string{"name"}},
		"two lines":    {access.Key{Name: "a\nb", Scopes: access.Read}, []string{"name"}},
		"blank around": {access.Key{Name: " a", Scopes: access.Read}, []string{"name"}},
		"long":         {access.Key{Name: strings.Repeat("é", 81), Scopes: access.Read}, []string{"name"}},
	} {
		var got []string
		if err := c.key.Check(100); err != nil {
			for _, f := range domain.Faults(err) {
				got = append(got, f.Field)
			}
		}
		if !slices.Equal(got, c.wants) {
			t.Errorf("%s: %v, want %v", name, got, c.wants)
		}
	}
}

func TestScopes(t *testing.T) {
	set, err := access.ParseScopes([]string{"write", "read"})
	if err != nil || set != access.Read|access.Write || set.String() != "read,write" || set.Has(access.Admin) || !set.Has(access.Read) {
		t.Errorf("%v %v", set, err)
	}
	if _, err := access.ParseScopes([]string{"root"}); err == nil {
		t.Error("root is a scope")
	}
	if all, err := access.ParseScopes(access.ScopeNames()); err != nil || all != access.Read|access.Compute|access.Write|access.Approve|access.Admin {
		t.Errorf("%v %v", all, err)
	}
}
