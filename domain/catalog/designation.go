package catalog

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"swarf/domain/material"
)

// keyOf is a designation as it is compared: lower case, without the blanks, hyphens
// and brackets that people write or leave out, but with what stands between two
// digits kept, a dot as a dot and anything else as a hyphen. So "X5 CrNi 18 10" is
// "x5crni18-10", and 1.4301 never becomes 14301.
func keyOf(text string) string { return Key(text) }

// Key is keyOf for those who hold designations against each other.
func Key(text string) string {
	var room [2 * longestNamed]byte
	return string(appendKey(room[:0], text))
}

// appendKey appends the key of a designation to nothing or to a text that ends in a
// blank.
func appendKey(out []byte, text string) []byte {
	from, gap := len(out), byte(0) // gap: what was left out since the last letter or digit
	for i := 0; i < len(text); {
		r, size := rune(text[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(text[i:])
			r = plain(r)
		}
		i += size
		switch {
		case letterOrDigit(r) || r == '+' || r == '%':
			if gap != 0 && len(out) > from && isDigit(rune(out[len(out)-1])) && isDigit(r) {
				out = append(out, gap)
			}
			gap = 0
			out = utf8.AppendRune(out, lower(r))
		case r == '.' || r == ',':
			gap = '.'
		case gap == 0:
			gap = '-'
		}
	}
	return out
}

func letterOrDigit(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r|0x20 && r|0x20 <= 'z' || isDigit(r)
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

func lower(r rune) rune {
	if 'A' <= r && r <= 'Z' {
		return r + 'a' - 'A'
	}
	if r < utf8.RuneSelf {
		return r
	}
	return unicode.ToLower(r)
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// plain takes the accents off the letters that occur in names of alloys.
func plain(r rune) rune {
	switch r {
	case 'é', 'è', 'É', 'È':
		return 'e'
	case 'ä', 'Ä':
		return 'a'
	case 'ö', 'Ö':
		return 'o'
	case 'ü', 'Ü':
		return 'u'
	}
	return r
}

// looseKey drops what stands between digits as well, for callers that leave it out.
// It is good for a look-up only when it has a letter and belongs to one grade:
// X5CrNi1810 is X5CrNi18-10, but 14301 stays unknown.
func looseKey(key string) (string, bool) {
	letter := false
	loose := strings.Map(func(r rune) rune {
		if r == '-' || r == '.' {
			return -1
		}
		letter = letter || unicode.IsLetter(r)
		return r
	}, key)
	return loose, letter
}

// tags are the words people put before a designation of a standard.
var tags = map[string][]string{
	"UNS":       {"uns"},
	"EN number": {"en", "din", "dinen", "wnr", "wstnr", "werkstoffnr", "werkstoffnummer", "matno", "nr", "no"},
	"EN name":   {"en", "din", "dinen"},
	"DIN":       {"din", "wnr", "wstnr", "werkstoffnr", "werkstoffnummer"},
	"AISI/SAE":  {"aisi", "sae", "aisisae", "astm", "type", "aisitype", "grade"},
	"JIS":       {"jis"},
	"common":    {"aa"},
}

// tagged are the tags by themselves, each with the standards it may stand before; "ss"
// is written before the numbers of stainless steels.
var tagged = func() []tag {
	var all []tag
	for standard, words := range tags {
		for _, word := range words {
			if word == "aa" {
				continue // AA 6061 is a designation of its own
			}
			i := slices.IndexFunc(all, func(t tag) bool { return t.word == word })
			if i < 0 {
				i = len(all)
				all = append(all, tag{word: word})
			}
			all[i].before = append(all[i].before, standard)
		}
	}
	all = append(all, tag{word: "ss", before: []string{"AISI/SAE"}})
	slices.SortFunc(all, func(a, b tag) int { return strings.Compare(a.word, b.word) })
	return all
}()

type tag struct {
	word   string
	before []string // standards
}

// fits reports whether the tag may stand before a designation that is written so.
func (t tag) fits(m *material.Material, key string) bool {
	if t.word == "ss" && !stainless(m) {
		return false
	}
	return slices.ContainsFunc(m.Designations, func(d material.Designation) bool {
		return slices.Contains(t.before, d.Standard) && keyOf(d.Value) == key
	})
}

// shortKeys are the keys of a designation without a tag that it begins with:
// GJL-250 of EN-GJL-250, 6061 of AA6061.
func shortKeys(d material.Designation, key string) []string {
	var keys []string
	for _, word := range tags[d.Standard] {
		if rest, cut := strings.CutPrefix(key, word); cut && len(rest) > 3 && (word == "en" || word == "aa" && isDigit(rune(rest[0]))) {
			keys = append(keys, rest)
		}
	}
	return keys
}

// stainless reports the stainless steels, which ISO 513 puts in M and in P.
func stainless(m *material.Material) bool {
	return m.Group == material.M || strings.HasPrefix(m.Subgroup, "stainless")
}
