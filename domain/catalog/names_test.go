package catalog

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unsafe"

	"swarf/domain"
	"swarf/domain/material"
)

// The index of names is held against the plain way of doing the same: going through
// every grade.

func TestEveryNameIsFoundAmongMany(t *testing.T) {
	s := snapshot(t, many(3000))
	for _, m := range s.Materials() {
		for _, name := range append(valuesOf(m), m.ID, m.Name, strings.ToUpper(m.Name), "UNS "+m.Designations[0].Value, "W.-Nr. "+m.Designations[1].Value) {
			if found, err := s.FindGrade(name); err != nil || found != m {
				t.Fatalf("%q of %s: %v, %v", name, m.ID, found, err)
			}
		}
	}
	for _, name := range []string{"S03000", "EN S00001", "UNS 1.00001", "AA S00001", "ss S00001", "100001"} {
		if m, err := s.FindGrade(name); err == nil {
			t.Errorf("%q is taken for %s", name, m.ID)
		}
	}
}

// A look-up that succeeds leaves nothing behind for the collector.
func TestFindGradeAllocatesNothing(t *testing.T) {
	s := snapshot(t, sample())
	for _, name := range []string{"304", " x 5 crni 18 10", "S30400", "x5crni18-10", "GJL-250"} {
		if n := testing.AllocsPerRun(100, func() {
			if _, err := s.FindGrade(name); err != nil {
				t.Fatal(err)
			}
		}); n > 0 {
			t.Errorf("%q: %v allocations", name, n)
		}
	}
}

// slowly is Search by looking at every key and name of every grade.
func slowly(s *Snapshot, q string, group material.Group) []string {
	exact, _ := s.FindGrade(q)
	var ranks [3][]string
	for _, m := range s.materials {
		keys := []string{keyOf(m.ID), keyOf(m.Name)}
		for _, d := range m.Designations {
			keys = append(keys, keyOf(d.Value))
			keys = append(keys, shortKeys(d, keyOf(d.Value))...)
		}
		text := strings.Join(kindWords{}.of(m).words, " ") + " " + strings.Join(keys, " ") + " " + strings.ToLower(m.Name)
		rank := 2
		for _, word := range strings.Fields(strings.ToLower(q)) {
			if !strings.Contains(text, word) && !strings.Contains(text, keyOf(word)) {
				rank = -1
			}
		}
		if slices.ContainsFunc(keys, func(key string) bool { return strings.HasPrefix(key, keyOf(q)) }) {
			rank = 1
		}
		if m == exact {
			rank = 0
		}
		if rank >= 0 && (group == "" || m.Group == group) {
			ranks[rank] = append(ranks[rank], m.ID)
		}
	}
	return slices.Concat(ranks[:]...)
}

func TestSearchAgreesWithLookingAtAll(t *testing.T) {
	for _, s := range []*Snapshot{snapshot(t, sample()), snapshot(t, many(500))} {
		for _, q := range []string{"304", "s3", "s00", "1.4", "x5crni", "x1 crni", "steel", "austenitic stainless", "cast 30", "rni17", "crni", "tan", "é", "GJL",
			"alloy", "alloy 7", "7k", "EN AW", "6061", "18-10", "mo17", "m", "grade-0000", "heat-treatable", "nothing at all", "n i", "%", "(304)"} {
			for _, group := range []material.Group{"", material.M, material.K} {
				var got []string
				for _, m := range s.Search(q, group) {
					got = append(got, m.ID)
				}
				if want := slowly(s, q, group); !slices.Equal(got, want) {
					t.Errorf("%q in %q finds %d, %.8v; want %d, %.8v", q, group, len(got), got, len(want), want)
				}
			}
		}
	}
}

// slowlyNearest is nearest by counting the edits to every designation.
func slowlyNearest(n *names, key string) []string {
	limit := min(mostEdits, max(1, len(key)/3))
	var all []nearby
	for _, k := range n.sorted {
		away := edits(key, k.key)
		if len(key) >= 2 && strings.HasPrefix(k.key, key) || len(k.key) >= 3 && strings.HasPrefix(key, k.key) {
			away = min(limit, max(len(key)-len(k.key), len(k.key)-len(key)))
		}
		if k.offered() && away <= limit {
			all = append(all, nearby{k, away})
		}
	}
	slices.SortFunc(all, func(a, b nearby) int {
		return cmp.Or(a.away-b.away, strings.Compare(a.key, b.key), int(a.grade-b.grade), int(a.designation-b.designation))
	})
	var texts []string
	var seen []int32
	for _, c := range all {
		if len(texts) < mostNearest && !slices.Contains(seen, c.grade) {
			seen = append(seen, c.grade)
			text := n.grades[c.grade].Designations[c.designation].Value
			if id := n.grades[c.grade].ID; keyOf(id) != c.key {
				text += " (" + id + ")"
			}
			texts = append(texts, text)
		}
	}
	return texts
}

func TestNearestAgreesWithLookingAtAll(t *testing.T) {
	for _, s := range []*Snapshot{snapshot(t, sample()), snapshot(t, many(400))} {
		for _, name := range []string{"S3O4OO", "1.4310", "14301", "x5crni1810", "x5crni18-1O", "6061-T6", "incomel 718", "S00", "S0", "alloy", "alloi 17k", "x1crni", "1.00",
			"s00399x", "ab", "a", strings.Repeat("7", longestNamed), strings.Repeat("q", longestNamed), "x12crni0-1234567"} {
			if got, want := s.names.nearest(keyOf(name)), slowlyNearest(&s.names, keyOf(name)); !slices.Equal(got, want) {
				t.Errorf("%q: %q; want %q", name, got, want)
			}
		}
	}
}

// Two ways of counting edits: the table, and its columns in one word of bits.
func TestEditsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	word := func(most int) string {
		b := make([]byte, 1+r.IntN(most))
		for i := range b {
			b[i] = "abc1"[r.IntN(4)]
		}
		return string(b)
	}
	for range 20_000 {
		a, b := word(12), word(12)
		if r.IntN(10) == 0 {
			a, b = word(longestNamed), word(longestNamed)
		}
		if got, want := patternOf(a).edits(b), edits(a, b); got != want {
			t.Fatalf("%q to %q: %d, want %d", a, b, got, want)
		}
	}
	// By hand: one swapped pair, one letter too many, one replaced.
	for _, c := range []struct {
		a, b string
		want int
	}{{"1.4310", "1.4301", 1}, {"316ti", "316t", 1}, {"s30400", "s3o400", 1}, {"abc", "abc", 0}, {"ca", "abc", 3}} {
		if got := patternOf(c.a).edits(c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// The marks of letters never rule out what is near enough.
func TestLettersRuleOutNothingNear(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 20_000 {
		a := []byte(fmt.Sprintf("x%dcr%d-%d", r.IntN(100), r.IntN(30), r.IntN(30)))
		b := slices.Clone(a)
		for range 1 + r.IntN(3) {
			at := r.IntN(len(b))
			switch c := "x179-."[r.IntN(6)]; r.IntN(3) {
			case 0:
				b[at] = c
			case 1:
				b = slices.Insert(b, at, c)
			case 2:
				if len(b) > 1 {
					b = slices.Delete(b, at, at+1)
				}
			}
		}
		away, differ := edits(string(a), string(b)), 0
		for marks := lettersOf(string(a)) ^ lettersOf(string(b)); marks != 0; marks &= marks - 1 {
			differ++
		}
		if differ > 2*away {
			t.Fatalf("%s and %s are %d edits apart and differ in %d marks", a, b, away, differ)
		}
	}
}

func TestArrange(t *testing.T) {
	d := many(200)
	rand.New(rand.NewPCG(5, 6)).Shuffle(len(d.Force), func(i, j int) { d.Force[i], d.Force[j] = d.Force[j], d.Force[i] })
	first := slices.Clone(d.Force)
	s := snapshot(t, d)
	ids := func(records []material.Force) []string {
		out := make([]string, len(records))
		for i := range records {
			out[i] = records[i].Level + " " + records[i].Key + " " + records[i].ID
		}
		return out
	}
	if !slices.Equal(ids(d.Force), ids(first)) {
		t.Error("New moved the caller's records")
	}
	want := ids(first)
	slices.Sort(want)
	d.Arrange()
	if !slices.Equal(ids(d.Force), want) || !slices.Equal(ids(s.Data().Force), want) {
		t.Error("records are not by level, key and id")
	}
	if s := snapshot(t, d); unsafe.SliceData(s.data.Force) != unsafe.SliceData(d.Force) {
		t.Error("records in their order are copied")
	}
	m, _ := s.Material("grade-000007")
	if of := s.RecordsFor(m); len(of[0].Force) != 2 || len(m.Force) != 2 || len(of[1].Force) != 4 || len(of[2].Force) != 0 || len(of[1].Starting) != 4 {
		t.Errorf("records of a grade: %v", of)
	}
	if len(s.Data().Materials[7].Force) != 0 {
		t.Error("the data has records inside its grades")
	}
}

// A refusal is the caller's own, to write a field into.
func TestRefusalsAreNotShared(t *testing.T) {
	s := snapshot(t, sample())
	_, first := s.FindGrade("stainless")
	first.Field = "material.grade"
	if _, again := s.FindGrade("stainless"); again.Field != "" || again.Msg != first.Msg || again.Code != "material-ambiguous" {
		t.Errorf("%+v", again)
	}
}

func TestUsesOfMany(t *testing.T) {
	d := many(50)
	d.Life = []material.Life{{Provenance: about("life", domain.Published), Scope: of("grade-000003")}}
	uses := snapshot(t, d).SourceUses("book")
	var kinds []string
	for i, u := range uses {
		if i == 0 || uses[i-1].Kind != u.Kind {
			kinds = append(kinds, u.Kind)
		} else if u.ID < uses[i-1].ID {
			t.Errorf("%s comes after %s", u.ID, uses[i-1].ID)
		}
	}
	if !slices.Equal(kinds, []string{"condition", "force_data", "starting_values", "life_data"}) || len(uses) != 50+2*(100+4*len(manyKinds))+1 {
		t.Errorf("%d uses, %v", len(uses), kinds)
	}
}
