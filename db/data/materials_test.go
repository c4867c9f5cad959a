package data

import (
	"fmt"
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

// softStates are conditions between which hardness runs on without a gap. Between
// an annealed and an aged alloy, or a quenched and a hardened steel, lies nothing.
var softStates = []string{"annealed", "as-rolled", "normalised", "cold-worked", "quenched-and-tempered", "as-cast"}

// TestConditionsAreDistinct checks that the hardness ranges of a grade neither
// overlap nor leave gaps. Precipitation-hardening steels are apart: solution
// annealed martensite is as hard as overaged, so hardness does not tell them apart.
func TestConditionsAreDistinct(t *testing.T) {
	for _, m := range embedded(t).Materials {
		if len(m.Conditions) == 0 {
			t.Errorf("%s has no condition", m.ID)
		}
		if m.Subgroup == "precipitation-hardening" || m.Group == material.O {
			continue
		}
		conditions := slices.Clone(m.Conditions)
		slices.SortFunc(conditions, func(a, b material.Condition) int {
			if a.Hardness.Scale != b.Hardness.Scale {
				return strings.Compare(string(b.Hardness.Scale), string(a.Hardness.Scale)) // HBW before HRC
			}
			return int(a.Hardness.Low - b.Hardness.Low)
		})
		for i, c := range conditions {
			low, high := 10.0, 600.0
			if c.Hardness.Scale == material.HRC {
				low, high = 20, 68
			}
			if c.Hardness.Low < low || c.Hardness.High > high || c.Hardness.Low >= c.Hardness.High {
				t.Errorf("%s %s: hardness %v", m.ID, c.Name, c.Hardness)
			}
			if i == 0 || conditions[i-1].Hardness.Scale != c.Hardness.Scale {
				continue
			}
			before := conditions[i-1]
			if before.Hardness.High > c.Hardness.Low {
				t.Errorf("%s: %s and %s overlap", m.ID, before.Name, c.Name)
			}
			if slices.Contains(softStates, before.Name) && slices.Contains(softStates, c.Name) && before.Hardness.High != c.Hardness.Low {
				t.Errorf("%s: gap between %s and %s", m.ID, before.Name, c.Name)
			}
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

// TestGradeRules checks groups, cautions and minimum chips that follow from what a
// metal is.
func TestGradeRules(t *testing.T) {
	for _, m := range embedded(t).Materials {
		stainlessP := strings.HasPrefix(m.Subgroup, "stainless-") || m.Subgroup == "precipitation-hardening"
		if stainlessP && m.Group != material.P || (m.Subgroup == material.Austenitic || m.Subgroup == material.Duplex) != (m.Group == material.M) {
			t.Errorf("%s: %s does not stand in %s", m.ID, m.Subgroup, m.Group)
		}
		burns := m.Subgroup == material.Magnesium || m.Subgroup == material.Titanium || m.Subgroup == "zirconium"
		if slices.Contains(m.Cautions, "combustible-fines") != burns {
			t.Errorf("%s: combustible-fines is %v", m.ID, !burns)
		}
		lead := strings.Contains(m.ID, "pb") || m.ID == "cube2" || m.Subgroup == material.Cobalt
		if lead && !slices.Contains(m.Cautions, "hazardous-dust") {
			t.Errorf("%s carries no hazardous-dust", m.ID)
		}
		if m.IsMagnesium() != (m.MinimumChip.GroundEdgeMM.V == 0.05 && m.MinimumChip.HonedInsertMM.V == 0.05) {
			t.Errorf("%s: minimum chip %v", m.ID, m.MinimumChip)
		}
		seen := map[string]bool{}
		for _, p := range m.Physical {
			if seen[p.Name] {
				t.Errorf("%s has %s twice", m.ID, p.Name)
			}
			seen[p.Name] = true
		}
	}
}

// TestPhysicalRanges checks each property against what a solid can have.
func TestPhysicalRanges(t *testing.T) {
	bounds := map[string][2]float64{"density": {0.8, 22}, "thermal_conductivity": {0.1, 430}, "specific_heat": {120, 2500},
		"elastic_modulus": {1, 420}, "thermal_expansion": {1, 200}}
	for _, m := range embedded(t).Materials {
		for _, p := range m.Physical {
			span, known := bounds[p.Name]
			if !known || p.Value.Amount < span[0] || p.Value.Amount > span[1] {
				t.Errorf("%s: %s = %v", m.ID, p.Name, p.Value.Amount)
			}
			if p.Name == "density" {
				low, high := 0.0, 25.0
				switch m.Group {
				case material.P, material.M, material.K:
					low, high = 7.0, 8.2
				case material.O:
					low, high = 0.85, 2.3
				}
				if p.Value.Amount < low || p.Value.Amount > high {
					t.Errorf("%s in %s with density %v", m.ID, m.Group, p.Value.Amount)
				}
			}
		}
	}
}

// TestMaterialSums guards the transcription: rows and sums typed in by hand.
func TestMaterialSums(t *testing.T) {
	d := embedded(t)
	var designations, conditions, physical int
	var low, density float64
	for _, m := range d.Materials {
		designations += len(m.Designations)
		conditions += len(m.Conditions)
		for _, c := range m.Conditions {
			low += c.Hardness.Low
		}
		for _, p := range m.Physical {
			physical++
			if p.Name == "density" {
				density += p.Value.Amount
			}
		}
	}
	got := fmt.Sprintf("%d grades, %d designations, %d conditions (low ends %.0f), %d properties (densities %.3f)",
		len(d.Materials), designations, conditions, low, physical, density)
	if want := "259 grades, 1215 designations, 409 conditions (low ends 59976), 258 properties (densities 497.167)"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
