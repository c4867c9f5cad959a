package api_test

import (
	"math"
	"testing"

	"swarf/domain/unit"
	"swarf/testdata/reference"
)

// The comparison itself: what each use lets through and what it stops.
func TestHoldingAgainstPrintedFigures(t *testing.T) {
	value := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		use        reference.Use
		printed    string
		digits     int
		recomputed *float64
		got        float64
		holds      bool
	}{
		{reference.Golden, "210", 2, value(209.4395), 209.4395, true},
		{reference.Golden, "210", 3, value(209.4395), 209.4395, false},
		{reference.Golden, "138", 3, value(137.5), 137.5, true}, // midway, printed either way
		{reference.Golden, "2.25", 3, value(2.25), 2.2501, false},
		{reference.Table, "0.0023", 2, value(0.00229), 0.00229, true},
		{reference.Corrected, "1517", 4, value(1523.463), 1523.463, true},
		{reference.Corrected, "1517", 4, value(1523.463), 1517, false},
		{reference.Negative, "795.775", 6, value(676.4085), 676.4085, true},
		{reference.Negative, "795.775", 6, nil, 795.7747, false},
		{reference.Negative, "0.097", 2, nil, 0.141, true},
		{reference.Unprinted, "", 0, value(8.4375), 8.4375, true},
		{reference.Unprinted, "", 0, value(8.4375), 8.438, false},
		{reference.Unprinted, "", 0, value(8.4375), math.NaN(), false},
		{reference.Golden, "-0.005", 1, value(-0.005), 0.005, false},
	} {
		check := reference.Check{Use: c.use}
		output := reference.Output{Printed: c.printed, Digits: c.digits, Recomputed: c.recomputed, Unit: "1"}
		if err := check.Hold(&output, c.got, 1e-6); (err == nil) != c.holds {
			t.Errorf("%s %q, got %v: holds %v, want %v (%v)", c.use, c.printed, c.got, err == nil, c.holds, err)
		}
	}
}

// Two tables of factors, written down apart, say the same.
func TestUnitsAgreeWithTheService(t *testing.T) {
	for _, name := range []string{"length", "speed", "feed-rate", "force", "torque", "power", "removal-rate", "specific-force", "specific-energy", "roughness", "pressure", "modulus", "mass"} {
		q, ok := unit.Named(name)
		if !ok {
			t.Fatalf("no quantity %s", name)
		}
		got, err := reference.Convert(1, q.Code(unit.Metric), q.Code(unit.Inch))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if want := q.FromMetric(unit.Inch, 1); math.Abs(got-want) > 1e-14*want {
			t.Errorf("%s: the service makes %v of 1 %s, the definitions %v", name, want, q.Code(unit.Metric), got)
		}
	}
	if _, err := reference.Convert(1, "kW", "N.m"); err == nil {
		t.Error("a power became a torque")
	}
}
