package catalog

import (
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

func served(c cut.ForceChoice) string {
	if c.Served == nil {
		return ""
	}
	return c.Served.ID
}

func forceIDs(records []*material.Force) string {
	ids := make([]string, len(records))
	for i, r := range records {
		ids[i] = r.ID
	}
	return strings.Join(ids, " ")
}

// chosen builds a snapshot with these force records and asks for the ferritic grade.
func chosen(t *testing.T, q ForceQuery, records ...material.Force) cut.ForceChoice {
	t.Helper()
	d := sample()
	d.Force = records
	s := snapshot(t, d)
	q.Grade, _ = s.Material("x6cr17")
	if q.Process == "" {
		q.Process = "turning"
	}
	first := s.ChooseForce(q)
	if again := s.ChooseForce(q); served(again) != served(first) || forceIDs(again.Competing) != forceIDs(first.Competing) {
		t.Error("the second answer differs from the first")
	}
	d.Force = slices.Clone(d.Force)
	slices.Reverse(d.Force)
	s = snapshot(t, d)
	if other := s.ChooseForce(q); served(other) != served(first) || forceIDs(other.Competing) != forceIDs(first.Competing) {
		t.Error("the order of the data changes the choice")
	}
	return first
}

func TestChooseForceByPrecedence(t *testing.T) {
	own, sub, group := of("x6cr17"), ofSubgroup("P/stainless-ferritic"), ofGroup("P")
	mill := func(f material.Force) material.Force { f.Process = "milling"; return f }
	in := func(f material.Force, condition string) material.Force { f.Condition = condition; return f }
	hard := func(f material.Force, low, high float64) material.Force { f.Hardness = band(low, high); return f }
	ranked := func(f material.Force, rank int) material.Force { f.Rank = rank; return f }
	for _, c := range []struct {
		name                string
		q                   ForceQuery
		a, b                material.Force
		served, competing   string
		fallBack, unitPower string
	}{
		{name: "own before subgroup", a: pair(about("own", domain.Recalled), own, 2000), b: pair(about("sub", domain.Published), sub, 2100), served: "own", competing: "sub"},
		{name: "subgroup before group", a: pair(about("group", domain.Published), group, 2000), b: pair(about("sub", domain.CommonPractice), sub, 2100), served: "sub", competing: "group", fallBack: "subgroup"},
		{name: "group named", a: pair(about("group", domain.Published), group, 2000), b: pair(about("far", domain.Published), ofGroup("M"), 2100), served: "group", fallBack: "group"},
		{name: "shop first", a: pair(about("own", domain.Published), own, 2000), b: pair(about("shop", domain.Shop), sub, 2100), served: "shop", competing: "own", fallBack: "subgroup"},
		{name: "evidence before habit", a: pair(about("habit", domain.CommonPractice), own, 2000), b: pair(about("recalled", domain.Recalled), own, 2100), served: "recalled", competing: "habit"},
		{name: "condition", q: ForceQuery{Condition: "cold-worked"}, a: in(pair(about("annealed", domain.Published), own, 2000), "annealed"), b: in(pair(about("cold", domain.Recalled), own, 2100), "cold-worked"), served: "cold"},
		{name: "any condition", q: ForceQuery{Condition: "cold-worked"}, a: in(pair(about("annealed", domain.Published), own, 2000), "annealed"), b: pair(about("z-any", domain.Recalled), own, 2100), served: "z-any"},
		{name: "other condition still serves", q: ForceQuery{Condition: "cold-worked"}, a: in(pair(about("annealed", domain.Published), own, 2000), "annealed"), b: pair(about("sub", domain.Published), sub, 2100), served: "annealed", competing: "sub"},
		{name: "hardness", q: ForceQuery{HardnessHBW: 200}, a: hard(pair(about("soft", domain.Published), own, 2000), 120, 180), b: hard(pair(about("z-fits", domain.Recalled), own, 2100), 180, 220), served: "z-fits"},
		{name: "hardness of the condition", q: ForceQuery{Condition: "annealed"}, a: hard(pair(about("soft", domain.Published), own, 2000), 100, 140), b: hard(pair(about("z-fits", domain.Recalled), own, 2100), 150, 220), served: "z-fits"},
		{name: "beyond twice", q: ForceQuery{HardnessHBW: 500}, a: hard(pair(about("soft", domain.Published), own, 2000), 120, 200), b: pair(about("group", domain.Published), group, 2100), served: "group", fallBack: "group"},
		{name: "process", q: ForceQuery{Process: "milling"}, a: pair(about("turned", domain.Published), own, 2000), b: mill(pair(about("z-milled", domain.Recalled), own, 2100)), served: "z-milled", competing: "turned"},
		{name: "turning serves others", q: ForceQuery{Process: "drilling"}, a: mill(pair(about("milled", domain.Published), own, 2000)), b: pair(about("turned", domain.Recalled), own, 2100), served: "turned", competing: "milled"},
		{name: "derived before recalled", a: pair(about("recalled", domain.Recalled), own, 2000), b: pair(about("z-derived", domain.Derived), own, 2100), served: "z-derived", competing: "recalled"},
		{name: "rank", a: ranked(pair(about("a", domain.Published), own, 2000), 2), b: ranked(pair(about("b", domain.Published), own, 2100), 1), served: "b", competing: "a"},
		{name: "id", a: pair(about("b", domain.Published), own, 2000), b: pair(about("a", domain.Published), own, 2100), served: "a", competing: "b"},
		{name: "pair before energy", a: energy(about("energy", domain.Published), own, domain.Range{}), b: pair(about("pair", domain.Recalled), own, 2100), served: "pair", unitPower: "energy"},
		{name: "energy alone serves", a: energy(about("energy", domain.Published), own, domain.Range{}), b: pair(about("far", domain.Published), ofGroup("K"), 2000), served: "energy"},
		{name: "energy in its band only", q: ForceQuery{HardnessHBW: 300}, a: energy(about("energy", domain.Published), own, band(150, 200)), b: pair(about("pair", domain.Recalled), own, 2100), served: "pair"},
		{name: "band of the condition", q: ForceQuery{Condition: "annealed"}, a: energy(about("fits", domain.Published), sub, band(170, 200)), b: energy(about("a-not", domain.Published), sub, band(200, 250)), served: "fits", fallBack: "subgroup"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := chosen(t, c.q, c.a, c.b)
			if served(got) != c.served || forceIDs(got.Competing) != c.competing || got.FallBack != c.fallBack || forceIDs(got.UnitPower) != c.unitPower {
				t.Errorf("served %q against %q, unit power %q, fall-back %q; want %q against %q, unit power %q, fall-back %q",
					served(got), forceIDs(got.Competing), forceIDs(got.UnitPower), got.FallBack, c.served, c.competing, c.unitPower, c.fallBack)
			}
		})
	}
}

func TestChooseForceOfAGroup(t *testing.T) {
	d := sample()
	d.Force = []material.Force{
		pair(about("group", domain.Published), ofGroup("M"), 2000), pair(about("sub", domain.Published), ofSubgroup("M/austenitic"), 2100),
		pair(about("own", domain.Published), of("x5crni18-10"), 2200),
	}
	s := snapshot(t, d)
	if c := s.ChooseForce(ForceQuery{Group: material.M, Process: "turning"}); served(c) != "group" || c.FallBack != "group" || len(c.Competing) != 0 {
		t.Errorf("group M: %+v", c)
	}
	if c := s.ChooseForce(ForceQuery{Group: material.M, Subgroup: "austenitic", Process: "turning"}); served(c) != "sub" || c.FallBack != "subgroup" {
		t.Errorf("M/austenitic: %+v", c)
	}
	if c := s.ChooseForce(ForceQuery{Group: "X"}); c.Served != nil {
		t.Errorf("group X: %+v", c)
	}
}

func TestChooseDrillWork(t *testing.T) {
	factor := func(id string, scope material.Scope, hbw domain.Range) material.Force {
		return material.Force{Provenance: about(id, domain.Published), Scope: scope, Process: "drilling", Method: material.DrillWork, DrillWorkFactor: unit.Some(24000), Hardness: hbw}
	}
	d := sample()
	d.Force = []material.Force{factor("soft", ofSubgroup("P/carbon"), band(100, 200)), factor("hard", ofSubgroup("P/carbon"), band(200, 300)), pair(about("pair", domain.Published), of("c45e"), 2000)}
	s := snapshot(t, d)
	c45, _ := s.Material("c45e")
	if r := s.ChooseDrillWork(ForceQuery{Grade: c45, Condition: "annealed"}); r == nil || r.ID != "soft" {
		t.Errorf("annealed: %v", r)
	}
	if r := s.ChooseDrillWork(ForceQuery{Grade: c45, Condition: "annealed", HardnessHBW: 280}); r == nil || r.ID != "hard" {
		t.Errorf("280 HBW: %v", r)
	}
	if r := s.ChooseDrillWork(ForceQuery{Grade: c45, HardnessHBW: 450}); r != nil {
		t.Errorf("450 HBW: %v", r)
	}
	if c := s.ChooseForce(ForceQuery{Grade: c45, Process: "drilling"}); served(c) != "pair" || len(c.UnitPower)+len(c.Competing) != 0 {
		t.Errorf("the drilling factor took part: %+v", c)
	}
}

func TestChooseStartingByPrecedence(t *testing.T) {
	own, sub, group := of("c45e"), ofSubgroup("P/carbon"), ofGroup("P")
	carbide, twist := "drill-solid-carbide", "drill-twist-hss"
	hard := func(r material.Starting, low, high float64) material.Starting { r.Hardness = band(low, high); return r }
	kind := func(r material.Starting, kind string) material.Starting { r.Kind = kind; return r }
	in := func(r material.Starting, condition string) material.Starting { r.Condition = condition; return r }
	speedOnly := func(r material.Starting) material.Starting { r.Feed, r.FeedKind = domain.Range{}, ""; return r }
	published, habit, recalled := domain.Published, domain.CommonPractice, domain.Recalled
	for _, c := range []struct {
		name             string
		q                StartingQuery
		a, b             material.Starting
		served, fallBack string
		competing        string
	}{
		{name: "class before none", a: start(about("any", published), own, "HC"), b: start(about("class", habit), group, "HC", carbide), served: "class", fallBack: "group", competing: "any"},
		{name: "other class never", a: start(about("other", published), own, "HC", twist), b: start(about("class", habit), group, "HC", carbide), served: "class", fallBack: "group"},
		{name: "carbide never gets steel's speed", a: start(about("hss", published), own, "HSS"), b: start(about("hc", habit), group, "HC"), served: "hc", fallBack: "group"},
		{name: "steel never gets carbide's speed", q: StartingQuery{Class: twist}, a: start(about("hss", published), own, "HSS"), b: start(about("hc", habit), own, "HC"), served: "hss"},
		{name: "letters differ", q: StartingQuery{ToolMaterial: "HW"}, a: start(about("hc", published), own, "HC"), b: start(about("hw", habit), own, "HW"), served: "hw"},
		{name: "named tool before none", a: start(about("a-none", published), own, ""), b: start(about("hc", habit), own, "HC"), served: "hc", competing: "a-none"},
		{name: "hardness band", q: StartingQuery{HardnessHBW: 220}, a: hard(start(about("soft", published), own, "HC"), 100, 200), b: hard(start(about("band", habit), group, "HC"), 200, 300), served: "band", fallBack: "group"},
		{name: "nearest band serves", q: StartingQuery{HardnessHBW: 220}, a: hard(start(about("soft", published), own, "HC"), 100, 200), b: hard(start(about("far", published), own, "HC"), 100, 150), served: "soft"},
		{name: "beyond twice no number", q: StartingQuery{HardnessHBW: 450}, a: hard(start(about("soft", published), own, "HC"), 100, 200), b: start(about("hss", habit), own, "HSS")},
		{name: "own before subgroup", a: start(about("own", habit), own, "HC"), b: start(about("sub", published), sub, "HC"), served: "own", competing: "sub"},
		{name: "recalled before habit", a: start(about("a", habit), own, "HC"), b: start(about("b", recalled), own, "HC"), served: "b", competing: "a"},
		{name: "whole before part", a: speedOnly(start(about("speed", published), own, "HC", carbide)), b: start(about("whole", habit), group, "HC"), served: "whole", fallBack: "group", competing: "speed"},
		{name: "finish", q: StartingQuery{Finish: true}, a: kind(start(about("a-rough", published), own, "HC"), "rough"), b: kind(start(about("finish", habit), own, "HC"), "finish"), served: "finish", competing: "a-rough"},
		{name: "not finish", a: kind(start(about("a-finish", published), own, "HC"), "finish"), b: kind(start(about("rough", habit), own, "HC"), "rough"), served: "rough", competing: "a-finish"},
		{name: "other condition last", q: StartingQuery{Condition: "annealed"}, a: in(start(about("cold", published), own, "HC"), "cold-worked"), b: start(about("group", habit), group, "HC"), served: "group", fallBack: "group"},
		{name: "other operation never", q: StartingQuery{Operation: "reaming"}, a: start(about("a", published), own, "HC"), b: start(about("b", published), own, "")},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := sample()
			d.Starting = []material.Starting{c.a, c.b}
			s := snapshot(t, d)
			q := c.q
			q.Grade, _ = s.Material("c45e")
			if q.Operation == "" {
				q.Operation = "drilling"
			}
			if q.Class == "" {
				q.Class = carbide
			}
			for range 2 { // the second time from the memo
				got := s.ChooseStarting(q)
				id, competing := "", ""
				if got.Served != nil {
					id = got.Served.ID
				}
				for _, r := range got.Competing {
					competing += r.ID
				}
				if id != c.served || got.FallBack != c.fallBack || competing != c.competing {
					t.Errorf("served %q, fall-back %q, competing %q; want %q, %q, %q", id, got.FallBack, competing, c.served, c.fallBack, c.competing)
				}
			}
		})
	}
}
