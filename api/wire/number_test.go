package wire

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestComputedNumbers(t *testing.T) {
	cases := []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {-1, "-1"}, {60, "60"}, {1591.5494309, "1591.55"},
		{190.985931, "190.986"}, {0.12, "0.12"}, {999999.5, "1000000"}, {999999.4, "999999"}, {99999.97, "100000"},
		{123456789, "123457000"}, {0.000123456789, "0.000123457"}, {1.0000004, "1"}, {0.1 + 0.2, "0.3"},
		{2.5e-7, "0.00000025"}, {1e15, "1000000000000000"}, {1.5e21, "1500000000000000000000"}, {-0.0000001, "-0.0000001"},
		{5e-324, "0." + strings.Repeat("0", 323) + "494066"},
		// Halves are exact in binary here, so they go to the even digit.
		{100000.5, "100000"}, {100001.5, "100002"}, {0.1234565, "0.123456"},
	}
	for _, c := range cases {
		if got := string(appendComputed(nil, c.v)); got != c.want {
			t.Errorf("%v is written %s, want %s", c.v, got, c.want)
		}
	}
}

// plain gives the rounding of strconv, which is exact, in plain notation.
func plain(v float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if rounded == 0 {
		return "0"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

func TestComputedNumbersRoundExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(
			rapid.Float64Range(-1e7, 1e7),
			rapid.Float64Range(-1e-3, 1e-3),
			rapid.Map(rapid.Uint64(), math.Float64frombits),
			// Near halves of the last digit, and near powers of ten.
			rapid.Custom(func(t *rapid.T) float64 {
				v := (float64(rapid.IntRange(99_990, 1_000_010).Draw(t, "digits")) + 0.5) * math.Pow(10, float64(rapid.IntRange(-12, 16).Draw(t, "exp")))
				for range rapid.IntRange(0, 3).Draw(t, "up") {
					v = math.Nextafter(v, math.Inf(1))
				}
				return v
			}),
		).Filter(func(v float64) bool { return finite(v) && (v == 0 || math.Abs(v) > 1e-290) }).Draw(t, "v")
		got := string(appendComputed([]byte("x"), v))[1:]
		if want := plain(v, 6); got != want {
			t.Fatalf("%v is written %s, want %s", v, got, want)
		}
		if got := string(appendSigned(nil, v, 12)); v != 0 && got != plain(v, 12) {
			t.Fatalf("%v with 12 digits is written %s, want %s", v, got, plain(v, 12))
		}
	})
}

func TestStoredNumbersComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Map(rapid.Uint64(), math.Float64frombits).Filter(finite).Draw(t, "v")
		text := string(appendStored(nil, v))
		if strings.ContainsAny(text, "eE+") {
			t.Fatalf("%v is written with an exponent: %s", v, text)
		}
		back, end := readNumber(text)
		if end != len(text) || back != v {
			t.Fatalf("%v is written %s and read as %v", v, text, back)
		}
	})
}

func TestReadNumberAgreesWithStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?(0|[1-9][0-9]{0,20})(\.[0-9]{1,25})?([eE][+-]?[0-9]{1,3})?`).Draw(t, "number")
		got, end := readNumber(text + ",")
		want, _ := strconv.ParseFloat(text, 64)
		if end != len(text) || got != want {
			t.Fatalf("%s is read as %v up to %d, want %v", text, got, end, want)
		}
		if got == 0 && math.Signbit(got) {
			t.Fatalf("%s is read as -0", text)
		}
	})
}

func TestReadNumberRefusesOtherForms(t *testing.T) {
	for _, text := range []string{"", "-", ".5", "+1", "01", "-01", "1.", "1.e3", "1e", "1e+", "NaN", "Infinity", "0x10", "--1", "e3"} {
		if _, end := readNumber(text); end == len(text) && end > 0 {
			t.Errorf("%q passes for a number", text)
		}
	}
}
