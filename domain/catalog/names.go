package catalog

import (
	"fmt"
	"slices"
	"strings"

	"swarf/domain/material"
)

// names finds grades by what people call them. Inside it a grade is its place in the
// order of ids, which is half the size of a pointer and sorts.
type names struct {
	grades  []*material.Material // by id
	keys    keys
	words   claims   // plain words: titanium, stainless, cast
	sorted  []named  // the keys of all grades, by what they say
	letters []uint64 // of each of sorted, as lettersOf has it
	texts   texts
	clashes []string
}

// named is a key of a grade: of one of its designations, or with none (-1) of its id
// or name.
type named struct {
	key         string
	grade       int32
	designation int16
	as          spelling
}

// spelling is how strictly a key writes a name.
type spelling uint8

const (
	full  spelling = iota
	short          // without a tag that it begins with: GJL-250
	loose          // without what stands between digits: X5CrNi1810
)

// namesOf indexes the grades, which stand by id.
func namesOf(grades []*material.Material) names {
	n := names{grades: grades, words: claims{}, texts: newTexts(len(grades))}
	n.sorted = make([]named, 0, 6*len(grades))
	kinds := kindWords{}
	var room []byte
	for at, m := range grades {
		room = n.add(int32(at), m, kinds, room[:0])
	}
	slices.SortFunc(n.sorted, func(a, b named) int {
		if order := strings.Compare(a.key, b.key); order != 0 {
			return order
		}
		return int(a.grade - b.grade)
	})
	n.sorted = slices.Clone(n.sorted) // no larger than it must be
	n.letters = make([]uint64, len(n.sorted))
	for i := range n.sorted {
		n.letters[i] = lettersOf(n.sorted[i].key)
	}
	n.keys = keysOf(n.sorted, len(grades))
	n.findClashes()
	return n
}

// add indexes one grade. Its keys lie one behind another in the text that searches
// look at, after the words of its kind and before its name. The room comes back to be
// used again.
func (n *names) add(at int32, m *material.Material, kinds kindWords, room []byte) []byte {
	kind := kinds.of(m)
	room = append(room, kind.text...)
	ends := make([]int, 0, 16)
	key := func(text string) {
		room = append(room, ' ')
		room = appendKey(room, text)
		ends = append(ends, len(room))
	}
	for i := range m.Designations {
		key(m.Designations[i].Value)
	}
	key(m.ID)
	key(m.Name)
	room = append(room, ' ')
	room = append(room, strings.ToLower(m.Name)...)
	text := string(room)
	n.texts.add(int(at), text)
	begin := len(kind.text)
	for i, end := range ends {
		of := int16(-1)
		if i < len(m.Designations) {
			of = int16(i)
		}
		n.claim(text[begin+1:end], named{grade: at, designation: of})
		begin = end
	}
	for _, word := range kind.words {
		n.words.claim(word, at)
	}
	for _, text := range append([]string{m.Name}, valuesOf(m)...) {
		for _, word := range plainWords(text) {
			n.words.claim(word, at)
		}
	}
	return room
}

func valuesOf(m *material.Material) []string {
	values := make([]string, len(m.Designations))
	for i := range m.Designations {
		values[i] = m.Designations[i].Value
	}
	return values
}

// claim claims a key for a grade.
func (n *names) claim(key string, by named) {
	by.key = key
	n.sorted = append(n.sorted, by)
	if strings.ContainsAny(key, "-.") { // else it is loose as it is
		if other, letter := looseKey(key); letter {
			n.sorted = append(n.sorted, named{other, by.grade, by.designation, loose})
		}
	}
	if by.designation < 0 {
		return
	}
	for _, other := range shortKeys(n.grades[by.grade].Designations[by.designation], key) {
		n.sorted = append(n.sorted, named{other, by.grade, by.designation, short})
	}
}

// findClashes looks for keys that stand under a standard of two grades.
func (n *names) findClashes() {
	for from := 0; from < len(n.sorted); {
		to := from + 1
		for to < len(n.sorted) && n.sorted[to].key == n.sorted[from].key {
			to++
		}
		var ids []string
		for _, k := range n.sorted[from:to] {
			if m := n.grades[k.grade]; to-from > 1 && k.formal(m) && !slices.Contains(ids, m.ID) {
				ids = append(ids, m.ID)
			}
		}
		if len(ids) > 1 {
			n.clashes = append(n.clashes, fmt.Sprintf("designation %s stands in its standard for %s; make it common on all but one to declare it ambiguous",
				n.sorted[from].key, strings.Join(ids, " and ")))
		}
		from = to
	}
}

// formal reports a designation in a standard, written in full.
func (k named) formal(m *material.Material) bool {
	return k.designation >= 0 && k.as == full && m.Designations[k.designation].Standard != "common"
}

// find returns the grades a key stands for, in the strictest sense that finds any, in
// the order of ids.
func (n *names) find(key []byte) []int32 {
	if found := n.keys.of(key, full); found != nil {
		return found
	}
	if found := n.withTag(key); found != nil {
		return found
	}
	for _, c := range key {
		if c == '-' || c == '.' { // what was written between digits counts
			return nil
		}
	}
	return n.keys.of(key, loose) // has a letter where it has anything
}

// withTag returns the grades whose designation the key is with a tag before it, or
// without the one it has.
func (n *names) withTag(key []byte) []int32 {
	found := n.keys.of(key, short)
	for _, t := range tagged {
		if len(key) <= len(t.word) || string(key[:len(t.word)]) != t.word {
			continue
		}
		rest := key[len(t.word):]
		for _, at := range n.keys.of(rest, full) {
			if !slices.Contains(found, at) && t.fits(n.grades[at], string(rest)) {
				found = append(slices.Clip(found), at)
				slices.Sort(found)
			}
		}
	}
	return found
}
