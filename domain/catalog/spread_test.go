package catalog_test

import (
	"testing"

	"swarf/db/data"
	"swarf/domain/catalog"
)

// With each source left out in turn, the 90 % interval that the other quantities give holds
// 85 to 95 % of the left-out values. Under 40 of them the share says little and is only told.
func TestSpreadHoldsLeftOutSources(t *testing.T) {
	d, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	snap, err := catalog.New(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range snap.Pools() {
		share := float64(p.HeldCount) / float64(max(p.Count, 1))
		t.Logf("%s: %d quantities, %d left-out values, spread %.3f, %d held (%.1f %%)", p.Kind, p.Quantities, p.Count, p.SpreadRatio, p.HeldCount, 100*share)
		if p.Count >= 40 && (share < 0.85 || share > 0.95) {
			t.Errorf("%s: the 90 %% interval holds %.1f %% of the left-out values", p.Kind, 100*share)
		}
	}
}
