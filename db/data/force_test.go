package data

import (
	"math"
	"slices"
	"testing"

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
