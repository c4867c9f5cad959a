package snapshot

import (
	"bytes"
	"compress/gzip"
	"crypto/ed25519"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

var made = time.Date(2026, 3, 3, 6, 0, 0, 0, time.UTC)

func key(t testing.TB, first byte) ed25519.PrivateKey {
	t.Helper()
	return ed25519.NewKeyFromSeed(append([]byte{first}, make([]byte, ed25519.SeedSize-1)...))
}

// small is data with something of every kind that the reference data lacks.
func small(t testing.TB) *catalog.Data {
	t.Helper()
	all, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	d := catalog.Data{Revision: 7, Sources: all.Sources[:2], Materials: all.Materials[:1], Force: all.Force[:2], Life: all.Life[:1], Classes: all.Classes[:1],
		Cuts: []catalog.StoredCut{{ID: "c-1", Request: []byte(`{"units":"metric"}`), Note: "kept", Revision: 3}}}
	d.Force[0].Curation = &material.Curation{Kind: "force", State: material.Approved, InForce: true, Author: "A", Approver: "B", DriftRatio: 0.1 + 0.2}
	d.Force[1].SpreadRatio = unit.Some(1.0 / 3)
	return &d
}

func encoded(t testing.TB, d *catalog.Data, k ed25519.PrivateKey) []byte {
	t.Helper()
	file, err := Encode(d, Options{Made: made, ModelVersion: "1.1", Key: k})
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// What is read is what was written, to the last bit of every number.
func TestRoundTrip(t *testing.T) {
	embedded, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	k := key(t, 1)
	for name, d := range map[string]*catalog.Data{"reference data": &embedded, "every kind": small(t), "none": {Revision: 1}} {
		got, header, err := Decode(encoded(t, d, k), k.Public().(ed25519.PublicKey))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !reflect.DeepEqual(got, d) {
			t.Errorf("%s: other data comes back", name)
		}
		if header.Revision != d.Revision || !header.Made.Equal(made) || header.ModelVersion != "1.1" || !header.Signed {
			t.Errorf("%s: %+v", name, header)
		}
	}
}

// Any flipped bit is refused: all of them in a small file, with a signature and without.
func TestAnyFlippedBitIsRefused(t *testing.T) {
	tiny := &catalog.Data{Revision: 7}
	k := key(t, 1)
	for _, c := range []struct {
		name  string
		file  []byte
		trust ed25519.PublicKey
	}{
		{"signed", encoded(t, tiny, k), k.Public().(ed25519.PublicKey)},
		{"not signed", encoded(t, tiny, nil), nil},
	} {
		file := c.file
		if _, _, err := Decode(file, c.trust); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		for i := range len(file) * 8 {
			file[i/8] ^= 1 << (i % 8)
			if _, _, err := Decode(file, c.trust); err == nil {
				t.Fatalf("%s: bit %d of byte %d flipped, and it is taken", c.name, i%8, i/8)
			}
			file[i/8] ^= 1 << (i % 8)
		}
	}
}

// Thousands of bits of a large file, anywhere.
func TestFlippedBitsOfTheReferenceData(t *testing.T) {
	embedded, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	k := key(t, 1)
	file := encoded(t, &embedded, k)
	seed := rand.Uint64()
	t.Logf("seed %d, %d bytes", seed, len(file))
	chance := rand.New(rand.NewPCG(seed, 1))
	for range 500 {
		bit := chance.IntN(len(file) * 8)
		file[bit/8] ^= 1 << (bit % 8)
		if _, _, err := Decode(file, k.Public().(ed25519.PublicKey)); err == nil {
			t.Fatalf("bit %d flipped, and it is taken (seed %d)", bit, seed)
		}
		file[bit/8] ^= 1 << (bit % 8)
	}
}

func TestStrangeFilesAreRefused(t *testing.T) {
	k, other := key(t, 1), key(t, 2)
	trust := k.Public().(ed25519.PublicKey)
	signed, plain := encoded(t, small(t), k), encoded(t, small(t), nil)
	for _, c := range []struct {
		name  string
		file  []byte
		trust ed25519.PublicKey
		want  string
	}{
		{"empty", nil, trust, "no snapshot"},
		{"a picture", []byte("\x89PNG\r\n"), nil, "no snapshot"},
		{"its first line alone", []byte(magic), nil, "ends early"},
		{"cut off", signed[:len(signed)-1], trust, "checksum"},
		{"with more behind", append(bytes.Clone(signed), 0), trust, "checksum"},
		{"twice", append(bytes.Clone(signed), signed...), trust, "checksum"},
		{"of another key", encoded(t, small(t), other), trust, "signature does not fit"},
		{"not signed", plain, trust, "not signed"},
		{"signed, without the key", signed, nil, "only with the key"},
		{"with a signature of zeros", append(bytes.Clone(signed[:len(signed)-64]), make([]byte, 64)...), trust, "signature does not fit"},
		{"not signed, with something in that place", append(bytes.Clone(plain[:len(plain)-64]), signed[len(signed)-64:]...), nil, "place of the signature"},
		{"with another header", rewritten(t, plain, func(s string) string { return strings.Replace(s, `"revision":7`, `"revision":8`, 1) }), nil, "header says revision 8"},
		{"of another shape", rewritten(t, plain, func(s string) string { return strings.Replace(s, shape, "0123456789ab", 1) }), nil, "another version of the program"},
		{"with a header of its own", rewritten(t, plain, func(s string) string { return strings.Replace(s, `{"revision"`, `{"colour":1,"revision"`, 1) }), nil, "header cannot be read"},
		{"with less data than told", rewritten(t, plain, func(s string) string { return strings.Replace(s, `"data_bytes":`, `"data_bytes":9`, 1) }), nil, "not as long"},
		{"with more data than any", rewritten(t, plain, func(s string) string { return strings.Replace(s, `"data_bytes":`, `"data_bytes":999999`, 1) }), nil, "outside 0 to"},
	} {
		if _, _, err := Decode(c.file, c.trust); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// rewritten changes the header and mends the checksum, as somebody without the key could.
func rewritten(t testing.TB, plain []byte, change func(string) string) []byte {
	t.Helper()
	body := plain[:len(plain)-tailBytes]
	line, rest, _ := strings.Cut(string(body[len(magic):]), "\n")
	mended := change(line)
	if mended == line {
		t.Fatal("nothing was changed")
	}
	return sealed([]byte(magic + mended + "\n" + rest))
}

func sealed(body []byte) []byte {
	sum := sha256.Sum256(body)
	return append(append(bytes.Clone(body), sum[:]...), make([]byte, 64)...)
}

// A small file that unpacks to a large one costs no more than its header tells.
func TestUnpackingIsBounded(t *testing.T) {
	var packed bytes.Buffer
	packer := gzip.NewWriter(&packed)
	zeros := make([]byte, 1<<20)
	for range 256 {
		if _, err := packer.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := packer.Close(); err != nil {
		t.Fatal(err)
	}
	file := sealed([]byte(magic + fmt.Sprintf(`{"revision":1,"made":"2026-03-03T06:00:00Z","model_version":"1","shape":%q,"data_bytes":100,"signed":false}`, shape) + "\n" + packed.String()))
	result := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, _, err := Decode(file, nil); err == nil {
				b.Fatal("taken")
			}
		}
	})
	if result.AllocedBytesPerOp() > 4<<20 {
		t.Errorf("%d bytes for a file whose header tells of 100", result.AllocedBytesPerOp())
	}
}

func TestWriteReplacesAsAWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "swarf.snapshot")
	if _, _, err := Read(path, nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
	for revision := int64(1); revision < 4; revision++ {
		if err := Write(path, encoded(t, &catalog.Data{Revision: revision}, nil)); err != nil {
			t.Fatal(err)
		}
		if d, _, err := Read(path, nil); err != nil || d.Revision != revision {
			t.Errorf("%+v %v", d, err)
		}
	}
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 1 {
		t.Errorf("beside the file: %v %v", left, err)
	}
	if err := Write(filepath.Join(path, "below"), nil); err == nil {
		t.Error("a file below a file is written")
	}
}

func TestKeys(t *testing.T) {
	secret, public, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	k, err := ParseKey(secret)
	if err != nil {
		t.Fatal(err)
	}
	trust, err := ParseTrust(public)
	if err != nil || !trust.Equal(k.Public()) {
		t.Errorf("the halves do not fit: %v", err)
	}
	for _, text := range []string{"x", secret + "AA==", public[:20]} {
		if _, err := ParseKey(text); err == nil || strings.Contains(err.Error(), text) && len(text) > 1 {
			t.Errorf("%q: %v", text, err)
		}
		if _, err := ParseTrust(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
	if k, err := ParseKey(""); k != nil || err != nil {
		t.Errorf("none: %v %v", k, err)
	}
}

// FuzzDecode: whatever the bytes, reading them ends in data or an error. No file but the one
// that was written is taken; what a file with a sum of its own holds can be written and read
// again.
func FuzzDecode(f *testing.F) {
	plain := encoded(f, small(f), nil)
	f.Add(plain)
	f.Add([]byte(magic))
	f.Add(plain[:len(plain)-tailBytes])
	f.Fuzz(func(t *testing.T, body []byte) {
		if _, _, err := Decode(body, nil); err == nil && !bytes.Equal(body, plain) {
			t.Fatal("a file that nobody wrote is taken")
		}
		d, _, err := Decode(sealed(body), nil)
		if err != nil {
			return
		}
		first := encoded(t, d, nil)
		again, _, err := Decode(first, nil)
		if err != nil || !bytes.Equal(encoded(t, again, nil), first) {
			t.Fatalf("what was read cannot be written and read: %v", err)
		}
	})
}
