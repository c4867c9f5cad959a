package life_test

import (
	"testing"

	"swarf/testdata/reference/calculation/calculationtest"
)

// Printed results of textbooks, courses and examinations.
func TestReference(t *testing.T) { calculationtest.Run(t, "life", 95) }
