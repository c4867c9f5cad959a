package catalog

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain/material"
)

// Ranks of a search: how well a grade fits.
const (
	exactly = iota
	begins
	mentions
	not
)

// Search lists the grades that fit a text: first those it names exactly, then those
// with a designation that begins with it, then those in whose names or kind every
// word of it occurs; each by id. An empty text fits all; an empty group is any.
func (s *Snapshot) Search(q string, group material.Group) []*material.Material {
	type hit struct {
		m    *material.Material
		rank int
	}
	key, words := keyOf(q), strings.Fields(strings.ToLower(q))
	exact := s.names.grades(key)
	if len(exact) == 0 {
		exact = s.names.qualified(q)
	}
	hits := make([]hit, 0, len(s.materials))
	for _, m := range s.materials {
		if group != "" && m.Group != group {
			continue
		}
		rank := not
		switch {
		case len(words) == 0, slices.Contains(exact, m):
			rank = exactly
		default:
			rank = s.names.entries[m.ID].rank(key, words)
		}
		if rank != not {
			hits = append(hits, hit{m, rank})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Or(a.rank-b.rank, strings.Compare(a.m.ID, b.m.ID)) })
	found := make([]*material.Material, len(hits))
	for i, h := range hits {
		found[i] = h.m
	}
	return found
}

func (e *entry) rank(key string, words []string) int {
	for _, k := range e.keys {
		if key != "" && strings.HasPrefix(k, key) {
			return begins
		}
	}
	for _, word := range words {
		if !strings.Contains(e.text, word) && !strings.Contains(e.text, keyOf(word)) {
			return not
		}
	}
	return mentions
}
