package api

import (
	"net/http"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The examples of RFC 7240, section 2 and 4, and what must not trip the reader.
func TestPreferences(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  map[string]string
	}{
		{nil, nil},
		{[]string{"respond-async, wait=100"}, map[string]string{"respond-async": "", "wait": "100"}},
		{[]string{`foo; bar`}, map[string]string{"foo": ""}},
		{[]string{`foo; bar=""`}, map[string]string{"foo": ""}},
		{[]string{`foo=""; bar`}, map[string]string{"foo": ""}},
		{[]string{`foo; some-parameter="x, y"`, "handling=lenient"}, map[string]string{"foo": "", "handling": "lenient"}},
		{[]string{"Handling=strict", "handling=lenient"}, map[string]string{"handling": "strict"}}, // the first counts
		{[]string{`a="b\"c,d;e", f`}, map[string]string{"a": `b"c,d;e`, "f": ""}},
		{[]string{`"`, ",,", "=x", `a="`, `b\`}, map[string]string{`"`: "", "a": `"`, `b\`: ""}},
	} {
		if diff := cmp.Diff(c.want, preferences(http.Header{"Prefer": c.lines})); diff != "" {
			t.Errorf("%q: %s", c.lines, diff)
		}
	}
}
