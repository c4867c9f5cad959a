package api

import (
	"testing"

	"pgregory.net/rapid"
)

// Pages laid end to end are the list, whatever the size of a page.
func TestPagesLaidEndToEndAreTheList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Int(), 0, 40).Draw(t, "list")
		limit := rapid.IntRange(1, 12).Draw(t, "limit")
		var whole []int
		start := 0
		for {
			items, next := slice(list, portion{start: start, limit: limit})
			if len(items) > limit {
				t.Fatalf("a page of %d holds %d", limit, len(items))
			}
			whole = append(whole, items...)
			if next == 0 {
				break
			}
			if next <= start {
				t.Fatalf("the page after %d begins at %d", start, next)
			}
			start = next
		}
		if len(whole) != len(list) {
			t.Fatalf("%d of %d members", len(whole), len(list))
		}
		for i := range list {
			if whole[i] != list[i] {
				t.Fatalf("member %d is %d, want %d", i, whole[i], list[i])
			}
		}
	})
}
