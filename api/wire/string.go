package wire

import "unicode/utf8"

// plainByte says which bytes stand in a JSON string as they are.
var plainByte = func() (table [256]bool) {
	for c := ' '; c < utf8.RuneSelf; c++ {
		table[c] = c != '"' && c != '\\'
	}
	return table
}()

// plainEight says whether eight bytes all stand as they are: no control character,
// quote, backslash or byte of a longer character. Each test sets the top bit of a
// byte that fails it, eight bytes at a time.
func plainEight(s string) bool {
	const low, top = 0x0101010101010101, 0x8080808080808080
	w := uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 |
		uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56
	quote, slash := w^low*'"', w^low*'\\'
	return (w|(w-low*' ')|(quote-low)|(slash-low))&top == 0
}

// appendString writes a JSON string in UTF-8. Bytes that are no UTF-8 become the
// replacement character.
func appendString(dst []byte, s string) []byte {
	dst = append(dst, '"')
	start := 0
	for i := 0; i < len(s); {
		if i+8 <= len(s) && plainEight(s[i:i+8]) {
			i += 8
			continue
		}
		c := s[i]
		if plainByte[c] {
			i++
			continue
		}
		if c >= utf8.RuneSelf {
			r, size := utf8.DecodeRuneInString(s[i:])
			if r != utf8.RuneError || size > 1 {
				i += size
				continue
			}
			dst = append(append(dst, s[start:i]...), "\ufffd"...)
			i++
			start = i
			continue
		}
		dst = append(dst, s[start:i]...)
		switch c {
		case '"', '\\':
			dst = append(dst, '\\', c)
		case '\n':
			dst = append(dst, '\\', 'n')
		case '\r':
			dst = append(dst, '\\', 'r')
		case '\t':
			dst = append(dst, '\\', 't')
		default:
			const hex = "0123456789abcdef"
			dst = append(dst, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		}
		i++
		start = i
	}
	dst = append(dst, s[start:]...)
	return append(dst, '"')
}
