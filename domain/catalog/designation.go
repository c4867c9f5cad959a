package catalog

import (
	"strings"
	"unicode"

	"swarf/domain/material"
)

// keyOf is a designation as it is compared: lower case, without the blanks, hyphens
// and brackets that people write or leave out, but with what stands between two
// digits kept, a dot as a dot and anything else as a hyphen. So "X5 CrNi 18 10" is
// "x5crni18-10", and 1.4301 never becomes 14301.
func keyOf(text string) string {
	out := make([]byte, 0, len(text)+4)
	gap := byte(0) // what was left out since the last letter or digit
	for _, r := range text {
		r = plain(r)
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '+' || r == '%':
			if gap != 0 && len(out) > 0 && isDigit(rune(out[len(out)-1])) && isDigit(r) {
				out = append(out, gap)
			}
			gap = 0
			out = append(out, string(unicode.ToLower(r))...)
		case r == '.' || r == ',':
			gap = '.'
		case gap == 0:
			gap = '-'
		}
	}
	return string(out)
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

// variantsOf are further keys of a designation: with the tag of its standard put
// before it, and with a tag that it begins with left out (EN-GJL-250 and GJL-250,
// AA6061 and 6061).
func variantsOf(m *material.Material, d material.Designation) []string {
	key := keyOf(d.Value)
	var keys []string
	for _, tag := range tags[d.Standard] {
		if tag != "aa" {
			keys = append(keys, tag+key)
		}
		if rest, cut := strings.CutPrefix(key, tag); cut && len(rest) > 3 && (tag == "en" || tag == "aa" && isDigit(rune(rest[0]))) {
			keys = append(keys, rest)
		}
	}
	if d.Standard == "AISI/SAE" && stainless(m) {
		keys = append(keys, "ss"+key)
	}
	return keys
}

// stainless reports the stainless steels, which ISO 513 puts in M and in P.
func stainless(m *material.Material) bool {
	return m.Group == material.M || strings.HasPrefix(m.Subgroup, "stainless")
}
