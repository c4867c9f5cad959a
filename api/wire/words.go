package wire

import (
	"math"
	"strconv"
	"strings"

	"swarf/domain/unit"
)

// Words writes the members of an answer for a person who reads them beside a picture: each
// as its name in words, its value with few digits and its unit, the way they stand in the
// struct. What is absent is left out; what is not true, too.
func Words(v any, system unit.System) []string {
	var list []string
	var w walker
	w.reset(system, nil)
	w.leaf = func(q unit.Quantity, text bool) {
		name, value := strings.ReplaceAll(string(w.path), "_", " "), string(w.value)
		switch number, err := strconv.ParseFloat(value, 64); {
		case value == "false" || value == "":
		case value == "true":
			list = append(list, name)
		case text || err != nil:
			list = append(list, name+" "+value)
		default:
			list = append(list, name+" "+Short(number)+behind(q.Label(system)))
		}
	}
	if err := w.start(v); err != nil {
		panic(err) // a type of ours that has no form; a test walks them all
	}
	return list
}

// Written writes a metric number in the system with few digits, its unit behind it.
func Written(q unit.Quantity, metric float64, system unit.System) string {
	return Short(q.FromMetric(system, metric)) + behind(q.Label(system))
}

// behind is a unit as it stands behind a number.
func behind(label string) string {
	switch {
	case label == "" || label == "°":
		return label
	case strings.HasPrefix(label, "1/"):
		return label[1:]
	}
	return " " + label
}

// Short writes a number with four digits, all those before the point, without an exponent;
// nought has no sign.
func Short(v float64) string {
	if math.Abs(v) < 1e-12 {
		return "0"
	}
	digits := 4
	if whole := math.Abs(v); whole >= 1e4 {
		digits = int(math.Log10(whole)) + 1
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
