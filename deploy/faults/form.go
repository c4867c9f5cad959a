//go:build faults

package faults

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// long reports whether the long form is asked for.
func long() bool { return os.Getenv("FAULTS") == "long" }

// chosen is one of two values, by the form.
func chosen[T any](short, inLong T) T {
	if long() {
		return inLong
	}
	return short
}

// begin makes the chance of a test and prints its seed. In the short form tests run side by
// side: they wait more than they work.
func begin(t *testing.T) *rand.Rand {
	t.Helper()
	seed := rand.Uint64()
	if text := os.Getenv("FAULTS_SEED"); text != "" {
		var err error
		if seed, err = strconv.ParseUint(text, 10, 64); err != nil {
			t.Fatalf("FAULTS_SEED=%q is not a whole number", text)
		}
	}
	t.Logf("FAULTS_SEED=%d", seed)
	if !long() {
		t.Parallel()
	}
	return rand.New(rand.NewPCG(seed, 0))
}

// scaled is a count of the long form, shortened by FAULTS_SHARE (0 to 1) where the machine
// has no time for all of it.
func scaled(n int) int {
	share, err := strconv.ParseFloat(os.Getenv("FAULTS_SHARE"), 64)
	if err != nil || share <= 0 || share > 1 {
		share = 1
	}
	return max(1, int(float64(n)*share))
}
