package material

import (
	"errors"
	"math"
	"testing"

	"swarf/domain"
)

// Rows of DIN 50150 (ISO 18265 annex A) with their tensile strengths, as printed.
var withStrength = []HardnessRow{
	{HV: 180, HBW: 171, HRB: 87.1, TensileStrengthNPerMM2: 575}, {HV: 200, HBW: 190, HRB: 91.5, TensileStrengthNPerMM2: 640},
	{HV: 250, HBW: 238, HRB: 99.5, TensileStrengthNPerMM2: 800}, {HV: 300, HBW: 285, HRC: 29.8, TensileStrengthNPerMM2: 965},
	{HV: 350, HBW: 333, HRC: 35.5, TensileStrengthNPerMM2: 1125}, {HV: 400, HBW: 380, HRC: 40.8, TensileStrengthNPerMM2: 1290},
}

func TestTensileStrength(t *testing.T) {
	tab, err := NewHardnessTable(withStrength)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of   Hardness
		want float64
	}{{Hardness{300, HV}, 965}, {Hardness{285, HBW}, 965}, {Hardness{29.8, HRC}, 965}, {Hardness{91.5, HRB}, 640}} {
		if got, err := tab.TensileNPerMM2(c.of); err != nil || got != c.want {
			t.Errorf("%v has %v N/mm2, %v; want %v (DIN 50150)", c.of, got, err, c.want)
		}
	}
	if h, err := tab.OfTensile(1125); err != nil || h != (Hardness{333, HBW}) {
		t.Errorf("1125 N/mm2 is %v, %v; want 333 HBW (DIN 50150)", h, err)
	}
	// DIN 50150 at HV 220: 705 N/mm2 and 209 HBW, a row left out here.
	if h, err := tab.OfTensile(705); err != nil || math.Abs(h.Value-209) > 1 {
		t.Errorf("705 N/mm2 is %v, %v", h, err)
	}
	for _, strength := range []float64{100, 574, 1291, 5000, math.NaN()} {
		_, err := tab.OfTensile(strength)
		var e *domain.Error
		if !errors.As(err, &e) || e.Code != "value-out-of-range" {
			t.Errorf("%v N/mm2: %v", strength, err)
		}
	}
	if _, ok := ParseScale(string(tensile)); ok {
		t.Error("a strength is taken for a scale of hardness")
	}
}

// The relation for annealed austenitic plate against the pairs of hardness limits that
// ASTM A240 has for its grades, as a stainless steel dealer prints them: 304 201 HBW and
// 92 HRB, 304N 217 HBW and 95 HRB. Limits are rounded; the relation is of another table.
func TestAusteniticPlate(t *testing.T) {
	for _, c := range []struct{ hrb, hbw float64 }{{92, 201}, {95, 217}} {
		got, err := AusteniticHBW(Hardness{c.hrb, HRB})
		if err != nil || math.Abs(got/c.hbw-1) > 0.011 {
			t.Errorf("%v HRB is %.1f HBW, %v; want %v", c.hrb, got, err, c.hbw)
		}
	}
	// Steel of the same Rockwell B is softer in Brinell in the table for steel: it is not
	// made for austenitic metal (DIN 50150: 91.5 HRB is 190 HBW).
	if got, _ := AusteniticHBW(Hardness{91.5, HRB}); got < 198 {
		t.Errorf("91.5 HRB is %.1f HBW", got)
	}
	for _, h := range []Hardness{{79.9, HRB}, {100.1, HRB}, {92, HV}, {30, HRC}, {math.NaN(), HRB}} {
		if v, err := AusteniticHBW(h); err == nil {
			t.Errorf("%v is %v HBW", h, v)
		}
	}
}

// Which table a metal goes by.
func TestConversionOf(t *testing.T) {
	for _, c := range []struct {
		group    Group
		subgroup string
		want     Conversion
	}{
		{P, "carbon", OfSteel}, {P, "alloy", OfSteel}, {P, "tool", OfSteel}, {P, "free-cutting", OfSteel}, {P, "cast-steel", OfSteel}, {H, "hardened-steel", OfSteel},
		{M, Austenitic, OfAustenitic}, {M, Duplex, NearSteel}, {P, "stainless-martensitic", NearSteel}, {P, "precipitation-hardening", NearSteel},
		{P, "high-manganese", NearSteel}, {K, GreyIron, NearSteel}, {S, Nickel, NearSteel}, {S, Titanium, NearSteel}, {H, "hardened-iron", NearSteel},
		{N, Aluminium, NoTable}, {N, "brass", NoTable}, {N, Magnesium, NoTable}, {O, Plastic, NoTable},
	} {
		if got := ConversionOf(c.group, c.subgroup); got != c.want {
			t.Errorf("%s/%s goes by %v, want %v", c.group, c.subgroup, got, c.want)
		}
	}
}
