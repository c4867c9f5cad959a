package api

import (
	"net/http"
	"strings"
)

// preferences are what a caller would rather have (RFC 7240): the first of each name, in
// lower case, with its value; empty when it has none. Unknown ones are passed over.
func preferences(h http.Header) map[string]string {
	var out map[string]string
	for _, line := range h.Values("Prefer") {
		for entry := range splitOutside(line, ',') {
			first := entry
			for part := range splitOutside(entry, ';') {
				first = part // what follows are parameters of the preference
				break
			}
			name, value, _ := strings.Cut(first, "=")
			name, value = strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(value)
			if _, twice := out[name]; name == "" || twice {
				continue
			}
			if out == nil {
				out = map[string]string{}
			}
			out[name] = unquoted(value)
		}
	}
	return out
}

// prefers reports a caller who states a preference, with its value.
func (x *exchange) prefers(name string) (value string, stated bool) {
	value, stated = preferences(x.Request().Header)[name]
	return value, stated
}

// applied says that a preference was followed.
func (x *exchange) applied(preference string) {
	x.Response().Header().Add("Preference-Applied", preference)
}

// splitOutside splits a field value at a sign that stands outside quotes.
func splitOutside(text string, at byte) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		start, quoted := 0, false
		for i := 0; i < len(text); i++ {
			switch c := text[i]; {
			case quoted && c == '\\':
				i++
			case c == '"':
				quoted = !quoted
			case c == at && !quoted:
				if !yield(text[start:i]) {
					return
				}
				start = i + 1
			}
		}
		yield(text[start:])
	}
}

// unquoted takes a quoted string (RFC 9110, 5.6.4) out of its quotes.
func unquoted(value string) string {
	if len(value) < 2 || value[0] != '"' || value[len(value)-1] != '"' {
		return value
	}
	var b strings.Builder
	for inner := value[1 : len(value)-1]; inner != ""; {
		if inner[0] == '\\' && len(inner) > 1 {
			inner = inner[1:]
		}
		b.WriteByte(inner[0])
		inner = inner[1:]
	}
	return b.String()
}
