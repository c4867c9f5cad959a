package api

import (
	"testing"

	"swarf/domain"
)

func codes(faults domain.Errors) string {
	text := ""
	for _, e := range faults {
		if text != "" {
			text += ", "
		}
		text += e.Code + " " + e.Field
	}
	return text
}

func TestReadParameters(t *testing.T) {
	known := []string{"limit", "units", "group"}
	for _, c := range []struct{ raw, want string }{
		{"limit=3&units=inch", ""},
		{"", ""},
		{"limt=3", "unknown-parameter limt"},
		{"limit=", "wrong-type limit"},
		{"limit=1&limit=2", "wrong-type limit"},
		{"limit=%zz", "wrong-type "},
		{"limit=1;units=inch", "wrong-type "},
		{"a=1&limit=&b=2", "unknown-parameter a, unknown-parameter b, wrong-type limit"},
	} {
		if _, faults := readParameters(c.raw, known); codes(faults) != c.want {
			t.Errorf("%q: %q, want %q", c.raw, codes(faults), c.want)
		}
	}
	_, faults := readParameters("grup=M", known)
	if len(faults) != 1 || faults[0].Fix != "remove it or spell it as group" {
		t.Errorf("a misspelt parameter gets %v", faults)
	}
}

func TestWholeNumbers(t *testing.T) {
	for _, c := range []struct {
		text string
		want int64
		code string
	}{
		{"1", 1, ""}, {"500", 500, ""},
		{"0", 0, "value-out-of-range"}, {"501", 0, "value-out-of-range"}, {"-1", 0, "value-out-of-range"},
		{"99999999999999999999", 0, "value-out-of-range"},
		{"1.5", 0, "wrong-type"}, {"1,5", 0, "wrong-type"}, {"ten", 0, "wrong-type"}, {"NaN", 0, "wrong-type"}, {"0x10", 0, "wrong-type"}, {"1e2", 0, "wrong-type"}, {"+1", 0, "wrong-type"},
	} {
		got, bad := parameters{"limit": c.text}.whole("limit", 1, 500, 0)
		code := ""
		if bad != nil {
			code = bad.Code
		}
		if got != c.want || code != c.code {
			t.Errorf("limit=%s: %d %q, want %d %q", c.text, got, code, c.want, c.code)
		}
	}
}
