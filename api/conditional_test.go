package api

import (
	"net/http"
	"testing"

	"swarf/domain"
)

func TestTagsDifferByBytesAndFormat(t *testing.T) {
	a := etag("application/json", []byte("{}"))
	if a != etag("application/json", []byte("{}")) {
		t.Error("the same representation has two tags")
	}
	if a == etag("text/csv", []byte("{}")) || a == etag("application/json", []byte("{ }")) {
		t.Error("different representations share a tag")
	}
	if a[0] != '"' || a[len(a)-1] != '"' {
		t.Errorf("tag %s is not quoted", a)
	}
}

// The comparisons of RFC 9110, 8.8.3.2: weak tags never match strongly.
func TestTagComparison(t *testing.T) {
	for _, c := range []struct {
		header       string
		weak, strong bool
	}{
		{`"1"`, true, true},
		{`W/"1"`, true, false},
		{`"2"`, false, false},
		{`"2", "1"`, true, true},
		{`"2", W/"1"`, true, false},
		{`1`, false, false},
	} {
		if got := tagListed(c.header, `"1"`, true); got != c.weak {
			t.Errorf("%s weakly: %t", c.header, got)
		}
		if got := tagListed(c.header, `"1"`, false); got != c.strong {
			t.Errorf("%s strongly: %t", c.header, got)
		}
	}
}

func TestPreconditions(t *testing.T) {
	const tag = `"now"`
	for _, c := range []struct {
		name        string
		match, none string
		exists      bool
		want        string // code, empty when it holds
	}{
		{"nothing said", "", "", true, "precondition-required"},
		{"nothing said of a new one", "", "", false, "precondition-required"},
		{"the present tag", tag, "", true, ""},
		{"an old tag", `"old"`, "", true, "precondition-failed"},
		{"a weak tag", "W/" + tag, "", true, "precondition-failed"},
		{"any", "*", "", true, ""},
		{"any of none", "*", "", false, "precondition-failed"},
		{"a tag of none", tag, "", false, "precondition-failed"},
		{"create", "", "*", false, ""},
		{"create over one", "", "*", true, "precondition-failed"},
		{"unless this tag", "", tag, true, "precondition-required"},
	} {
		header := make(http.Header)
		if c.match != "" {
			header.Set("If-Match", c.match)
		}
		if c.none != "" {
			header.Set("If-None-Match", c.none)
		}
		p, err := readPrecondition(&http.Request{Header: header}, true)
		if err == nil {
			err = p.holds(c.exists, []string{`"inch"`, tag})
		}
		got := ""
		if faults := domain.Faults(err); len(faults) > 0 {
			got = faults[0].Code
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
