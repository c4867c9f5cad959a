package main

import (
	"fmt"
	"io"
	"log/slog"
)

// Secret is a setting that must not be shown. However it is printed, logged or
// encoded it reads `hidden`, or nothing when it is empty.
type Secret string

// Reveal is the secret itself, for the one call that needs it.
func (s Secret) Reveal() string { return string(s) }

// String is what may be shown.
func (s Secret) String() string {
	if s == "" {
		return ""
	}
	return "hidden"
}

// Format hides the secret from every verb of fmt.
func (s Secret) Format(f fmt.State, _ rune) { io.WriteString(f, s.String()) }

// MarshalText hides the secret from encoders.
func (s Secret) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// LogValue hides the secret from logs.
func (s Secret) LogValue() slog.Value { return slog.StringValue(s.String()) }
