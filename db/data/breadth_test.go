package data

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// TestFamilies checks that each family of work materials has its grades, and that the
// groups of ISO 513 hold at least 150 in all.
func TestFamilies(t *testing.T) {
	counts := map[string]int{}
	metals := 0
	for _, m := range embedded(t).Materials {
		counts[string(m.Group)+"/"+m.Subgroup]++
		if m.Group != material.O {
			metals++
		}
	}
	for family, least := range map[string]int{
		"P/free-cutting": 8, "P/carbon": 12, "P/alloy": 15, "P/tool": 10, "P/stainless-ferritic": 4, "P/stainless-martensitic": 8, "P/precipitation-hardening": 4, "P/cast-steel": 3,
		"M/austenitic": 15, "M/duplex": 5, "K/grey-iron": 5, "K/ductile-iron": 6, "K/malleable-iron": 3, "K/compacted-iron": 2, "N/aluminium": 12, "N/aluminium-cast": 6,
		"N/magnesium": 5, "N/copper": 5, "N/brass": 6, "N/bronze": 5, "S/titanium": 8, "S/nickel": 12, "S/cobalt": 4, "S/iron-base": 3, "H/hardened-steel": 5, "H/hardened-iron": 2, "O/plastic": 10,
	} {
		if counts[family] < least {
			t.Errorf("%d grades of %s, want at least %d", counts[family], family, least)
		}
	}
	if metals < 150 {
		t.Errorf("%d grades over the groups of ISO 513, want at least 150", metals)
	}
}

// TestStandardsOfAGrade counts the kinds of designation a grade has. Cast steels, irons
// of one standard and hardened states, which are called by the steel they were, have
// fewer; a loss shows.
func TestStandardsOfAGrade(t *testing.T) {
	metals, four, three := 0, 0, 0
	for _, m := range embedded(t).Materials {
		if m.Group == material.O || m.Group == material.H {
			continue
		}
		metals++
		kinds := map[string]bool{}
		for _, d := range m.Designations {
			kinds[d.Standard] = true
		}
		if len(kinds) >= 4 {
			four++
		}
		if len(kinds) >= 3 {
			three++
		}
	}
	if four < 190 || three < 210 {
		t.Errorf("of %d grades %d have four kinds of designation and %d three; want at least 190 and 210", metals, four, three)
	}
}

// TestDesignationsAsPrinted holds the catalogue against tables that print designations
// of a grade side by side: each of them leads to one grade, or to candidates with it
// among them, and all of a row to the same. Sources: the rows' own.
func TestDesignationsAsPrinted(t *testing.T) {
	s, sources := shipped(t), sourceIDs(t)
	rows := gathered(t, "designations_seen.tsv")
	if len(rows) != 72 {
		t.Errorf("%d rows, want 72", len(rows))
	}
	names := 0
	for _, row := range rows {
		if !sources[row["source"]] {
			t.Errorf("no source %s", row["source"])
		}
		var one []string
		for i, name := range strings.Split(row["names"], "; ") {
			_, value, _ := strings.Cut(name, ":")
			ids := meant(s, value)
			names++
			if len(ids) == 0 {
				t.Errorf("%s: %s is unknown", row["source"], value)
			}
			if i == 0 {
				one = ids
			} else {
				one = slices.DeleteFunc(one, func(id string) bool { return !slices.Contains(ids, id) })
			}
		}
		if len(one) != 1 {
			t.Errorf("%s: %s lead to %v, not to one grade", row["source"], row["names"], one)
		}
	}
	if names < 180 {
		t.Errorf("only %d names held", names)
	}
}

// meant are the grades that a name can mean.
func meant(s *catalog.Snapshot, name string) []string {
	m, err := s.FindGrade(name)
	if err == nil {
		return []string{m.ID}
	}
	var ids []string
	for _, c := range err.Candidates {
		ids = append(ids, c.ID)
	}
	return ids
}

// TestIdentityIsKept checks that spacing and case are forgiven and identity is not.
func TestIdentityIsKept(t *testing.T) {
	s := shipped(t)
	for _, family := range [][]string{
		{"304", "304L", "303", "301", "321", "347", "316", "316L", "316Ti", "317L"}, {"1.4301", "1.4307", "1.4306", "1.4310"}, {"6060", "6061", "6063", "6082"},
		{"410", "416", "430", "434"}, {"GG20", "GG25", "GG30"}, {"2205", "2304", "2507"}, {"Inconel 600", "Inconel 625", "Inconel 718"}, {"C45", "C40", "C50"}, {"titanium grade 1", "titanium grade 2", "titanium grade 5"},
	} {
		seen := map[string]string{}
		for _, name := range family {
			for _, spelled := range []string{name, strings.ToLower(name), strings.ToUpper(name), " " + name + " ", strings.ReplaceAll(name, " ", "")} {
				ids := meant(s, spelled)
				if len(ids) != 1 {
					t.Errorf("%q means %v", spelled, ids)
					continue
				}
				if other, twice := seen[ids[0]]; twice && other != name {
					t.Errorf("%q and %q are both %s", other, spelled, ids[0])
				}
				seen[ids[0]] = name
			}
		}
	}
	for spelled, id := range map[string]string{"316 L": "x2crnimo17-12-2", "316 ti": "x6crnimoti17-12-2", "x 5 crni 18 - 10": "x5crni18-10", "en aw 6082": "en-aw-6082", "gjs400-15": "en-gjs-400-15", "TI-6AL-4V": "ti-6al-4v"} {
		if ids := meant(s, spelled); !slices.Equal(ids, []string{id}) {
			t.Errorf("%q means %v, want %s", spelled, ids, id)
		}
	}
}

// TestSearchRanks checks the order of a search: what is named exactly, then what begins
// so, then what mentions it.
func TestSearchRanks(t *testing.T) {
	s := shipped(t)
	found := s.Search("316", "")
	if len(found) < 3 || found[0].ID != "x5crnimo17-12-2" {
		t.Fatalf("316 finds %d, first %v", len(found), found[0])
	}
	begins := func(m *material.Material) bool {
		return slices.ContainsFunc(m.Designations, func(d material.Designation) bool { return strings.HasPrefix(catalog.Key(d.Value), "316") }) || strings.HasPrefix(m.ID, "316")
	}
	mentioned := false
	for _, m := range found[1:] {
		if begins(m) && mentioned {
			t.Errorf("%s begins so and comes after one that mentions it", m.ID)
		}
		mentioned = mentioned || !begins(m)
	}
}

// TestTypos checks that a slip of the finger is answered with the name that was meant.
func TestTypos(t *testing.T) {
	s := shipped(t)
	for typo, near := range map[string]string{"1.4031": "1.4301", "S30040": "S30400", "X5CrNi18-01": "X5CrNi18-10", "42CrMo5": "42CrMo4", "Inkonel 718": "Inconel 718", "EN-GJL-255": "EN-GJL-250", "A2024O": "A2024", "SUS3O4": "SUS304"} {
		_, err := s.FindGrade(typo)
		if err == nil || err.Code != "material-unknown" || !strings.Contains(err.Fix, "did you mean") || !strings.Contains(err.Fix, near) {
			t.Errorf("%q: %v, want a hint at %s", typo, err, near)
		}
	}
}

// TestFallBacks checks that a grade without a force record of its own is served by its
// subgroup, then by its group, and says so; and that a plastic is served by its own alone.
func TestFallBacks(t *testing.T) {
	s := shipped(t)
	counts := map[string]int{}
	for _, m := range s.Materials() {
		own := slices.ContainsFunc(m.Force, func(r material.Force) bool { return r.Method != material.DrillWork })
		condition := ""
		if len(m.Conditions) > 0 {
			condition = m.Conditions[0].Name
		}
		choice := s.ChooseForce(catalog.ForceQuery{Grade: m, Condition: condition, Process: "turning"})
		switch {
		case choice.Served == nil:
			counts["none"]++
			if m.Group != material.O {
				t.Errorf("%s has no force record at all", m.ID)
			}
		case choice.FallBack == "" != (choice.Served.Level == "material") || choice.FallBack != "" && choice.FallBack != choice.Served.Level:
			t.Errorf("%s: served by %s, fall-back %q", m.ID, choice.Served.ID, choice.FallBack)
		case m.Group == material.O && choice.FallBack != "":
			t.Errorf("%s is served by %s of another plastic", m.ID, choice.Served.ID)
		case !own && choice.FallBack == "":
			t.Errorf("%s has no record of its own and is served by %s", m.ID, choice.Served.ID)
		}
		counts[choice.FallBack]++
	}
	if counts["subgroup"] < 50 || counts["group"] < 1 || counts["none"] < 10 || counts[""] < 60 {
		t.Errorf("fall-backs %v", counts)
	}
	pom, _ := s.FindGrade("POM")
	if choice := s.ChooseForce(catalog.ForceQuery{Grade: pom, Process: "turning"}); choice.Served == nil || choice.Served.Basis != domain.Recalled {
		t.Errorf("POM has a record of its own: %+v", choice.Served)
	}
}
