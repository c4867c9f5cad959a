// Package calculationtest is the test that every package of the domain with printed results
// runs.
package calculationtest

import (
	"testing"

	"swarf/testdata/reference"
	"swarf/testdata/reference/calculation"
)

// Run holds every output that a domain package answers for, and fails with fewer than
// there ought to be.
func Run(t *testing.T, by string, least int) {
	t.Helper()
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, by) {
		held++
		t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
			if _, err := calculation.Hold(c, o); err != nil {
				t.Errorf("%s (%s): %v", c.Title, c.Source, err)
			}
		})
	}
	if held < least {
		t.Errorf("only %d outputs were held against %s", held, by)
	}
}
