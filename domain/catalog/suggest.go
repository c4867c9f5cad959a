package catalog

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"

	"swarf/domain/material"
)

// mostEdits bounds how many letters may differ: more is no typo.
const mostEdits = 4

// nearby is a key with how many letters it is away from what was sent.
type nearby struct {
	named
	away int
}

// nearest lists the designations closest to a key, one of each grade: those of which
// at most a third of the letters differ, those it begins, and those that begin it.
// It looks at near ones first and at farther ones only while it has not enough.
func (n *names) nearest(key string) []string {
	if key == "" || len(key) > longestNamed {
		return nil
	}
	limit, p := min(mostEdits, max(1, len(key)/3)), patternOf(key)
	var best []nearby
	for most := 1; ; most = min(2*most, limit) {
		best = n.within(p, most)
		if most == limit {
			best = firsts(append(best, n.sharing(key, limit)...))
		}
		if len(best) >= mostNearest || most == limit {
			break
		}
	}
	texts := make([]string, len(best))
	for i, c := range best {
		m := n.grades[c.grade]
		texts[i] = m.Designations[c.designation].Value
		if keyOf(m.ID) != c.key {
			texts[i] += " (" + m.ID + ")"
		}
	}
	return texts
}

// within lists what is at most so many letters away.
func (n *names) within(p *pattern, most int) []nearby {
	letters := lettersOf(p.text)
	var found []nearby
	for i, other := range n.letters {
		if differ := letters ^ other; bits.OnesCount64(differ) > 2*most {
			continue
		}
		k := &n.sorted[i]
		if length := len(k.key) - len(p.text); length > most || -length > most || !k.offered() {
			continue
		}
		if away := p.edits(k.key); away <= most {
			if found = append(found, nearby{*k, away}); len(found) > 1<<10 {
				found = firsts(found)
			}
		}
	}
	return firsts(found)
}

// sharing lists the keys that begin with a key, and those that it begins with, as far
// away as anything may be.
func (n *names) sharing(key string, limit int) []nearby {
	var found []nearby
	take := func(k named, length int) {
		if k.offered() {
			found = append(found, nearby{k, min(limit, length)})
		}
	}
	if len(key) >= 2 {
		for _, k := range n.begun(key) {
			if take(k, len(k.key)-len(key)); len(found) > 1<<10 {
				break // they come in the order in which they are wanted
			}
		}
	}
	for length := 3; length < len(key); length++ {
		from, _ := slices.BinarySearchFunc(n.sorted, key[:length], func(k named, key string) int { return strings.Compare(k.key, key) })
		for ; from < len(n.sorted) && n.sorted[from].key == key[:length]; from++ {
			take(n.sorted[from], len(key)-length)
		}
	}
	return found
}

// offered reports a key that may be suggested: a designation as it is written.
func (k *named) offered() bool { return k.designation >= 0 && k.as != loose }

// firsts keeps the nearest few, each of another grade.
func firsts(found []nearby) []nearby {
	slices.SortFunc(found, func(a, b nearby) int {
		return cmp.Or(a.away-b.away, strings.Compare(a.key, b.key), int(a.grade-b.grade), int(a.designation-b.designation))
	})
	kept := found[:0]
	for _, c := range found {
		if len(kept) < mostNearest && !slices.ContainsFunc(kept, func(k nearby) bool { return k.grade == c.grade }) {
			kept = append(kept, c)
		}
	}
	return kept
}

// lettersOf marks which letters a key has, and which digits once, twice and more
// often: to insert, delete or replace one letter changes two marks at the most.
func lettersOf(key string) uint64 {
	var marks uint64
	for i := range len(key) {
		c := key[i]
		switch {
		case c >= 'a' && c <= 'z':
			marks |= 1 << (c - 'a')
		case isDigit(rune(c)):
			for place := 26 + int(c-'0'); place < 56; place += 10 {
				if marks&(1<<place) == 0 {
					marks |= 1 << place
					break
				}
			}
		default:
			marks |= 1 << 56
		}
	}
	return marks
}

// pattern is a key prepared for being held against many others.
type pattern struct {
	text string
	at   [256]uint64 // for each letter, where it stands
}

func patternOf(text string) *pattern {
	p := &pattern{text: text}
	for i := range min(len(text), longestNamed) {
		p.at[text[i]] |= 1 << i
	}
	return p
}

// edits counts the letters to insert, delete, replace or swap with their neighbour to
// turn the pattern into another key, a column of the table at a time in one word of
// bits (H. Hyyrö, A bit-vector algorithm for computing Levenshtein and Damerau edit
// distances, Nordic Journal of Computing 10, 2003; from memory).
func (p *pattern) edits(other string) int {
	score, last := len(p.text), uint64(1)<<(len(p.text)-1)
	up, down, same, before := ^uint64(0), uint64(0), uint64(0), uint64(0)
	for i := range len(other) {
		here := p.at[other[i]]
		swapped := (^same & here) << 1 & before
		same = ((here & up) + up) ^ up | here | down | swapped
		plus, minus := down|^(same|up), same&up
		if plus&last != 0 {
			score++
		}
		if minus&last != 0 {
			score--
		}
		plus, minus = plus<<1|1, minus<<1
		up, down, before = minus|^(same|plus), plus&same, here
	}
	return score
}

// candidates lists grades by how widely they are named, the most first, then by id.
func candidates(grades []*material.Material, most int) []*material.Material {
	var kept []*material.Material
	order := func(a, b *material.Material) int {
		return cmp.Or(len(b.Designations)-len(a.Designations), strings.Compare(a.ID, b.ID))
	}
	for _, m := range grades {
		if len(kept) == most && order(m, kept[most-1]) >= 0 {
			continue
		}
		at, _ := slices.BinarySearchFunc(kept, m, order)
		kept = slices.Insert(kept, at, m)
		kept = kept[:min(len(kept), most)]
	}
	return kept
}
