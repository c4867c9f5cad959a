package catalog

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

func TestFindGrade(t *testing.T) {
	s := snapshot(t, sample())
	for designation, want := range map[string]string{
		"x5crni18-10": "x5crni18-10", "X5CrNi18-10": "x5crni18-10", "X5 CrNi 18-10": "x5crni18-10", "X5CrNi18 10": "x5crni18-10",
		"X5CrNi1810": "x5crni18-10", "x5crni18–10": "x5crni18-10", "1.4301": "x5crni18-10", " 1.4301 ": "x5crni18-10",
		"W.-Nr. 1.4301": "x5crni18-10", "EN 1.4301": "x5crni18-10", "S30400": "x5crni18-10", "UNS S30400": "x5crni18-10",
		"s 30400": "x5crni18-10", "SUS 304": "x5crni18-10", "JIS SUS304": "x5crni18-10", "AISI 304": "x5crni18-10",
		"304": "x5crni18-10", "SS304": "x5crni18-10", "type 304": "x5crni18-10", "304 stainless": "x5crni18-10",
		"stainless steel 304": "x5crni18-10", "304L": "x2crni18-9", "304 L": "x2crni18-9",
		"316": "x5crnimo17-12-2", "316L": "x2crnimo17-12-2", "316Ti": "x6crnimoti17-12-2", "316 Ti": "x6crnimoti17-12-2",
		"SUS316": "x5crnimo17-12-2", "S31600": "x5crnimo17-12-2", "1.4401": "x5crnimo17-12-2",
		"C45": "c45e", "Ck 45": "", "GJL-250": "en-gjl-250", "GG-25": "en-gjl-250", "EN-GJL-250": "en-gjl-250",
		"6061": "en-aw-6061", "AA 6061": "en-aw-6061", "6061 aluminum": "en-aw-6061", "EN AW 6061": "en-aw-6061",
		"alloy 718": "", "Inconel 718": "nicr19fe19nb5mo3", "inconel718": "nicr19fe19nb5mo3", "Titanium grade 2": "titanium-grade-2",
		"14301": "", "1-4301": "", "titanium 304": "", "3 16": "", "31 6L": "", "6061-T6": "", "EN 45": "",
	} {
		m, err := s.FindGrade(designation)
		switch {
		case want == "" && err == nil:
			t.Errorf("%q is taken for %s", designation, m.ID)
		case want != "" && err != nil:
			t.Errorf("%q: %v", designation, err)
		case want != "" && m.ID != want:
			t.Errorf("%q is %s, want %s", designation, m.ID, want)
		}
	}
}

// Words of the trade name no grade, even when only one of its kind is on file.
func TestGenericWords(t *testing.T) {
	s := snapshot(t, sample())
	for word, want := range map[string]int{
		"stainless": 6, "Stainless Steel": 6, "steel": 7, "aluminium": 1, "aluminum": 1, "cast iron": 1, "inconel": 1,
		"titanium": 1, "ferritic stainless": 1, "V2A": 2, "M": 5, "gray cast iron": 1,
	} {
		_, err := s.FindGrade(word)
		if err == nil || err.Code != "material-ambiguous" || err.Kind != domain.Invalid {
			t.Errorf("%q: %v, want material-ambiguous", word, err)
			continue
		}
		if len(err.Candidates) != want {
			t.Errorf("%q has candidates %v, want %d", word, err.Candidates, want)
		}
		if err.Msg == "" || err.Fix == "" || err.Field != "" {
			t.Errorf("%q: %+v", word, err)
		}
	}
}

func TestAmbiguousSaysWhatItSpans(t *testing.T) {
	d := sample()
	d.Force = []material.Force{
		pair(about("a", domain.Published), ofGroup("M"), 2000),
		pair(about("b", domain.Published), ofSubgroup("P/stainless-ferritic"), 1600),
	}
	_, err := snapshot(t, d).FindGrade("stainless")
	if err == nil || err.Value == nil || err.Limit == nil {
		t.Fatalf("%+v", err)
	}
	// 0.2^-0.25 = 1.4953
	if low, high := err.Value.Amount, err.Limit.Amount; low < 2392 || low > 2393 || high < 2990 || high > 2991 {
		t.Errorf("span %v to %v", low, high)
	}
	if !strings.Contains(err.Msg, "1 P stainless-ferritic, 5 M austenitic") {
		t.Errorf("message %q", err.Msg)
	}
	if c := err.Candidates[0]; c.ID != "x5crni18-10" || c.Group != "M" {
		t.Errorf("first candidate %+v, want the grade with the most names", c)
	}
}

func TestUnknownOffersTheNearest(t *testing.T) {
	s := snapshot(t, sample())
	for designation, near := range map[string]string{
		"1.4310": "1.4301", "6061-T6": "AA6061", "X5CrNi18-1": "X5CrNi18-10", "14301": "1.4301", "316Tl": "316Ti", "inconel 781": "Inconel 718",
	} {
		_, err := s.FindGrade(designation)
		if err == nil || err.Code != "material-unknown" || err.Kind != domain.Invalid {
			t.Errorf("%q: %v, want material-unknown", designation, err)
		} else if !strings.Contains(err.Fix, near) {
			t.Errorf("%q offers %q, without %s", designation, err.Fix, near)
		}
	}
	for _, designation := range []string{"", "   ", "zzzzzz", strings.Repeat("9", 100_000), "\x00\xff", "unobtainium 12"} {
		if _, err := s.FindGrade(designation); err == nil || err.Code != "material-unknown" || len(err.Msg) > 400 {
			t.Errorf("%.20q: %.500v", designation, err)
		}
	}
}

func TestSearch(t *testing.T) {
	s := snapshot(t, sample())
	ids := func(q string, group material.Group) []string {
		var ids []string
		for _, m := range s.Search(q, group) {
			ids = append(ids, m.ID)
		}
		return ids
	}
	if got := ids("304", ""); !slices.Equal(got, []string{"x5crni18-10", "x2crni18-9"}) {
		t.Errorf("304: %v, want the exact one, then the one that begins with it", got)
	}
	if got := ids("carbon steel", ""); !slices.Equal(got, []string{"c45e"}) {
		t.Errorf("carbon steel: %v", got)
	}
	if got := ids("mo17", ""); !slices.Equal(got, []string{"x2crnimo17-12-2", "x5crnimo17-12-2"}) {
		t.Errorf("mo17: %v", got)
	}
	if got := ids("", material.S); !slices.Equal(got, []string{"nicr19fe19nb5mo3", "titanium-grade-2"}) {
		t.Errorf("group S: %v", got)
	}
	if got := len(ids("", "")); got != 11 {
		t.Errorf("an empty search finds %d", got)
	}
	if got := ids("stainless", material.P); !slices.Equal(got, []string{"x6cr17"}) {
		t.Errorf("stainless in P: %v", got)
	}
	if got := ids("unobtainium", ""); len(got) != 0 {
		t.Errorf("unobtainium: %v", got)
	}
}
