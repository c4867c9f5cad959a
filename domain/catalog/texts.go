package catalog

import (
	"math/bits"
	"strings"
)

// set is a set of grades by their place in the order of ids.
type set []uint64

func (s set) add(at int)      { s[at>>6] |= 1 << (at & 63) }
func (s set) has(at int) bool { return s[at>>6]&(1<<(at&63)) != 0 }

// each calls for every member in order.
func (s set) each(do func(at int)) {
	for i, word := range s {
		for ; word != 0; word &= word - 1 {
			do(i<<6 + bits.TrailingZeros64(word))
		}
	}
}

// texts are what searches look at, one a grade, with an index of the pairs of letters
// that stand in each: a text that lacks a pair of a word lacks the word.
type texts struct {
	all   []string
	pairs [signs * signs]set
}

// signs are the characters that pairs tell apart: letters, digits, what keys have
// between them, and all others as one.
const signs = 26 + 10 + 5

func signOf(c byte) int {
	switch {
	case c >= 'a' && c <= 'z':
		return int(c - 'a')
	case c >= '0' && c <= '9':
		return 26 + int(c-'0')
	case c == '-':
		return 36
	case c == '.':
		return 37
	case c == '+':
		return 38
	case c == '%':
		return 39
	}
	return 40
}

func newTexts(grades int) texts { return texts{all: make([]string, grades)} }

// add takes the text of a grade.
func (t *texts) add(at int, text string) {
	t.all[at] = text
	if text == "" {
		return
	}
	last := signOf(text[0])
	for i := 1; i < len(text); i++ {
		sign := signOf(text[i])
		pair := last*signs + sign
		if t.pairs[pair] == nil {
			t.pairs[pair] = t.none()
		}
		t.pairs[pair].add(at)
		last = sign
	}
}

func (t *texts) none() set { return make(set, (len(t.all)+63)/64) }

// having is the grades in whose text a word occurs.
func (t *texts) having(word string) set {
	found := t.none()
	if len(word) == 0 {
		return found
	}
	may := t.may(word)
	if may == nil {
		return found
	}
	may.each(func(at int) {
		if strings.Contains(t.all[at], word) {
			found.add(at)
		}
	})
	return found
}

// may is the grades whose text has every pair of a word, nil when none has.
func (t *texts) may(word string) set {
	may := t.none()
	for i := range may {
		may[i] = ^uint64(0)
	}
	if over := len(may)*64 - len(t.all); over > 0 {
		may[len(may)-1] >>= over
	}
	for i := 1; i < len(word); i++ {
		with := t.pairs[signOf(word[i-1])*signs+signOf(word[i])]
		if with == nil {
			return nil
		}
		for j := range may {
			may[j] &= with[j]
		}
	}
	return may
}
