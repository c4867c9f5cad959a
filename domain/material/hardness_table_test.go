package material

import (
	"errors"
	"math"
	"testing"

	"swarf/domain"
)

// Rows as printed: HV, HBW, HRC of DIN 50150 (ISO 18265 table A.1, unalloyed and
// low-alloy steel) and, above HV 650, of the ASTM E140 lineage for carbon and alloy steel.
var printed = []HardnessRow{
	{HV: 200, HBW: 190, HRB: 91.5}, {HV: 240, HBW: 228, HRB: 98.1}, {HV: 250, HBW: 238, HRB: 99.5}, {HV: 255, HBW: 242, HRC: 23.1},
	{HV: 300, HBW: 285, HRC: 29.8}, {HV: 350, HBW: 333, HRC: 35.5}, {HV: 390, HBW: 371, HRC: 39.8}, {HV: 400, HBW: 380, HRC: 40.8},
	{HV: 450, HBW: 428, HRC: 45.3}, {HV: 600, HBW: 570, HRC: 55.2}, {HV: 650, HBW: 618, HRC: 57.8},
	{HV: 674, HRC: 59}, {HV: 697, HRC: 60}, {HV: 720, HRC: 61}, {HV: 940, HRC: 68},
}

func table(t *testing.T) *HardnessTable {
	t.Helper()
	tab, err := NewHardnessTable(printed)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func TestHardnessTable(t *testing.T) {
	tab := table(t)
	for _, c := range []struct {
		from   Hardness
		to     Scale
		want   float64
		off    float64 // allowed
		source string
	}{
		{Hardness{300, HV}, HBW, 285, 0, "DIN 50150, HV 300: HB 285"},
		{Hardness{450, HV}, HRC, 45.3, 0, "DIN 50150, HV 450: HRC 45.3"},
		{Hardness{45.3, HRC}, HV, 450, 0, "DIN 50150, read backwards"},
		{Hardness{392, HV}, HRC, 40, 0.05, "HV 392 by interpolation between 390 and 400 is HRC 40, as ASTM E140 prints"},
		{Hardness{40, HRC}, HBW, 371, 371 * 0.005, "ASTM E140: HRC 40 is HB 371; the two tables part by 0.2 HRC there"},
		{Hardness{421, HBW}, HRC, 45, 0.4, "ASTM E140: HB 421 is HRC 45"},
		{Hardness{60, HRC}, HV, 697, 0, "ASTM E140: HRC 60 is HV 697"},
		{Hardness{63, HRC}, HV, 772, 13, "ASTM E140: HRC 63 is HV 772, here across a wide gap of rows"},
		{Hardness{275, HV}, HBW, 261, 0.3, "DIN 50150, HV 275: HB 261, a row left out here"},
		{Hardness{180, HBW}, HBW, 180, 0, "identity"},
		{Hardness{95, HRB}, HBW, 210, 1, "DIN 50150, HV 220: HRB 95, HB 209, a row left out here"},
	} {
		got, err := tab.To(c.from, c.to)
		if err != nil || math.Abs(got-c.want) > c.off+1e-9 {
			t.Errorf("%v as %s: %v, %v; want %v within %v (%s)", c.from, c.to, got, err, c.want, c.off, c.source)
		}
	}
}

func TestHardnessIsNotExtrapolated(t *testing.T) {
	tab := table(t)
	for _, h := range []Hardness{{60, HRC}, {20, HRC}, {700, HV}, {100, HV}, {110, HRB}, {math.NaN(), HV}, {math.Inf(1), HRC}, {40, "shore"}} {
		_, err := tab.ToHBW(h)
		var e *domain.Error
		if !errors.As(err, &e) || e.Code != "value-out-of-range" || e.Kind != domain.Invalid || e.Fix == "" {
			t.Errorf("%v in HBW: %v", h, err)
		}
	}
	if _, err := (&HardnessTable{}).ToHBW(Hardness{40, HRC}); err == nil {
		t.Error("an empty table converts")
	}
	if v, err := (&HardnessTable{}).ToHBW(Hardness{200, HBW}); err != nil || v != 200 {
		t.Errorf("Brinell without a table: %v, %v", v, err)
	}
	if top := tab.Highest(HRC, HBW); top != (Hardness{57.8, HRC}) {
		t.Errorf("Brinell ends at %v", top)
	}
}

// What is harder on one scale is not softer on another, and there and back is the same.
func TestHardnessConversionRises(t *testing.T) {
	tab := table(t)
	for _, from := range Scales {
		for _, to := range Scales {
			last := 0.0
			for v := 1.0; v < 1000; v += 0.7 {
				x, err := tab.To(Hardness{v, from}, to)
				if err != nil {
					continue
				}
				if x <= last {
					t.Fatalf("%v %s is %v %s, not above %v", v, from, x, to, last)
				}
				last = x
				if back, err := tab.To(Hardness{x, to}, from); err != nil || math.Abs(back-v) > 1e-9*v {
					t.Fatalf("%v %s is %v %s and back %v (%v)", v, from, x, to, back, err)
				}
			}
		}
	}
}

func TestCompareHardness(t *testing.T) {
	tab := table(t)
	for _, c := range []struct {
		a, b Hardness
		want int
		ok   bool
	}{
		{Hardness{60, HRC}, Hardness{58, HRC}, 1, true},
		{Hardness{60, HRC}, Hardness{600, HBW}, 1, true}, // both in Vickers
		{Hardness{300, HV}, Hardness{285, HBW}, 0, true},
		{Hardness{91.5, HRB}, Hardness{23.1, HRC}, -1, true},
		{Hardness{50, HRB}, Hardness{40, HRC}, 0, false},
	} {
		got, ok := tab.Compare(c.a, c.b)
		if got != c.want || ok != c.ok {
			t.Errorf("%v against %v: %v, %v", c.a, c.b, got, ok)
		}
		if back, _ := tab.Compare(c.b, c.a); back != -got {
			t.Errorf("%v against %v is not the opposite", c.b, c.a)
		}
	}
}

// A row that falls cannot be read backwards: one copy of DIN 50150 prints 1115 for
// 1155 N/mm2 at HV 360, below the row before it; a scale with such a slip is refused.
func TestFallingTableIsRefused(t *testing.T) {
	for _, rows := range [][]HardnessRow{
		{{HV: 350, HBW: 333}, {HV: 360, HBW: 324}},
		{{HV: 350, HBW: 333}, {HV: 350, HBW: 342}},
		{{HV: 350, HBW: 333}, {HV: 360, HBW: 333}},
	} {
		if _, err := NewHardnessTable(rows); err == nil {
			t.Errorf("%v is taken", rows)
		}
	}
}
