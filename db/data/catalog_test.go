package data

import (
	"slices"
	"testing"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// shipped is the snapshot of the embedded data.
func shipped(t testing.TB) *catalog.Snapshot {
	t.Helper()
	d, err := Embedded()
	if err != nil {
		t.Fatal(err)
	}
	s, err := catalog.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Names of one grade across the standards. From memory of EN 10027 and EN 10088, UNS,
// AISI/SAE, JIS and EN 573; the cross-references are those the trade takes for granted.
func TestDesignationsOfOneGrade(t *testing.T) {
	s := shipped(t)
	for id, designations := range map[string][]string{
		"x5crni18-10":       {"1.4301", "S30400", "AISI 304", "304", "SUS 304", "SUS304", "X5CrNi18-10", "x5crni18-10", "X5 CrNi 18-10", "304 stainless"},
		"x5crnimo17-12-2":   {"1.4401", "S31600", "SUS316", "X5CrNiMo17-12-2", "316", "AISI 316"},
		"x2crnimo17-12-2":   {"316L", "1.4404", "S31603"},
		"x6crnimoti17-12-2": {"316Ti", "1.4571", "S31635"},
		"c45e":              {"1.1191", "C45E", "1045", "SAE 1045", "C45"},
		"42crmo4":           {"1.7225", "4140", "AISI 4140", "SCM440"},
		"en-gjl-250":        {"EN-GJL-250", "GJL-250", "GG25", "GG-25"},
		"en-aw-6061":        {"A96061", "6061", "AA 6061", "EN AW-6061", "6061 aluminum"},
		"ti-6al-4v":         {"R56400", "Ti-6Al-4V", "Ti 6Al 4V", "titanium grade 5", "TiAl6V4"},
		"nicr19fe19nb5mo3":  {"N07718", "2.4668", "Inconel 718", "alloy 718"},
		"az91d":             {"AZ91D", "AZ91", "M11916"},
		"x5crnicunb16-4":    {"17-4PH", "17-4 PH", "S17400", "1.4542"},
	} {
		for _, designation := range designations {
			if m, err := s.FindGrade(designation); err != nil || m.ID != id {
				t.Errorf("%q: %v, %v; want %s", designation, m, err, id)
			}
		}
	}
}

func TestEveryDesignationFindsItsGrade(t *testing.T) {
	s := shipped(t)
	for _, m := range s.Materials() {
		for _, d := range m.Designations {
			found, err := s.FindGrade(d.Value)
			if err != nil && err.Code == "material-ambiguous" && slices.ContainsFunc(err.Candidates, func(c domain.Candidate) bool { return c.ID == m.ID }) {
				continue
			}
			if err != nil || found != m {
				t.Errorf("%s %s of %s finds %v, %v", d.Standard, d.Value, m.ID, found, err)
			}
		}
	}
}

func TestExplore(t *testing.T) {
	s := shipped(t)
	for _, word := range []string{"stainless", "steel", "aluminium", "aluminum", "titanium", "cast iron", "brass", "inconel", "duplex", "copper", "bronze", "magnesium", "nickel", "plastic", "tool steel", "420", "V2A", "18-8", "mild steel", "nylon", "hardened steel", "spring steel"} {
		m, err := s.FindGrade(word)
		if err == nil {
			t.Errorf("%q is %s", word, m.ID)
			continue
		}
		t.Logf("%s: %s %s | %v %v | %s", word, err.Code, err.Msg, err.Value, err.Limit, err.Fix)
		if word == "stainless" || word == "420" {
			for _, c := range err.Candidates {
				t.Log("   ", c)
			}
		}
	}
	for _, word := range []string{"1.4310", "6061-T6", "304H", "17-4", "EN 24", "4141", "Hardox", "316 L", "H13", "D2", "A2", "P20"} {
		m, err := s.FindGrade(word)
		if err == nil {
			t.Logf("%q = %s", word, m.ID)
			continue
		}
		t.Logf("%s: %s | %s", word, err.Msg, err.Fix)
	}
	counts := map[string]int{}
	for _, m := range s.Materials() {
		for _, c := range m.Conditions {
			for _, p := range []string{"turning", "milling", "drilling"} {
				f := s.ChooseForce(catalog.ForceQuery{Grade: m, Condition: c.Name, Process: p})
				if f.Served == nil {
					t.Logf("%s %s %s: no force", m.ID, c.Name, p)
				} else {
					counts["force "+f.FallBack+" "+string(f.Served.Method)]++
				}
			}
			if m.Group == material.O {
				continue
			}
			for _, w := range [][2]string{{"drilling", "drill-solid-carbide"}, {"side-milling", "mill-end"}, {"turning", "turning-external"},
				{"drilling", "drill-twist-hss"}, {"drilling", "drill-indexable"}, {"drilling", "drill-exchangeable-tip"}, {"face-milling", "mill-face"}, {"slot-milling", "mill-end"}, {"boring-internal", "turning-internal"}} {
				f := s.ChooseStarting(catalog.StartingQuery{Grade: m, Condition: c.Name, Operation: w[0], Class: w[1]})
				if f.Served == nil {
					t.Logf("%s %s %v: no starting", m.ID, c.Name, w)
				} else {
					counts["start "+w[0]+" "+w[1]+" "+f.FallBack+" "+string(f.Served.Basis)]++
				}
			}
		}
	}
	for k, v := range counts {
		t.Log(k, v)
	}
}
