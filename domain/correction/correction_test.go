package correction_test

import (
	"fmt"
	"math"
	"testing"

	"swarf/domain/correction"
)

// Common practice, no source: a feature cut on both sides that is 5 thousandths of an
// inch over is corrected by half of it on each side.
func ExampleOf() {
	c := correction.Of(correction.Feature{SidesCount: 2, ProgrammedMM: 25.4, ErrorMM: 0.005 * 25.4})
	fmt.Printf("%.4f in\n", c.ValueMM/25.4)
	// Output: -0.0025 in
}

func TestSigns(t *testing.T) {
	for _, x := range []struct {
		name     string
		internal bool
		sides    float64
		err      float64
		diameter bool
		want     float64
	}{
		{"a boss left large, one wall", false, 1, 0.02, false, -0.02},
		{"a boss left large, both walls", false, 2, 0.02, false, -0.01},
		{"the same in a diameter register", false, 2, 0.02, true, -0.02},
		{"a boss cut small", false, 2, -0.02, false, 0.01},
		{"a bore left small", true, 2, -0.02, false, -0.01},
		{"a bore cut large", true, 2, 0.02, true, 0.02},
		{"on size", true, 2, 0, true, 0},
	} {
		got := correction.Of(correction.Feature{Internal: x.internal, SidesCount: x.sides, ProgrammedMM: 50, ErrorMM: x.err, Diameter: x.diameter})
		if math.Abs(got.ValueMM-x.want) > 1e-12 || len(got.Findings) > 0 {
			t.Errorf("%s: %v, want %v; %v", x.name, got.ValueMM, x.want, got.Findings)
		}
	}
}

// 16 µm on 100 mm for 10 K in austenitic metal (expansion 16·10⁻⁶/K, EN 10088, recalled).
func TestWarmPart(t *testing.T) {
	warm, alpha := 30.0, 16.0
	f := correction.Feature{SidesCount: 2, ProgrammedMM: 100, ErrorMM: 0.016, TemperatureCelsius: &warm, ExpansionPerMK: &alpha}
	if got := correction.Of(f); math.Abs(got.ValueMM) > 1e-12 || math.Abs(got.GrowthMM-0.016) > 1e-12 || got.Findings[0].Code != "thermal-growth" {
		t.Errorf("%+v", got)
	}
	f.ExpansionPerMK = nil
	if got := correction.Of(f); len(got.Unchecked) != 1 || len(got.Findings) != 0 {
		t.Errorf("expansion not known: %+v", got)
	}
}

func TestLargeErrorIsTold(t *testing.T) {
	for size, told := range map[float64]bool{0.1: false, 0.101: true, -0.101: true} {
		got := correction.Of(correction.Feature{SidesCount: 1, ProgrammedMM: 10, ErrorMM: size})
		if (len(got.Findings) == 1 && got.Findings[0].Code == "error-large") != told {
			t.Errorf("an error of %v: %v", size, got.Findings)
		}
	}
}
