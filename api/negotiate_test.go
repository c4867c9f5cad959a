package api

import (
	"net/http/httptest"
	"testing"

	"swarf/domain"
)

func TestNegotiate(t *testing.T) {
	for _, c := range []struct {
		param, accept string
		want          string // empty: not acceptable
	}{
		{"", "", "json"},
		{"", "*/*", "json"},
		{"", "application/json", "json"},
		{"", "application/*", "json"},
		{"", "text/csv", "csv"},
		{"", "text/plain", "text"},
		{"", "TEXT/Plain; charset=utf-8", "text"},
		{"", "text/*", "text"},
		{"", "text/csv;q=0.9, application/json;q=0.4", "csv"},
		{"", "text/csv;q=0.4, application/json;q=0.9", "json"},
		{"", "application/json;q=0, */*", "text"},
		{"", "text/html, application/xhtml+xml, */*;q=0.1", "json"},
		{"", "application/problem+json", "json"},
		{"", "image/png", ""},
		{"", "application/json;q=0", ""},
		{"", "application/json;q=much", ""},
		{"csv", "application/json", "csv"},
		{"text/plain", "", "text"},
		{"json", "text/csv", "json"},
		{"xml", "", ""},
		{"html", "", ""},
	} {
		got, err := negotiate(c.param, c.accept, tableFormats)
		if c.want == "" {
			faults := domain.Faults(err)
			if len(faults) != 1 || faults[0].Code != "not-acceptable" {
				t.Errorf("format=%q Accept: %q gives %s, %v; want not-acceptable", c.param, c.accept, got, err)
			}
			continue
		}
		if err != nil || got.String() != c.want {
			t.Errorf("format=%q Accept: %q gives %s, %v; want %s", c.param, c.accept, got, err, c.want)
		}
	}
}

func TestHowProblemsAreTold(t *testing.T) {
	const browser = "text/html,application/xhtml+xml,application/xml;q=0.9,image/webp,*/*;q=0.8"
	for _, c := range []struct {
		target, accept string
		want           format
	}{
		{"/v1/estimates", "", formatJSON},
		{"/v1/estimates", "application/json, text/plain, */*", formatJSON},
		{"/v1/estimates", "text/plain", formatText},
		{"/v1/estimates", "text/plain, application/json;q=0.5", formatText},
		{"/v1/estimates", browser, formatHTML},
		{"/v1/estimates", "text/html;q=0.4, application/json", formatJSON},
		{"/v1/estimates", "text/html, text/plain", formatHTML},
		{"/v1/estimates?format=json", browser, formatJSON},
		{"/v1/estimates?format=text", browser, formatText},
		{"/v1/estimates?format=text/plain", "application/json", formatText},
		{"/v1/estimates?format=value", browser, formatValue},
		{"/v1/estimates?format=words", "", formatWords},
		{"/v1/estimates?format=html", "application/json", formatHTML},
		{"/v1/estimates?format=csv", "text/plain", formatJSON},
	} {
		r := httptest.NewRequest("GET", c.target, nil)
		if c.accept != "" {
			r.Header.Set("Accept", c.accept)
		}
		if got := problemFormat(r); got != c.want {
			t.Errorf("%s with Accept %q: %s", c.target, c.accept, got)
		}
	}
}
