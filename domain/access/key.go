package access

import (
	"crypto/subtle"
	"slices"
	"strconv"
	"strings"

	"swarf/domain"
)

// Key is a key as it is kept. Times are seconds since 1970 (Unix); zero is never.
type Key struct {
	ID      string
	Name    string // who it is, for the history; no other key ever had it
	View    bool   // a token for addresses: it only reads and computes, by GET
	Scopes  Scopes
	Secrets []Secret // the present one first; at most one before it that still serves

	MadeUnix    int64
	MadeBy      string
	ExpiresUnix int64
	RevokedUnix int64
	RevokedBy   string
	UsedUnix    int64 // about when it was last used
}

// Secret is one secret of a key.
type Secret struct {
	Digest    Digest
	MadeUnix  int64
	UntilUnix int64 // when it ends because another took its place
}

// MostSecrets is how many secrets of a key serve at a time.
const MostSecrets = 2

// State says how a key stands at a time: live, expired or revoked.
func (k *Key) State(atUnix int64) string {
	switch {
	case k.RevokedUnix != 0:
		return "revoked"
	case k.ExpiresUnix != 0 && atUnix >= k.ExpiresUnix:
		return "expired"
	}
	return "live"
}

// Fits reports whether a token is of this key and serves at a time. All secrets are
// compared, each in constant time.
func (k *Key) Fits(t Token, atUnix int64) bool {
	fits := 0
	for i := range k.Secrets {
		same := subtle.ConstantTimeCompare(k.Secrets[i].Digest[:], t.Digest[:])
		if k.Secrets[i].serves(atUnix) {
			fits |= same
		}
	}
	return fits == 1 && k.View == t.View && k.State(atUnix) == "live"
}

func (s *Secret) serves(atUnix int64) bool { return s.UntilUnix == 0 || atUnix < s.UntilUnix }

// Rotate is the key's secrets with a new one in front. The one before serves for the
// overlap; with none, all before end at once.
//
// Errors: Conflict when the key does not serve any more, or two secrets serve and would be
// three.
func (k *Key) Rotate(digest Digest, atUnix, overlapSeconds int64) ([]Secret, error) {
	if state := k.State(atUnix); state != "live" {
		return nil, &domain.Error{Kind: domain.Conflict, Code: "state-unfit", Msg: "the key is " + state, Fix: "make another"}
	}
	next := []Secret{{Digest: digest, MadeUnix: atUnix}}
	if overlapSeconds <= 0 {
		return next, nil
	}
	for _, s := range k.Secrets {
		if !s.serves(atUnix) {
			continue
		}
		if len(next) == MostSecrets {
			return nil, &domain.Error{Kind: domain.Conflict, Code: "state-unfit", Field: "overlap_seconds",
				Msg: "the key has two secrets that serve", Fix: "wait until the older one ends, or send overlap_seconds 0, which ends both at once"}
		}
		if end := atUnix + overlapSeconds; s.UntilUnix == 0 || end < s.UntilUnix {
			s.UntilUnix = end
		}
		next = append(next, s)
	}
	return next, nil
}

// Bounds of what a key is made with.
const (
	longestName = 80
)

// reserved are names that stand for others in the history.
var reserved = []string{"local", "swarf", "anonymous", "reference data", "the project"}

// Check holds a new key against what keys may be, all faults at once.
//
// Errors: Invalid and Unreadable, as domain.Errors.
func (k *Key) Check(atUnix int64) error {
	var faults domain.Errors
	add := func(kind domain.Kind, code, field, msg, fix string) {
		faults = append(faults, &domain.Error{Kind: kind, Code: code, Field: field, Msg: msg, Fix: fix})
	}
	switch name := k.Name; {
	case name == "":
		add(domain.Unreadable, "field-missing", "name", "a key has a name, by which the history knows who wrote", "add it")
	case len([]rune(name)) > longestName || strings.TrimSpace(name) != name || strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f }):
		add(domain.Invalid, "value-out-of-range", "name", strconv.Quote(clip(name))+" is no name for a key", "take 1 to "+strconv.Itoa(longestName)+" characters without blanks at the ends")
	case slices.Contains(reserved, strings.ToLower(name)) || strings.HasPrefix(strings.ToLower(name), "sql:") || LooksLike(name):
		add(domain.Invalid, "value-out-of-range", "name", strconv.Quote(clip(name))+" stands for somebody else in the history", "take another name")
	}
	switch {
	case k.Scopes == 0:
		add(domain.Unreadable, "field-missing", "scopes", "a key without scopes may do nothing", "take some of "+strings.Join(scopeNames, ", "))
	case k.View && !Viewing.Has(k.Scopes):
		add(domain.Invalid, "value-out-of-range", "scopes", "a view token can only read and compute, not "+(k.Scopes&^Viewing).String(), "make a key for that")
	}
	if k.ExpiresUnix != 0 && k.ExpiresUnix <= atUnix {
		add(domain.Invalid, "value-out-of-range", "expires", "the key would have expired already", "take a time to come")
	}
	return faults.OrNil()
}
