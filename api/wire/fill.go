package wire

import (
	"math"
	"strings"

	"swarf/domain/unit"
)

// Fill replaces {value} and {limit} in a text by the measures, in the system and
// with the unit as people write it: "1.25 in", "38.2 N·m". A place whose measure
// is absent stays out.
func Fill(text string, value, limit *unit.Measure, system unit.System) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, after, closed := strings.Cut(rest, "}")
		switch {
		case closed && name == "value":
			b.WriteString(Measured(value, system))
		case closed && name == "limit":
			b.WriteString(Measured(limit, system))
		default:
			b.WriteByte('{')
			text = rest
			continue
		}
		text = after
	}
}

// Measured writes a measure in the system for a person, its unit behind it: at most
// 6 significant digits and 4 decimals; below 0.01, where 4 decimals say little, 3
// significant digits. An absent measure is an empty text.
func Measured(m *unit.Measure, system unit.System) string {
	if m == nil {
		return ""
	}
	x := m.Quantity.FromMetric(system, m.Amount)
	if !finite(x) {
		return "a number that is not finite"
	}
	var text []byte
	if size := math.Abs(x); size > 0 && size < 0.01 {
		text = appendSigned(nil, x, 3)
	} else if size < 1e9 {
		text = appendComputed(nil, math.Round(x*1e4)/1e4)
	} else {
		text = appendComputed(nil, x)
	}
	label := m.Quantity.Label(system)
	switch {
	case label == "":
		return string(text)
	case label == "°":
		return string(text) + label
	}
	return string(text) + " " + label
}
