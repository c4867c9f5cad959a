package catalog

import (
	"cmp"
	"slices"
	"strings"
)

// mostNearest bounds the names offered for one that is unknown.
const mostNearest = 5

// longestNamed bounds the names that are compared at all.
const longestNamed = 64

// nearest returns the names closest to one that is unknown, best first: those it
// begins, and those of which at most a third of the letters differ.
func nearest(name string, known []string) []string {
	if len(name) > longestNamed {
		return nil
	}
	name = strings.ToLower(name)
	var found []near
	for _, candidate := range known {
		if d, ok := distance(name, candidate); ok {
			found = append(found, near{candidate, d})
		}
	}
	slices.SortFunc(found, func(a, b near) int { return cmp.Or(a.away-b.away, strings.Compare(a.name, b.name)) })
	names := []string{}
	for _, f := range found[:min(len(found), mostNearest)] {
		names = append(names, f.name)
	}
	return names
}

type near struct {
	name string
	away int
}

// distance says how far two words are apart, and whether that is near.
func distance(a, b string) (int, bool) {
	most := max(1, len(a)/3)
	if len(a) >= 2 && strings.HasPrefix(b, a) {
		return min(len(b)-len(a), most), true
	}
	if len(b) >= 3 && strings.HasPrefix(a, b) {
		return min(len(a)-len(b), most), true
	}
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return 0, false
	}
	d := edits(a, b)
	return d, d <= most
}

// edits counts the letters to insert, delete, replace or swap with their neighbour
// to turn one word into another.
func edits(a, b string) int {
	var room [3][2*longestNamed + 1]int
	if len(b) >= len(room[0]) {
		return len(b)
	}
	before, last, row := room[0][:len(b)+1], room[1][:len(b)+1], room[2][:len(b)+1]
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			other := 1
			if a[i-1] == b[j-1] {
				other = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+other)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
