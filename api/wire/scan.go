package wire

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// deepest is how far objects and lists may be nested.
const deepest = 32

// flaw is a breach of the JSON grammar (RFC 8259): where, and what.
type flaw struct {
	at   int
	what string
}

// blank skips white space.
func blank(s string, i int) int {
	for i < len(s) && (s[i] == ' ' || s[i] == '\n' || s[i] == '\t' || s[i] == '\r') {
		i++
	}
	return i
}

// quoted finds the end of the string that opens at i; plain says that it holds no
// escape and is the text itself.
func quoted(s string, i int) (end int, plain bool, bad *flaw) {
	plain = true
	for j := i + 1; j < len(s); j++ {
		switch c := s[j]; {
		case c == '"':
			return j + 1, plain, nil
		case c == '\\':
			plain = false
			j++
			if j == len(s) {
				return 0, false, &flaw{len(s), "the text ends inside a string"}
			}
			if !strings.ContainsRune(`"\/bfnrtu`, rune(s[j])) || s[j] >= utf8.RuneSelf {
				return 0, false, &flaw{j - 1, "there is no such escape in JSON"}
			}
			if s[j] == 'u' {
				if _, ok := hex4(s, j+1); !ok {
					return 0, false, &flaw{j - 1, `\u needs four hexadecimal digits`}
				}
				j += 4
			}
		case c < ' ':
			return 0, false, &flaw{j, "a string holds a bare control character"}
		}
	}
	return 0, false, &flaw{len(s), "the text ends inside a string"}
}

func hex4(s string, i int) (rune, bool) {
	if i+4 > len(s) {
		return 0, false
	}
	var r rune
	for _, c := range []byte(s[i : i+4]) {
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		default:
			return 0, false
		}
		r = r<<4 | rune(c)
	}
	return r, true
}

// unescape gives the text of a string whose grammar has been checked. Half of a
// surrogate pair is no character: ok is false.
func unescape(inner string) (text string, ok bool) {
	var b strings.Builder
	b.Grow(len(inner))
	for i := 0; i < len(inner); i++ {
		c := inner[i]
		if c != '\\' {
			b.WriteByte(c)
			continue
		}
		i++
		switch inner[i] {
		case 'b':
			b.WriteByte('\b')
		case 'f':
			b.WriteByte('\f')
		case 'n':
			b.WriteByte('\n')
		case 'r':
			b.WriteByte('\r')
		case 't':
			b.WriteByte('\t')
		case 'u':
			r, _ := hex4(inner, i+1)
			i += 4
			if utf16.IsSurrogate(r) {
				if i+2 >= len(inner) || inner[i+1] != '\\' || inner[i+2] != 'u' {
					return "", false
				}
				low, _ := hex4(inner, i+3)
				if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
					return "", false
				}
				i += 6
			}
			b.WriteRune(r)
		default:
			b.WriteByte(inner[i])
		}
	}
	return b.String(), true
}

// skip finds the end of the value that begins at i, checking its grammar; depth is
// that of what holds it.
func skip(s string, i, depth int) (end int, bad *flaw) {
	if i >= len(s) {
		return 0, &flaw{len(s), "the text ends where a value belongs"}
	}
	switch c := s[i]; c {
	case '"':
		end, _, bad = quoted(s, i)
		return end, bad
	case '{', '[':
		if depth >= deepest {
			return 0, &flaw{i, tooDeep}
		}
		return skipInside(s, i, depth+1)
	case 't':
		return word(s, i, "true")
	case 'f':
		return word(s, i, "false")
	case 'n':
		return word(s, i, "null")
	default:
		_, n := readNumber(s[i:])
		if n == 0 {
			return 0, &flaw{i, noValue(s, i)}
		}
		return i + n, nil
	}
}

const tooDeep = "objects and lists are nested more than 32 deep"

func word(s string, i int, w string) (end int, bad *flaw) {
	if strings.HasPrefix(s[i:], w) {
		return i + len(w), nil
	}
	return 0, &flaw{i, noValue(s, i)}
}

// noValue says why there is no value at a place.
func noValue(s string, i int) string {
	rest := strings.ToLower(s[i:min(len(s), i+9)])
	switch {
	case strings.HasPrefix(rest, "nan"), strings.HasPrefix(rest, "inf"), strings.HasPrefix(rest, "-inf"), strings.HasPrefix(rest, "+inf"):
		return "JSON has no number that is not finite"
	case rest[0] == '\'':
		return "JSON has text in double quotes only"
	case rest[0] == '/':
		return "JSON has no comments"
	case rest[0] == '.', rest[0] == '+', rest[0] == '-', isDigit(rest[0]):
		return "this is no JSON number: write it plainly, such as 0.5"
	}
	return "a value belongs here"
}

// skipInside finds the end of an object or a list.
func skipInside(s string, i, depth int) (end int, bad *flaw) {
	object := s[i] == '{'
	closing := byte(']')
	if object {
		closing = '}'
	}
	i = blank(s, i+1)
	if i < len(s) && s[i] == closing {
		return i + 1, nil
	}
	for {
		if object {
			if _, _, i, bad = name(s, i); bad != nil {
				return 0, bad
			}
		}
		if i, bad = skip(s, i, depth); bad != nil {
			return 0, bad
		}
		var last bool
		if i, last, bad = after(s, i, closing); bad != nil || last {
			return i, bad
		}
	}
}

// name reads the name of a member and the colon, up to its value.
func name(s string, i int) (inner string, plain bool, end int, bad *flaw) {
	if i >= len(s) {
		return "", false, 0, &flaw{len(s), "the text ends inside an object"}
	}
	if s[i] != '"' {
		return "", false, 0, &flaw{i, "the name of a member in double quotes belongs here"}
	}
	end, plain, bad = quoted(s, i)
	if bad != nil {
		return "", false, 0, bad
	}
	inner = s[i+1 : end-1]
	i = blank(s, end)
	if i >= len(s) || s[i] != ':' {
		return "", false, 0, &flaw{i, "a colon belongs here"}
	}
	return inner, plain, blank(s, i+1), nil
}

// after reads what follows a value inside an object or a list: a comma, or the
// closing bracket, which makes it the last.
func after(s string, i int, closing byte) (end int, last bool, bad *flaw) {
	i = blank(s, i)
	if i >= len(s) {
		if closing == '}' {
			return 0, false, &flaw{i, "the text ends inside an object"}
		}
		return 0, false, &flaw{i, "the text ends inside a list"}
	}
	switch s[i] {
	case closing:
		return i + 1, true, nil
	case ',':
		i = blank(s, i+1)
		if i < len(s) && s[i] == closing {
			return 0, false, &flaw{i, "a comma stands before the closing bracket"}
		}
		return i, false, nil
	}
	return 0, false, &flaw{i, "a comma or " + string(closing) + " belongs here"}
}
