package access

import (
	"crypto/sha256"
	"errors"
	"hash/crc32"
	"strings"
)

// A token is what a caller sends:
//
//	swarf_<id>_<secret>_<checksum>
//
// The id finds the key and may be shown; the secret is 200 random bits; the checksum is the
// CRC-32 (IEEE 802.3) of all that stands before its underscore, so that a slip of the pen is told from
// an unknown key before anything is looked up. The parts are in the 32 letters and digits of
// RFC 4648 in lower case. A token that may stand in an address begins with swarfview_.
const (
	IDBytes     = 5  // random bytes of an id
	SecretBytes = 25 // random bytes of a secret

	keyPrefix  = "swarf"
	viewPrefix = "swarfview"

	idLength       = IDBytes * 8 / 5
	secretLength   = SecretBytes * 8 / 5
	checksumLength = 7
)

// Errors of Parse.
var (
	ErrShape    = errors.New("that is no key of this service")
	ErrChecksum = errors.New("the key is mistyped or cut short: its checksum does not fit")
)

// Digest is the SHA-256 of a whole token. A secret of 200 random bits cannot be guessed from
// it, so no slow hash is needed.
type Digest [sha256.Size]byte

// Token is a token that was read.
type Token struct {
	ID     string
	View   bool // it may stand in an address
	Digest Digest
}

// Parse reads a token.
//
// Errors: ErrShape, ErrChecksum.
func Parse(text string) (Token, error) {
	prefix, rest, _ := strings.Cut(text, "_")
	t := Token{View: prefix == viewPrefix}
	if prefix != keyPrefix && !t.View || len(rest) != idLength+1+secretLength+1+checksumLength {
		return Token{}, ErrShape
	}
	if rest[idLength] != '_' || rest[idLength+1+secretLength] != '_' {
		return Token{}, ErrShape
	}
	before := len(text) - checksumLength - 1
	if text[before+1:] != checksum(text[:before]) {
		return Token{}, ErrChecksum
	}
	t.ID, t.Digest = rest[:idLength], sha256.Sum256([]byte(text))
	return t, nil
}

// LooksLike reports whether a text begins as a token does, so that one in the wrong place
// is seen.
func LooksLike(text string) bool {
	return strings.HasPrefix(text, keyPrefix+"_") || strings.HasPrefix(text, viewPrefix+"_")
}

// NewID is the id of a new key, from random bytes.
func NewID(random [IDBytes]byte) string { return letters(random[:]) }

// NewToken writes a token, from random bytes. Only its digest is kept.
func NewToken(id string, view bool, random [SecretBytes]byte) (text string, digest Digest) {
	prefix := keyPrefix
	if view {
		prefix = viewPrefix
	}
	text = prefix + "_" + id + "_" + letters(random[:])
	text += "_" + checksum(text)
	return text, sha256.Sum256([]byte(text))
}

const alphabet = "abcdefghijklmnopqrstuvwxyz234567"

// letters writes bytes in the alphabet, five bits a letter (RFC 4648, without padding).
func letters(data []byte) string {
	out := make([]byte, 0, (len(data)*8+4)/5)
	held, bits := uint(0), 0
	for _, b := range data {
		held, bits = held<<8|uint(b), bits+8
		for ; bits >= 5; bits -= 5 {
			out = append(out, alphabet[held>>(bits-5)&31])
		}
	}
	if bits > 0 {
		out = append(out, alphabet[held<<(5-bits)&31])
	}
	return string(out)
}

func checksum(text string) string {
	sum := crc32.ChecksumIEEE([]byte(text))
	return letters([]byte{byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)}) // #nosec G115 -- one byte of four each
}
