package catalog

import (
	"math"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

func ptr(v float64) *float64 { return &v }

func TestResolveWorkFaults(t *testing.T) {
	s := snapshot(t, sample())
	hard := func(v float64, scale string) *HardnessQuery { return &HardnessQuery{ptr(v), scale} }
	for _, c := range []struct {
		name string
		q    WorkQuery
		want string // field code kind, of each fault
	}{
		{"nothing", WorkQuery{}, "material.grade field-missing 1"},
		{"both", WorkQuery{Grade: "304", Group: "M"}, "material.group fields-conflict 2"},
		{"unknown", WorkQuery{Grade: "nothing 12"}, "material.grade material-unknown 2"},
		{"word", WorkQuery{Grade: "stainless"}, "material.grade material-ambiguous 2"},
		{"group", WorkQuery{Group: "Q"}, "material.group value-out-of-range 2"},
		{"condition", WorkQuery{Grade: "304", Condition: "aged"}, "material.condition condition-unknown 2"},
		{"condition of a group", WorkQuery{Group: "M", Condition: "anealed"}, "material.condition condition-unknown 2"},
		{"no scale", WorkQuery{Grade: "304", Hardness: hard(40, "")}, "material.hardness hardness-scale-missing 1"},
		{"bad scale", WorkQuery{Grade: "304", Hardness: hard(40, "shore")}, "material.hardness.scale hardness-scale-unknown 2"},
		{"no value", WorkQuery{Grade: "304", Hardness: &HardnessQuery{Scale: "HRC"}}, "material.hardness.value field-missing 1"},
		{"empty hardness", WorkQuery{Grade: "304", Hardness: &HardnessQuery{}}, "material.hardness field-missing 1"},
		{"zero", WorkQuery{Grade: "304", Hardness: hard(0, "HBW")}, "material.hardness.value value-out-of-range 2"},
		{"absurd", WorkQuery{Grade: "304", Hardness: hard(180, "HRC")}, "material.hardness.value value-out-of-range 2"},
		{"not a number", WorkQuery{Grade: "304", Hardness: hard(math.NaN(), "HV")}, "material.hardness.value value-out-of-range 2"},
		{"all at once", WorkQuery{Grade: "304", Condition: "aged", Hardness: hard(40, "")}, "material.condition condition-unknown 2; material.hardness hardness-scale-missing 1"},
		{"with an unknown grade", WorkQuery{Grade: "nothing 12", Hardness: hard(-3, "HB")}, "material.grade material-unknown 2; material.hardness.value value-out-of-range 2"},
	} {
		_, faults := s.ResolveWork(c.q)
		var got []string
		for _, f := range faults {
			got = append(got, f.Field+" "+f.Code+" "+string(rune('0'+f.Kind)))
			if f.Msg == "" || f.Fix == "" {
				t.Errorf("%s: %+v has no message or no fix", c.name, f)
			}
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
	_, faults := s.ResolveWork(WorkQuery{Grade: "304", Condition: "aged"})
	if !strings.Contains(faults[0].Fix, "annealed, cold-worked") {
		t.Errorf("fix %q does not list the conditions", faults[0].Fix)
	}
}

func TestResolveWorkHardness(t *testing.T) {
	d := sample()
	d.Force = []material.Force{
		pair(about("any", domain.Published), of("c45e"), 2000),
		energy(about("soft", domain.Published), ofSubgroup("P/carbon"), band(150, 200)),
		energy(about("hard", domain.Published), ofSubgroup("P/carbon"), band(230, 270)),
		energy(about("hardest", domain.Published), ofSubgroup("P/carbon"), band(500, 700)),
	}
	d.Starting = []material.Starting{start(about("start", domain.Published), ofGroup("P"), "HC", "drill-solid-carbide")}
	s := snapshot(t, d)
	for _, c := range []struct {
		name      string
		q         WorkQuery
		hbw       float64
		converted bool
		condition string
		second    string // unit-power record
	}{
		{"default condition", WorkQuery{Grade: "C45"}, 180, false, "annealed", "soft"},
		// 25 HRC lies between 23.1 HRC (242) and 29.8 HRC (285): 242 + 43*1.9/6.7 = 254.194
		{"condition on another scale", WorkQuery{Grade: "C45", Condition: "cold-worked"}, 254.194, false, "cold-worked", "hard"},
		{"given", WorkQuery{Grade: "C45", Hardness: &HardnessQuery{ptr(240), "HB"}}, 240, false, "annealed", "hard"},
		{"converted", WorkQuery{Grade: "C45", Hardness: &HardnessQuery{ptr(255), "HV"}}, 242, true, "annealed", "hard"},
		{"where Brinell has ended", WorkQuery{Grade: "C45", Hardness: &HardnessQuery{ptr(60), "HRC"}}, 0, false, "annealed", "hardest"},
		{"aluminium is not steel", WorkQuery{Grade: "6061", Hardness: &HardnessQuery{ptr(95), "HRB"}}, 0, false, "annealed", ""},
		{"a group", WorkQuery{Group: "p"}, 0, false, "", ""},
	} {
		c.q.Operation, c.q.Class = "drilling", "drill-solid-carbide"
		w, faults := s.ResolveWork(c.q)
		if faults != nil {
			t.Errorf("%s: %v", c.name, faults)
			continue
		}
		condition, second := "", ""
		if w.Condition != nil {
			condition = w.Condition.Name
		}
		if len(w.Force.UnitPower) > 0 {
			second = w.Force.UnitPower[0].ID
		}
		if math.Abs(w.HardnessHBW-c.hbw) > 0.01 || w.Converted != c.converted || condition != c.condition || second != c.second {
			t.Errorf("%s: %v HBW, converted %v, condition %q, second %q", c.name, w.HardnessHBW, w.Converted, condition, second)
		}
		if (w.Hardness != nil) != (c.q.Hardness != nil) || w.ConditionGiven != (c.q.Condition != "") {
			t.Errorf("%s: what was given is not what was kept: %+v", c.name, w)
		}
		if w.Group == material.P && (w.Starting.Served == nil || w.Starting.FallBack != "group") {
			t.Errorf("%s: starting %+v", c.name, w.Starting)
		}
	}
	w, _ := s.ResolveWork(WorkQuery{Grade: "C45"})
	if w.ConditionLowHBW != 150 || w.ConditionHighHBW != 210 {
		t.Errorf("range %v to %v", w.ConditionLowHBW, w.ConditionHighHBW)
	}
	// 20 HRC lies below the table: the range cannot be said, its middle can.
	w, _ = s.ResolveWork(WorkQuery{Grade: "C45", Condition: "cold-worked"})
	if w.ConditionLowHBW != 0 || w.ConditionHighHBW != 0 {
		t.Errorf("range %v to %v, want none", w.ConditionLowHBW, w.ConditionHighHBW)
	}
}
