package wire

import (
	"bytes"
	"strconv"

	"swarf/domain/unit"
)

// AppendText writes an answer as lines key=value for scripts that read nothing
// else: the same values as AppendJSON in the order of the struct, nested members
// joined by dots, places in lists in brackets. It is ASCII, with a decimal point
// and no exponents; a value has no line break. What is absent has no line.
func AppendText(dst []byte, v any, system unit.System) ([]byte, error) {
	return (*Selection)(nil).AppendText(dst, v, system)
}

// AppendTextClose writes the last two lines of a text: the status (ok, warn,
// refused or error) and how many lines the text has, these two among them, so that
// a script notices when some are missing. Dst must be the text from its beginning.
func AppendTextClose(dst []byte, status string) []byte {
	dst = append(append(append(dst, "status="...), status...), '\n')
	dst = append(dst, "lines="...)
	dst = strconv.AppendInt(dst, int64(bytes.Count(dst, []byte{'\n'})+1), 10)
	return append(dst, '\n')
}

// AppendText writes the selected fields of an answer as text.
func (s *Selection) AppendText(dst []byte, v any, system unit.System) ([]byte, error) {
	var w walker
	w.reset(system, s)
	out := dst
	w.leaf = func(_ unit.Quantity, text bool) {
		out = append(append(out, w.path...), '=')
		if text {
			out = appendASCII(out, string(w.value))
		} else {
			out = append(out, w.value...)
		}
		out = append(out, '\n')
	}
	at := 0
	w.mark = func() { at = len(out) }
	w.fill = func() {
		var lines []byte
		for _, m := range w.names {
			if len(w.path) > 0 {
				lines = append(append(lines, w.path...), '.')
			}
			lines = append(append(lines, "unit_of."...), m.name...)
			lines = append(append(append(lines, '='), m.quantity.Code(system)...), '\n')
		}
		out = insert(out, at, lines)
	}
	if err := w.start(v); err != nil {
		return dst, err
	}
	return out, nil
}

// AppendMarked writes what went wrong where a caller expects a number, or a line of a
// program: one line that is neither, so that nothing takes it for one.
func AppendMarked(dst []byte, code, detail string) []byte {
	dst = append(append(append(dst, "#ERR "...), code...), ' ')
	return appendASCII(dst, detail)
}
