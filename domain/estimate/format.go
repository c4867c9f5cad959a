package estimate

import "strconv"

// number writes a number for a sentence: at most six significant digits.
func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
