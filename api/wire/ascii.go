package wire

import (
	"strings"
	"unicode/utf8"
)

// asciiOf says how characters beyond ASCII are written in plain text.
var asciiOf = map[rune]string{
	'°': "deg", '²': "2", '³': "3", '¹': "1", '⁰': "0", '⁴': "4", '⁵': "5", '⁶': "6", '⁷': "7", '⁸': "8", '⁹': "9", '⁻': "-",
	'·': ".", '×': "x", '−': "-", '–': "-", '—': "-", '‐': "-", '‑': "-", '±': "+/-", '÷': "/", '⁄': "/", '√': "sqrt", '∞': "infinite",
	'≤': "<=", '≥': ">=", '≠': "!=", '≈': "~", '→': "->", '←': "<-", '∅': "dia", '⌀': "dia", 'Ø': "O", 'ø': "o", '‰': "per mille",
	'µ': "u", 'μ': "u", 'Ω': "ohm", 'α': "alpha", 'β': "beta", 'γ': "gamma", 'δ': "delta", 'ε': "epsilon", 'η': "eta", 'κ': "kappa",
	'λ': "lambda", 'π': "pi", 'Π': "product ", 'ρ': "rho", 'σ': "sigma", 'τ': "tau", 'φ': "phi", 'ψ': "psi", 'ω': "omega", 'Δ': "delta", 'Σ': "sum ",
	'‘': "'", '’': "'", '‚': ",", '“': `"`, '”': `"`, '„': `"`, '«': `"`, '»': `"`, '…': "...", '•': "*", '½': "1/2", '¼': "1/4", '¾': "3/4",
	'\u00a0': " ", '\u2009': " ", '\u202f': " ", '\u2007': " ",
	'ä': "ae", 'ö': "oe", 'ü': "ue", 'Ä': "Ae", 'Ö': "Oe", 'Ü': "Ue", 'ß': "ss", 'æ': "ae", 'Æ': "Ae", 'å': "a", 'Å': "A",
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ç': "c", 'è': "e", 'é': "e", 'ê': "e", 'ë': "e", 'ì': "i", 'í': "i", 'î': "i", 'ï': "i",
	'ñ': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ù': "u", 'ú': "u", 'û': "u", 'ý': "y", 'À': "A", 'Á': "A", 'Ç': "C", 'È': "E", 'É': "E",
	'š': "s", 'č': "c", 'ž': "z", 'ř': "r", 'ł': "l", 'Š': "S", 'Č': "C", 'Ž': "Z", 'Ł': "L",
}

// appendASCII writes a text in ASCII on one line: characters beyond it as people
// write them without, control characters as blanks, the rest as a question mark.
func appendASCII(dst []byte, s string) []byte {
	for _, r := range s {
		switch {
		case r < ' ' || r == 0x7f:
			dst = append(dst, ' ')
		case r < utf8.RuneSelf:
			dst = append(dst, byte(r))
		default:
			if text, ok := asciiOf[r]; ok {
				dst = append(dst, text...)
			} else {
				dst = append(dst, '?')
			}
		}
	}
	return dst
}

// ASCII is a text in ASCII, as plain text has it.
func ASCII(s string) []byte { return appendASCII(nil, s) }

// ASCIILines is a text of whole lines in ASCII.
func ASCIILines(s string) []byte {
	var out []byte
	for line := range strings.Lines(s) {
		out = append(appendASCII(out, strings.TrimSuffix(line, "\n")), '\n')
	}
	return out
}
