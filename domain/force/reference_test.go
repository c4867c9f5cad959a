package force_test

import (
	"testing"

	"swarf/testdata/reference/calculation/calculationtest"
)

// Printed results and tables, transcribed apart from the constants that go in.
func TestReference(t *testing.T) { calculationtest.Run(t, "force", 260) }
