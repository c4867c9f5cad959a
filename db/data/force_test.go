package data

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

// TestForceScopes checks that every force record is about a grade, a subgroup or a
// group that there is, in a condition that the grade has.
func TestForceScopes(t *testing.T) {
	d := embedded(t)
	grades, subgroups := map[string]material.Material{}, map[string][]string{}
	for _, m := range d.Materials {
		grades[m.ID] = m
		for _, c := range m.Conditions {
			key := string(m.Group) + "/" + m.Subgroup
			subgroups[key] = append(subgroups[key], c.Name)
		}
	}
	for _, f := range d.Force {
		switch f.Level {
		case "material":
			m, there := grades[f.Key]
			if !there {
				t.Errorf("%s: no grade %s", f.ID, f.Key)
			} else if _, has := m.Condition(f.Condition); f.Condition != "" && !has {
				t.Errorf("%s: %s has no condition %q", f.ID, f.Key, f.Condition)
			}
		case "subgroup":
			if conditions, there := subgroups[f.Key]; !there || f.Condition != "" && !slices.Contains(conditions, f.Condition) {
				t.Errorf("%s: no subgroup %s with condition %q", f.ID, f.Key, f.Condition)
			}
		case "group":
			if !slices.Contains(material.Groups, material.Group(f.Key)) {
				t.Errorf("%s: no group %s", f.ID, f.Key)
			}
		}
	}
}

// TestEveryGroupHasForce checks that a group alone can be answered, by rung 0 and
// by a pair.
func TestEveryGroupHasForce(t *testing.T) {
	d := embedded(t)
	for _, group := range material.Groups {
		count := 0
		for _, f := range d.Force {
			if f.Level == "group" && f.Key == string(group) && f.Method == material.Kienzle {
				count++
				if f.Basis.Rung() != 0 || f.Note == "" {
					t.Errorf("%s: a group value is rung 0 and says how it was chosen", f.ID)
				}
			}
		}
		if count != 1 {
			t.Errorf("%d pairs for group %s, want one", count, group)
		}
	}
}

// kcAt is kc1.1*h^-mc.
func kcAt(f material.Force, h float64) float64 {
	return f.SpecificCuttingForce11NPerMM2.V * math.Pow(h, -f.ChipThicknessExp.V)
}

// TestForceSmells looks for numbers that no metal has. Bounds: common practice, no source.
func TestForceSmells(t *testing.T) {
	for _, f := range embedded(t).Force {
		plastic := f.Key == "O" || slices.Contains([]string{"pa6", "pa66", "pom", "peek"}, f.Key)
		if f.Method == material.Kienzle {
			floor := 200.0
			if plastic {
				floor = 50
			}
			if kc := f.SpecificCuttingForce11NPerMM2.V; kc < floor || kc > 6000 {
				t.Errorf("%s: kc1.1 %v", f.ID, kc)
			}
			if mc := f.ChipThicknessExp.V; mc < 0.05 || mc > 0.45 {
				t.Errorf("%s: mc %v", f.ID, mc)
			}
			if !f.ChipThickness.Low.OK || !f.ChipThickness.High.OK {
				t.Errorf("%s: no range of chip thickness", f.ID)
			}
		}
		if f.Method == material.UnitPower && (f.EnergyJPerMM3.V < 0.2 || f.EnergyJPerMM3.V > 10) {
			t.Errorf("%s: energy %v J/mm3", f.ID, f.EnergyJPerMM3.V)
		}
		if f.DrillWorkFactor.OK && (f.DrillWorkFactor.V < 3000 || f.DrillWorkFactor.V > 45000) {
			t.Errorf("%s: Kd %v", f.ID, f.DrillWorkFactor.V)
		}
		if f.FeedForceExp.OK && (f.FeedForceExp.V < 0.3 || f.FeedForceExp.V > 1.1) || f.PassiveForceExp.OK && (f.PassiveForceExp.V < 0.3 || f.PassiveForceExp.V > 1.1) {
			t.Errorf("%s: mf %v, mp %v", f.ID, f.FeedForceExp, f.PassiveForceExp)
		}
		if f.SpreadRatio.OK && (f.SpreadRatio.V < 0.05 || f.SpreadRatio.V > 0.6) {
			t.Errorf("%s: spread %v", f.ID, f.SpreadRatio.V)
		}
		if f.Hardness.Known() && (f.Hardness.Low.V < 0 || f.Hardness.High.V > 700) {
			t.Errorf("%s: hardness %v to %v HBW", f.ID, f.Hardness.Low.V, f.Hardness.High.V)
		}
		if f.Basis == domain.Demo || f.Basis == domain.Shop || f.Basis == domain.Request {
			t.Errorf("%s ships as %s", f.ID, f.Basis)
		}
	}
}

// TestForceNeighbours checks that two pairs for one grade in one condition do not
// differ by more than a factor of two where both hold.
func TestForceNeighbours(t *testing.T) {
	records := embedded(t).Force
	for i, a := range records {
		for _, b := range records[i+1:] {
			if a.Method != material.Kienzle || b.Method != material.Kienzle || a.Level != "material" || a.Scope != b.Scope || a.Condition != b.Condition {
				continue
			}
			low := max(a.ChipThickness.Low.V, b.ChipThickness.Low.V)
			high := min(a.ChipThickness.High.V, b.ChipThickness.High.V)
			if low > high {
				continue
			}
			at := math.Sqrt(low * high)
			if ratio := kcAt(a, at) / kcAt(b, at); ratio > 2 || ratio < 0.5 {
				t.Errorf("%s and %s differ by %.2f at h = %.2f mm", a.ID, b.ID, ratio, at)
			}
		}
	}
}

// copied are pairs that the tables really print for unlike metals; the notes of
// the records say so where it matters.
var copied = []string{"1780/0.17", "1820/0.26", "2260/0.3", "640/0.25", "2350/0.21", "830/0.23", "780/0.23"}

// TestNoCopiedRows finds the same digits in materials of unlike groups.
func TestNoCopiedRows(t *testing.T) {
	d := embedded(t)
	group := map[string]string{}
	for _, m := range d.Materials {
		group[m.ID] = string(m.Group)
	}
	seen := map[string]material.Force{}
	for _, f := range d.Force {
		if f.Method != material.Kienzle || f.Source == "common-practice" || f.Family == "group-energy" {
			continue
		}
		pair := fmt.Sprintf("%v/%v", f.SpecificCuttingForce11NPerMM2.V, f.ChipThicknessExp.V)
		of := func(f material.Force) string {
			if f.Level == "material" {
				return group[f.Key]
			}
			return f.Key[:1]
		}
		if first, twice := seen[pair]; twice && of(first) != of(f) && !slices.Contains(copied, pair) && !(of(first)+of(f) == "PH" || of(first)+of(f) == "HP") {
			t.Errorf("%s and %s both have %s", first.ID, f.ID, pair)
		}
		seen[pair] = f
	}
}

// TestSourcesResolve checks that every record names a source that there is, that
// nothing from memory or without a source is shown as published, and that record
// ids are unique over all kinds.
func TestSourcesResolve(t *testing.T) {
	d := embedded(t)
	access := map[string]string{}
	for _, s := range d.Sources {
		access[s.ID] = s.Access
	}
	seen := map[string]bool{}
	check := func(p material.Provenance) {
		how, there := access[p.Source]
		if !there {
			t.Errorf("%s: no source %s", p.ID, p.Source)
		}
		if p.Basis == domain.Published && (!strings.Contains(how, "seen") || p.Place == "") {
			t.Errorf("%s is published, but %s was seen: %q, place %q", p.ID, p.Source, how, p.Place)
		}
		if p.Basis == domain.CommonPractice && p.Source != "common-practice" {
			t.Errorf("%s is common practice of %s", p.ID, p.Source)
		}
		if seen[p.ID] {
			t.Errorf("record id %s twice", p.ID)
		}
		seen[p.ID] = true
	}
	for _, f := range d.Force {
		check(f.Provenance)
	}
	for _, m := range d.Materials {
		for _, c := range m.Conditions {
			check(c.Provenance)
		}
		for _, p := range m.Physical {
			check(p.Provenance)
		}
	}
	names, err := ReadTable(files, "designations.csv", "material", "standard", "value", "source")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range names.Rows {
		if _, there := access[r.Text("source")]; !there {
			t.Errorf("designations.csv line %d: no source %s", r.Line, r.Text("source"))
		}
	}
}

// TestFamiliesStayApart checks that two sets which give one steel 3800 and 2330
// N/mm2 at h = 0.2 mm keep their names. Source of the two numbers: the pairs of
// Kienzle and Victor and of Koenig, Essel and Witte, the second recalled.
func TestFamiliesStayApart(t *testing.T) {
	want := map[string]float64{"six-degree-carbide": 3800, "three-component-1982": 2330}
	for _, f := range embedded(t).Force {
		if f.Key != "42crmo4" || f.Method != material.Kienzle || want[f.Family] == 0 {
			continue
		}
		if kc := kcAt(f, 0.2); math.Abs(kc/want[f.Family]-1) > 0.01 {
			t.Errorf("%s in %s gives %.0f at h = 0.2 mm, want about %.0f", f.ID, f.Family, kc, want[f.Family])
		}
	}
}
