package catalog

import (
	"slices"
	"strings"

	"swarf/domain/material"
)

// Search lists the grades that fit a text: first those it names exactly, then those
// with a designation that begins with it, then those in whose names or kind every
// word of it occurs; each by id. An empty text fits all; an empty group is any.
func (s *Snapshot) Search(q string, group material.Group) []*material.Material {
	n := &s.names
	words := strings.Fields(strings.ToLower(q))
	if len(words) == 0 {
		return inGroup(s.materials, group)
	}
	if len(q) > 4*longestNamed {
		return []*material.Material{}
	}
	key := keyOf(q)
	exact := n.find([]byte(key))
	if len(exact) == 0 {
		exact = n.qualified(q)
	}
	found := make([]*material.Material, 0, len(exact))
	done := n.texts.none()
	take := func(at int) {
		if m := n.grades[at]; !done.has(at) && (group == "" || m.Group == group) {
			found = append(found, m)
		}
		done.add(at)
	}
	for _, at := range exact {
		take(int(at))
	}
	n.beginning(key).each(take)
	n.mentioning(words).each(take)
	return found
}

// inGroup are the grades of a group, of any when it is empty.
func inGroup(all []*material.Material, group material.Group) []*material.Material {
	if group == "" {
		return slices.Clip(all)
	}
	found := []*material.Material{}
	for _, m := range all {
		if m.Group == group {
			found = append(found, m)
		}
	}
	return found
}

// beginning is the grades with a key that begins so.
func (n *names) beginning(key string) set {
	found := n.texts.none()
	if key == "" {
		return found
	}
	for _, k := range n.begun(key) {
		if k.as != loose {
			found.add(int(k.grade))
		}
	}
	return found
}

// begun is the run of sorted keys that begin so.
func (n *names) begun(key string) []named {
	from, _ := slices.BinarySearchFunc(n.sorted, key, func(k named, key string) int { return strings.Compare(k.key, key) })
	to, _ := slices.BinarySearchFunc(n.sorted[from:], key, func(k named, key string) int {
		if strings.HasPrefix(k.key, key) {
			return -1
		}
		return 1
	})
	return n.sorted[from : from+to]
}

// mentioning is the grades in whose text every word occurs, as it was sent or as keys
// are written.
func (n *names) mentioning(words []string) set {
	var all set
	for _, word := range words {
		with := n.texts.having(word)
		switch key := keyOf(word); key {
		case "": // a dash by itself says nothing
			continue
		case word:
		default:
			for i, more := range n.texts.having(key) {
				with[i] |= more
			}
		}
		if all == nil {
			all = with
			continue
		}
		for i := range all {
			all[i] &= with[i]
		}
	}
	return all
}
