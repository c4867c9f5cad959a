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

// wordsOf are the plain words that fit a grade: of its group and subgroup, of its
// name and its designations. They choose no grade; they narrow and qualify.
func wordsOf(m *material.Material) []string {
	subgroup := string(m.Group) + "/" + m.Subgroup
	words := []string{strings.ToLower(string(m.Group))}
	add := func(text string) {
		for _, word := range plainWords(text) {
			if !slices.Contains(words, word) {
				words = append(words, word)
			}
		}
	}
	add(m.Subgroup)
	add(strings.Join(trade[string(m.Group)], " "))
	add(strings.Join(trade[subgroup], " "))
	add(m.Name)
	for _, d := range m.Designations {
		add(d.Value)
	}
	return words
}

// plainWords are the words of a text that have letters only, two at least.
func plainWords(text string) []string {
	var words []string
	for _, word := range strings.FieldsFunc(strings.Map(plain, text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if len(word) >= 2 && !strings.ContainsFunc(word, unicode.IsDigit) {
			words = append(words, strings.ToLower(word))
		}
	}
	return words
}

// having returns the grades that every word fits, and whether all words are known.
func (n *names) having(words []string) []*material.Material {
	var all []*material.Material
	for i, word := range words {
		fits := n.words[word]
		if i == 0 {
			all = slices.Clone(fits)
			continue
		}
		all = slices.DeleteFunc(all, func(m *material.Material) bool { return !slices.Contains(fits, m) })
	}
	return all
}

// qualified reads a designation with plain words about it, "stainless 304" or
// "6061 aluminium": the grade is found without the words and must fit them all.
func (n *names) qualified(designation string) []*material.Material {
	var words, rest []string
	for _, part := range strings.Fields(designation) {
		word := strings.ToLower(strings.Trim(part, ",;()"))
		if _, known := n.words[word]; known {
			words = append(words, word)
		} else {
			rest = append(rest, part)
		}
	}
	if len(words) == 0 || len(rest) == 0 {
		return nil
	}
	fits := n.having(words)
	found := slices.Clone(n.grades(keyOf(strings.Join(rest, " "))))
	return slices.DeleteFunc(found, func(m *material.Material) bool { return !slices.Contains(fits, m) })
}
