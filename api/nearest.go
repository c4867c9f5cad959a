package api

import "strings"

// nearest returns the known name closest to a misspelt one, or nothing when none
// is close: at most a third of the letters may differ.
func nearest(name string, known []string) string {
	if len(name) > 64 {
		return ""
	}
	name = strings.ToLower(name)
	best, least := "", max(1, len(name)/3)+1
	for _, candidate := range known {
		if d := editDistance(name, candidate); d < least {
			best, least = candidate, d
		}
	}
	return best
}

// editDistance counts the letters to insert, delete, replace or swap with their
// neighbour to turn one word into another.
func editDistance(a, b string) int {
	before, previous, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range previous {
		previous[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(previous[j]+1, row[j-1]+1, previous[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, previous, row = previous, row, before
	}
	return previous[len(b)]
}
