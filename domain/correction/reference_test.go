package correction_test

import (
	"testing"

	"swarf/domain/correction"
	"swarf/testdata/reference"
)

// The facts of the trade about corrections, by register.
func TestReference(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, "correction") {
		held++
		oversize, err := c.Input(o, "error", "mm")
		if err != nil {
			t.Fatal(err)
		}
		sides, err := c.Input(o, "sides", "1")
		if err != nil {
			t.Fatal(err)
		}
		if o.Quantity != "radius" && o.Quantity != "diameter" {
			t.Fatalf("no register %s", o.Quantity)
		}
		change := correction.Of(correction.Feature{SidesCount: sides, ErrorMM: oversize, Diameter: o.Quantity == "diameter"})
		got, err := reference.Convert(change.ValueMM, "mm", o.Unit)
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Hold(o, got, 1e-9); err != nil {
			t.Errorf("%s: %v", c.Title, err)
		}
	}
	if held < 2 {
		t.Errorf("only %d outputs were held against correction", held)
	}
}
