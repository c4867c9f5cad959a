package wire

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"swarf/domain/unit"
)

// InputKind is the sort of an input fault.
type InputKind uint8

// The sorts: what cannot be read or is missing (400), and what was read but cannot
// be (422).
const (
	Unreadable InputKind = iota
	Invalid
)

// InputFault is one fault of a request as text. Field is a dotted path, list
// members by their index in brackets; Code is one of PRACTICE 5.2.
type InputFault struct {
	Kind                      InputKind
	Field, Code, Message, Fix string
}

// DecodeOptions says how the units of a request are settled.
type DecodeOptions struct {
	// RequireUnits: a request that states no units has a fault, whatever is in it.
	// Otherwise only one with a number that depends on them.
	RequireUnits bool
	// Default is "metric" or "inch": the units where none are stated. Reads of
	// reference data have one.
	Default string
	// Inherit is "metric" or "inch": the units that stand outside of this body, in
	// the batch that it is an item of. It may repeat them, not contradict them.
	Inherit string
	// Reserved are the query parameters that are none of the request's members.
	Reserved []string
}

// Input is what became of a request.
type Input struct {
	// System is the one that the request states or takes over; metric when unknown.
	System unit.System
	// Readable is false when the body is not one JSON object; then nothing was
	// decoded, and the one fault says why.
	Readable bool
	Faults   []InputFault
}

// mostFaults is how many faults one request is told of.
const mostFaults = 50

// longestText is how many bytes a text may have.
const longestText = 10_000

// clip shortens a caller's text for a message.
func clip(text string) string {
	const longest = 60
	n := 0
	for i := range text {
		if n++; n > longest {
			return text[:i] + "…"
		}
	}
	return text
}

// quote writes a caller's text into a message.
func quote(text string) string { return strconv.Quote(clip(text)) }

// place says where in a text a flaw is, for a person and for a program.
func place(s string, at int) string {
	line := strings.Count(s[:at], "\n") + 1
	column := at - strings.LastIndexByte(s[:at], '\n')
	return fmt.Sprintf("at byte %d (line %d, column %d)", at, line, column)
}

// nearestName finds what a misspelt name may have meant, or "".
func nearestName(name string, known []string) string {
	best, least := "", max(1, len(name)/3)+1
	for _, k := range known {
		switch {
		case strings.EqualFold(k, name):
			return k
		case len(k) > 3 && (strings.HasPrefix(name, k+"_") || strings.HasSuffix(name, "_"+k)):
			return k // a unit or a parent glued to the name
		}
		if d := distance(name, k, least); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to change, add, drop or swap with their neighbour;
// it gives up at the limit.
func distance(a, b string, limit int) int {
	if len(a) > 100 || len(b) > 100 || max(len(a), len(b))-min(len(a), len(b)) >= limit {
		return limit
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		if slices.Min(row) >= limit {
			return limit
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// oneOf lists words for a person.
func oneOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
