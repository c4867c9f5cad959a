package catalog

import (
	"slices"
	"strings"
	"unicode"

	"swarf/domain/material"
)

// trade is what the trade calls groups ("M") and subgroups ("M/duplex") besides the
// words of their names and the names of their grades. Common practice.
var trade = map[string][]string{
	"P":                       {"steel", "metal"},
	"P/carbon":                {"mild", "plain", "unalloyed"},
	"P/stainless-ferritic":    {"inox", "chromium"},
	"P/stainless-martensitic": {"inox", "chromium"},
	"P/cast-steel":            {"casting", "cast"},
	"M":                       {"stainless", "steel", "inox", "metal"},
	"K":                       {"iron", "cast", "casting", "metal"},
	"K/grey-iron":             {"gray"},
	"K/ductile-iron":          {"nodular", "spheroidal", "sg"},
	"K/compacted-iron":        {"vermicular"},
	"N":                       {"metal"},
	"N/aluminium":             {"aluminum", "alu"},
	"N/aluminium-cast":        {"aluminum", "alu", "casting"},
	"S":                       {"metal"},
	"S/titanium":              {"ti"},
	"S/nickel":                {"inconel", "superalloy", "alloy"},
	"S/cobalt":                {"superalloy", "alloy"},
	"S/iron-base":             {"superalloy", "alloy", "iron"},
	"H":                       {"hardened", "hard", "metal"},
	"O/plastic":               {"plastics", "polymer"},
}

// kindWords are the plain words that fit every grade of a group and subgroup.
type kindWords map[[2]string]*kind

type kind struct {
	words []string
	text  string
}

// of gives the words of a grade's kind. With those of its name and designations they
// choose no grade; they narrow and qualify.
func (k kindWords) of(m *material.Material) *kind {
	key := [2]string{string(m.Group), m.Subgroup}
	if known := k[key]; known != nil {
		return known
	}
	words := []string{strings.ToLower(string(m.Group))}
	for _, text := range append([]string{m.Subgroup}, append(trade[string(m.Group)], trade[string(m.Group)+"/"+m.Subgroup]...)...) {
		for _, word := range plainWords(text) {
			if !slices.Contains(words, word) {
				words = append(words, word)
			}
		}
	}
	made := &kind{words, strings.Join(words, " ")}
	k[[2]string{string(m.Group), m.Subgroup}] = made
	return made
}

// plainWords are the words of a text that have letters only, two at least.
func plainWords(text string) []string {
	var words []string
	for _, word := range strings.FieldsFunc(strings.Map(plain, text), func(r rune) bool { return !letterOrDigit(r) }) {
		if len(word) >= 2 && !strings.ContainsFunc(word, unicode.IsDigit) {
			words = append(words, strings.ToLower(word))
		}
	}
	return words
}

// having returns the grades that every word fits, in the order of ids.
func (n *names) having(words []string) []int32 {
	var all []int32
	for i, word := range words {
		fits := n.words[word]
		if i == 0 {
			all = slices.Clone(fits)
			continue
		}
		all = slices.DeleteFunc(all, func(at int32) bool {
			_, there := slices.BinarySearch(fits, at)
			return !there
		})
	}
	return all
}

// qualified reads a designation with plain words about it, "stainless 304" or
// "6061 aluminium": the grade is found without the words and must fit them all.
func (n *names) qualified(designation string) []int32 {
	var words []string
	var rest []byte
	for part := range strings.FieldsSeq(designation) {
		word := strings.ToLower(strings.Trim(part, ",;()"))
		if _, known := n.words[word]; known {
			words = append(words, word)
		} else {
			rest = append(append(rest, part...), ' ')
		}
	}
	if len(words) == 0 || len(rest) == 0 {
		return nil
	}
	found := slices.Clone(n.find(appendKey(nil, string(rest))))
	return slices.DeleteFunc(found, func(at int32) bool {
		return slices.ContainsFunc(words, func(word string) bool {
			_, fits := slices.BinarySearch(n.words[word], at)
			return !fits
		})
	})
}
