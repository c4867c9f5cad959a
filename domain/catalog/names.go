package catalog

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"swarf/domain/material"
)

// names finds grades by what people call them.
type names struct {
	raw     map[string]*material.Material   // as written, of one grade only
	keys    map[string][]*material.Material // designations, ids and names, by keyOf
	others  map[string][]*material.Material // with and without the tags of standards
	loose   map[string][]*material.Material // without what stands between digits
	words   map[string][]*material.Material // plain words: titanium, stainless, cast
	offered []offer                         // what may be suggested for an unknown name
	entries map[string]*entry               // what a search looks at, by material id
	clashes []string
}

// offer is a designation that may be suggested.
type offer struct {
	key, value string
	m          *material.Material
}

// entry is what a search looks at.
type entry struct {
	keys []string
	text string
}

// namesOf indexes the grades, which stand by id.
func namesOf(grades []*material.Material) names {
	n := names{
		raw: map[string]*material.Material{}, keys: map[string][]*material.Material{}, others: map[string][]*material.Material{},
		loose: map[string][]*material.Material{}, words: map[string][]*material.Material{}, entries: map[string]*entry{},
	}
	formal := map[string][]string{} // key: ids of the grades that have it under a standard
	for _, m := range grades {
		e := &entry{}
		n.entries[m.ID] = e
		n.add(m.ID, m)
		n.add(m.Name, m)
		for _, d := range m.Designations {
			key := n.add(d.Value, m)
			e.keys = append(e.keys, key)
			n.offered = append(n.offered, offer{key, d.Value, m})
			if d.Standard != "common" && !slices.Contains(formal[key], m.ID) {
				formal[key] = append(formal[key], m.ID)
			}
			for _, other := range variantsOf(m, d) {
				claim(n.others, other, m)
				if len(other) < len(key) {
					n.offered = append(n.offered, offer{other, d.Value, m})
				}
			}
		}
		e.keys = append(e.keys, keyOf(m.ID), keyOf(m.Name))
		words := wordsOf(m)
		for _, word := range words {
			claim(n.words, word, m)
		}
		e.text = strings.Join(append(words, e.keys...), " ") + " " + strings.ToLower(m.Name)
	}
	for _, key := range slices.Sorted(maps.Keys(formal)) {
		if ids := formal[key]; len(ids) > 1 {
			n.clashes = append(n.clashes, fmt.Sprintf("designation %s stands in its standard for %s; make it common on all but one to declare it ambiguous", key, strings.Join(ids, " and ")))
		}
	}
	for _, written := range slices.Collect(maps.Keys(n.raw)) {
		if len(n.keys[keyOf(written)]) > 1 {
			delete(n.raw, written)
		}
	}
	return n
}

// add claims a name for a grade and returns its key.
func (n *names) add(name string, m *material.Material) string {
	key := keyOf(name)
	n.raw[name] = m
	claim(n.keys, key, m)
	if loose, letter := looseKey(key); letter {
		claim(n.loose, loose, m)
	}
	return key
}

// claim adds a grade to a key, once.
func claim(keys map[string][]*material.Material, key string, m *material.Material) {
	if !slices.Contains(keys[key], m) {
		keys[key] = append(keys[key], m)
	}
}

// grades returns the grades a name stands for, in the strictest sense that finds any.
func (n *names) grades(key string) []*material.Material {
	if found := n.keys[key]; found != nil {
		return found
	}
	if found := n.others[key]; found != nil {
		return found
	}
	if strings.ContainsAny(key, "-.") { // what was written between digits counts
		return nil
	}
	if loose, letter := looseKey(key); letter {
		return n.loose[loose]
	}
	return nil
}
