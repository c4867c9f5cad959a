package snapshot

import (
	"crypto/ed25519"
	"crypto/rand"
	"encoding/base64"
	"fmt"
)

// NewKey makes a key by chance, as the two texts that ParseKey and ParseTrust read.
func NewKey() (key, trust string, err error) {
	public, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return "", "", err
	}
	return base64.StdEncoding.EncodeToString(private.Seed()), base64.StdEncoding.EncodeToString(public), nil
}

// ParseKey reads the secret half of a key: 32 bytes in base64. An empty text is none.
//
// Errors: anything else; the error does not show it.
func ParseKey(text string) (ed25519.PrivateKey, error) {
	if text == "" {
		return nil, nil
	}
	seed, err := base64.StdEncoding.DecodeString(text)
	if err != nil || len(seed) != ed25519.SeedSize {
		return nil, fmt.Errorf("the key is not %d bytes in base64", ed25519.SeedSize)
	}
	return ed25519.NewKeyFromSeed(seed), nil
}

// ParseTrust reads the public half of a key: 32 bytes in base64. An empty text is none.
//
// Errors: anything else.
func ParseTrust(text string) (ed25519.PublicKey, error) {
	if text == "" {
		return nil, nil
	}
	public, err := base64.StdEncoding.DecodeString(text)
	if err != nil || len(public) != ed25519.PublicKeySize {
		return nil, fmt.Errorf("the key is not %d bytes in base64", ed25519.PublicKeySize)
	}
	return ed25519.PublicKey(public), nil
}
