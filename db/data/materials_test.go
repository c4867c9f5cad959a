package data

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain/catalog"
	"swarf/domain/material"
)

// embedded loads the shipped data once per test.
func embedded(t *testing.T) catalog.Data {
	t.Helper()
	d, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// aliases maps every id and designation, case and blanks apart, to the grades that bear it.
func aliases(d catalog.Data) map[string][]string {
	out := map[string][]string{}
	for _, m := range d.Materials {
		words := []string{m.ID}
		for _, designation := range m.Designations {
			words = append(words, designation.Value)
		}
		for _, word := range words {
			key := strings.ToLower(strings.ReplaceAll(word, " ", ""))
			if !slices.Contains(out[key], m.ID) {
				out[key] = append(out[key], m.ID)
			}
		}
	}
	return out
}

// TestGradeCounts checks that no group has been lost.
func TestGradeCounts(t *testing.T) {
	counts := map[material.Group]int{}
	for _, m := range embedded(t).Materials {
		counts[m.Group]++
	}
	for group, least := range map[material.Group]int{material.P: 90, material.M: 25, material.K: 18,
		material.N: 50, material.S: 35, material.H: 8, material.O: 15} {
		if counts[group] < least {
			t.Errorf("%d grades in %s, want at least %d", counts[group], group, least)
		}
	}
}

// TestDesignationsResolve checks that what the trade calls a grade leads to that
// grade alone. Cross-references: common practice, no source.
func TestDesignationsResolve(t *testing.T) {
	find := aliases(embedded(t))
	for id, words := range map[string][]string{
		"x5crni18-10":         {"1.4301", "S30400", "304", "SUS304", "X5CrNi18-10"},
		"x5crnimo17-12-2":     {"1.4401", "S31600", "SUS316", "316", "X5CrNiMo17-12-2"},
		"x2crnimo17-12-2":     {"1.4404", "316L", "S31603", "SUS316L"},
		"x6crnimoti17-12-2":   {"1.4571", "316Ti", "S31635"},
		"x6crniti18-10":       {"1.4541", "321", "S32100"},
		"x8crnis18-9":         {"1.4305", "303", "S30300"},
		"x2crnimon22-5-3":     {"1.4462", "S31803", "S32205", "2205"},
		"x5crnicunb16-4":      {"1.4542", "17-4PH", "17-4 ph", "S17400", "630"},
		"c45e":                {"1.1191", "C45E", "1045", "G10450", "S45C", "Ck45"},
		"42crmo4":             {"1.7225", "42CrMo4", "4140", "G41400", "SCM440"},
		"100cr6":              {"1.3505", "52100", "SUJ2"},
		"x153crmov12":         {"1.2379", "D2", "SKD11", "X155CrVMo12-1"},
		"x40crmov5-1":         {"1.2344", "H13", "SKD61"},
		"en-gjl-250":          {"EN-GJL-250", "GG-25", "GG25", "FC250", "0.6025"},
		"en-aw-6061":          {"A96061", "EN AW-6061", "6061", "A6061"},
		"en-aw-7075":          {"A97075", "7075", "3.4365"},
		"ti-6al-4v":           {"R56400", "Ti-6Al-4V", "TiAl6V4", "3.7165"},
		"nicr19fe19nb5mo3":    {"N07718", "2.4668", "Inconel 718"},
		"x6nicrtimovb25-15-2": {"S66286", "1.4980", "A286"},
		"az91d":               {"AZ91D", "M11916"},
		"cuzn39pb3":           {"CW614N", "C38500", "Ms58"},
		"pa6":                 {"PA6", "nylon 6"},
		"pom":                 {"POM", "POM-C"},
		"peek":                {"PEEK"},
	} {
		for _, word := range words {
			got := find[strings.ToLower(strings.ReplaceAll(word, " ", ""))]
			if !slices.Equal(got, []string{id}) {
				t.Errorf("%s means %v, want %s alone", word, got, id)
			}
		}
	}
}

// ambiguous are the words that the trade uses for several grades; a caller is
// shown the candidates.
var ambiguous = map[string]int{"v2a": 3, "v4a": 3, "18-8": 2, "420": 2}

// TestAliasesAreOneGradeEach checks that no word stands on two grades but those
// meant to be ambiguous.
func TestAliasesAreOneGradeEach(t *testing.T) {
	find := aliases(embedded(t))
	for word, ids := range find {
		if len(ids) > 1 && ambiguous[word] != len(ids) {
			t.Errorf("%q means %v", word, ids)
		}
	}
	for word, count := range ambiguous {
		if len(find[word]) != count {
			t.Errorf("%q is listed as ambiguous with %d grades but means %v", word, count, find[word])
		}
	}
}

// TestDefaultConditions checks the conditions that callers lean on.
func TestDefaultConditions(t *testing.T) {
	byID := map[string]material.Material{}
	for _, m := range embedded(t).Materials {
		byID[m.ID] = m
	}
	for id, want := range map[string]string{"x5crni18-10": "annealed", "42crmo4": "quenched-and-tempered", "ti-6al-4v": "annealed",
		"nicr19fe19nb5mo3": "aged", "en-gjl-250": "as-cast", "c45e": "normalised", "en-aw-6061": "aged"} {
		m := byID[id]
		if len(m.Conditions) == 0 || m.Conditions[0].Name != want {
			t.Errorf("%s: default condition is not %s", id, want)
		}
	}
	stainless := byID["x5crni18-10"].Conditions[0].Hardness
	if stainless.Low > 180 || stainless.High < 180 || stainless.High >= 240 {
		t.Errorf("annealed 1.4301 %v must hold 180 HBW and not 240", stainless)
	}
}
