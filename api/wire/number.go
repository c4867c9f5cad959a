package wire

import (
	"math"
	"math/bits"
	"strconv"
)

// computedDigits is how many significant digits a computed number has on the wire
// (API.md section 1); convertedDigits is how many a stored number keeps when its
// unit is converted, enough to convert back within 1e-12.
const (
	computedDigits  = 6
	convertedDigits = 13
)

// tens are the powers of ten that a float64 holds exactly.
var tens = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// appendComputed writes a finite number rounded to 6 significant digits, half to
// even on the exact binary value, in plain decimal notation without trailing zeros.
func appendComputed(dst []byte, v float64) []byte {
	if v < 0 {
		v = -v
		dst = append(dst, '-')
	}
	if v < 1e6 {
		if whole := uint32(v); float64(whole) == v {
			return appendWhole(dst, whole)
		}
	}
	if !(v >= 1e-6 && v < 1e15) {
		return appendSignificant(dst, v, computedDigits)
	}
	// Exponent of ten: estimated from that of two, never too small, then corrected.
	exp := ((int(math.Float64bits(v)>>52) - 1023) * 1233) >> 12
	if exp >= 0 {
		if exp+1 < len(tens) && v >= tens[exp+1] {
			exp++
		}
	} else if v*tens[-exp-1] >= 1 {
		exp++
	}
	var scaled float64
	if shift := computedDigits - 1 - exp; shift >= 0 {
		scaled = v * tens[shift]
	} else {
		scaled = v / tens[-shift]
	}
	digits := uint32(scaled)
	rest := scaled - float64(digits)
	// The scaled value carries one rounding of its own (under 1e-10 here): where
	// that could decide, or the estimate was off, the slow way is taken.
	if math.Abs(rest-0.5) < 1e-8 || digits < 99999 || digits > 999999 {
		return appendSignificant(dst, v, computedDigits)
	}
	if rest > 0.5 {
		digits++
	}
	if digits < 100000 {
		return appendSignificant(dst, v, computedDigits)
	}
	if digits == 1000000 {
		digits = 100000
		exp++
	}
	var text [computedDigits]byte
	for i := computedDigits - 1; i >= 0; i-- {
		text[i] = byte('0' + digits%10)
		digits /= 10
	}
	return layOut(dst, text[:], exp)
}

// appendWhole writes a whole number below 1e6.
func appendWhole(dst []byte, v uint32) []byte {
	if v < 10 {
		return append(dst, byte('0'+v))
	}
	var text [10]byte
	i := len(text)
	for v > 0 {
		i--
		text[i] = byte('0' + v%10)
		v /= 10
	}
	return append(dst, text[i:]...)
}

// appendSignificant writes a finite number, not negative, with at most so many
// significant digits, correctly rounded.
func appendSignificant(dst []byte, v float64, digits int) []byte {
	if v == 0 {
		return append(dst, '0')
	}
	var buffer [32]byte
	text := strconv.AppendFloat(buffer[:0], v, 'e', digits-1, 64)
	exp, at := 0, 0
	for at = range text {
		if text[at] == 'e' {
			break
		}
	}
	exp, _ = strconv.Atoi(string(text[at+1:]))
	if digits > 1 { // 1.23456 → 123456
		text[1] = text[0]
		return layOut(dst, append(text[1:2], text[2:at]...), exp)
	}
	return layOut(dst, text[:1], exp)
}

// layOut writes d.ddd times ten to the exponent without an exponent.
func layOut(dst, digits []byte, exp int) []byte {
	end := len(digits)
	for end > 1 && digits[end-1] == '0' {
		end--
	}
	digits = digits[:end]
	switch {
	case exp < 0:
		dst = append(dst, '0', '.')
		for range -exp - 1 {
			dst = append(dst, '0')
		}
		return append(dst, digits...)
	case exp+1 >= len(digits):
		dst = append(dst, digits...)
		for range exp + 1 - len(digits) {
			dst = append(dst, '0')
		}
		return dst
	}
	dst = append(dst, digits[:exp+1]...)
	dst = append(dst, '.')
	return append(dst, digits[exp+1:]...)
}

// appendStored writes a stored number as it is: the shortest digits that give the
// same float64 again.
func appendStored(dst []byte, v float64) []byte {
	if v == 0 {
		return append(dst, '0') // never -0
	}
	if whole := int64(v); float64(whole) == v && whole < 1<<53 && whole > -1<<53 {
		return strconv.AppendInt(dst, whole, 10)
	}
	return strconv.AppendFloat(dst, v, 'f', -1, 64)
}

// appendSigned writes a finite number with at most so many significant digits.
func appendSigned(dst []byte, v float64, digits int) []byte {
	if v < 0 {
		v = -v
		dst = append(dst, '-')
	}
	return appendSignificant(dst, v, digits)
}

func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// readNumber reads a JSON number at the start of text (RFC 8259, section 6). It
// returns the value and where the number ends; end is 0 when there is no number.
// A number beyond float64 is infinite.
func readNumber(text string) (v float64, end int) {
	i, negative := 0, false
	if i < len(text) && text[i] == '-' {
		negative = true
		i++
	}
	first := i
	var mantissa uint64
	for i < len(text) && isDigit(text[i]) {
		mantissa = mantissa*10 + uint64(text[i]-'0')
		i++
	}
	count := i - first
	if count == 0 || count > 1 && text[first] == '0' {
		return 0, 0
	}
	exp := 0
	if i < len(text) && text[i] == '.' {
		i++
		point := i
		for i < len(text) && isDigit(text[i]) {
			mantissa = mantissa*10 + uint64(text[i]-'0')
			i++
		}
		if i == point {
			return 0, 0
		}
		exp = point - i
		count -= exp
	}
	plain := true
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		plain = false
		i++
		if i < len(text) && (text[i] == '+' || text[i] == '-') {
			i++
		}
		power := i
		for i < len(text) && isDigit(text[i]) {
			i++
		}
		if i == power {
			return 0, 0
		}
	}
	// Up to 2^53 and 10^22 both are exact, and one operation rounds correctly.
	if plain && count <= 18 && bits.Len64(mantissa) <= 53 && -exp < len(tens) {
		v = float64(mantissa) / tens[-exp]
		if negative && v != 0 {
			v = -v
		}
		return v, i
	}
	v, _ = strconv.ParseFloat(text[:i], 64) // infinite when out of range
	return v + 0, i                         // never -0
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
