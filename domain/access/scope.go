// Package access is who may ask for what: keys, their scopes and the text that callers
// send. It reads and holds keys against a clock that it is given; it makes none of itself,
// keeps nothing and logs nothing.
package access

import (
	"strconv"
	"strings"

	"swarf/domain"
)

// Scopes is a set of what a key may do. No scope holds another: a key that writes and
// reads has both.
type Scopes uint8

// The scopes.
const (
	Read    Scopes = 1 << iota // reference data, shop data, the change feed
	Compute                    // estimates, recommendations, checks, plans, one or in batches
	Write                      // machines, drafts of records, cuts, observations, imports
	Approve                    // put records in force, and withdraw them
	Admin                      // keys
)

// Viewing is the most that a view token can do.
const Viewing = Read | Compute

var scopeNames = []string{"read", "compute", "write", "approve", "admin"}

// ScopeNames lists the scopes in their order.
func ScopeNames() []string { return append([]string(nil), scopeNames...) }

// Has reports whether a set holds all of another.
func (s Scopes) Has(all Scopes) bool { return s&all == all }

// Names lists the scopes of the set, in their order; never nil.
func (s Scopes) Names() []string {
	names := []string{}
	for i, name := range scopeNames {
		if s&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return names
}

// String is the names with commas between them.
func (s Scopes) String() string { return strings.Join(s.Names(), ",") }

// ParseScopes reads names of scopes.
//
// Errors: Invalid, naming a word that is none.
func ParseScopes(names []string) (Scopes, error) {
	var set Scopes
	for _, name := range names {
		found := false
		for i, known := range scopeNames {
			if name == known {
				set, found = set|1<<i, true
			}
		}
		if !found {
			return 0, &domain.Error{Kind: domain.Invalid, Code: "value-out-of-range", Field: "scopes",
				Msg: "there is no scope " + strconv.Quote(clip(name)), Fix: "take some of " + strings.Join(scopeNames, ", ")}
		}
	}
	return set, nil
}

// clip shortens a caller's text for a message.
func clip(text string) string {
	const longest = 40
	if runes := []rune(text); len(runes) > longest {
		return string(runes[:longest]) + "…"
	}
	return text
}
