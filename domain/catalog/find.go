package catalog

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/force"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// mostCandidates bounds the grades shown for an ambiguous word.
const mostCandidates = 20

// comparedAtMM is the chip thickness at which the grades of an ambiguous word are
// compared, inside the range of most records.
const comparedAtMM = 0.2

// FindGrade finds a grade by any designation or its id. Case, blanks and hyphens do
// not matter where they do not tell grades apart; a word of the trade around the
// designation ("stainless 304") must fit the grade. It fails with material-ambiguous
// when the word stands for several grades or for a kind of metal, with
// material-unknown when nothing has that name. Field is left to the caller.
func (s *Snapshot) FindGrade(designation string) (*material.Material, *domain.Error) {
	if m := s.names.raw[designation]; m != nil {
		return m, nil
	}
	if len(designation) > 4*longestNamed {
		return nil, s.unknown(designation)
	}
	key := keyOf(designation)
	found := s.names.grades(key)
	if len(found) == 0 {
		found = s.names.qualified(designation)
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		if words := strings.Fields(strings.ToLower(designation)); len(words) > 0 {
			if fits := s.names.having(words); len(fits) > 0 {
				return nil, s.ambiguous(designation, fits)
			}
		}
		return nil, s.unknown(designation)
	}
	return nil, s.ambiguous(designation, found)
}

// ambiguous refuses a word that stands for several grades, with what they span.
func (s *Snapshot) ambiguous(word string, grades []*material.Material) *domain.Error {
	e := &domain.Error{Kind: domain.Invalid, Code: "material-ambiguous"}
	what := "is one grade among others of its kind"
	if len(grades) > 1 {
		what = fmt.Sprintf("stands for %d grades", len(grades))
	}
	e.Msg = fmt.Sprintf("%s %s: %s", quoted(word), what, census(grades))
	low, high := math.Inf(1), 0.0
	for _, m := range grades {
		if kc, ok := s.specificForce(m); ok {
			low, high = min(low, kc), max(high, kc)
		}
	}
	if low < high {
		e.Value, e.Limit = unit.Of(unit.SpecificForce, low), unit.Of(unit.SpecificForce, high)
		e.Msg += "; their specific cutting forces at a chip of 0.2 mm run from {value} to {limit}"
	}
	e.Fix = "name one grade by any designation, as the certificate has it; material.group answers for a whole group as a what-if"
	known := slices.Clone(grades)
	slices.SortStableFunc(known, func(a, b *material.Material) int { // the most widely named first
		return cmp.Or(len(b.Designations)-len(a.Designations), strings.Compare(a.ID, b.ID))
	})
	for _, m := range known[:min(len(known), mostCandidates)] {
		e.Candidates = append(e.Candidates, domain.Candidate{ID: m.ID, Name: m.Name, Group: string(m.Group)})
	}
	if more := len(known) - len(e.Candidates); more > 0 {
		e.Fix += fmt.Sprintf("; %d more stand under /v1/materials?q=", more)
	}
	return e
}

// census counts grades by group and subgroup, in the order of ISO 513.
func census(grades []*material.Material) string {
	counts := map[string]int{}
	var kinds []string
	for _, g := range material.Groups {
		for _, m := range grades {
			kind := string(g) + " " + m.Subgroup
			if m.Group != g {
				continue
			}
			if counts[kind] == 0 {
				kinds = append(kinds, kind)
			}
			counts[kind]++
		}
	}
	for i, kind := range kinds {
		kinds[i] = fmt.Sprintf("%d %s", counts[kind], kind)
	}
	return strings.Join(kinds, ", ")
}

// specificForce is a grade's specific cutting force at the chip thickness at which
// grades are compared, by the record that serves its first condition.
func (s *Snapshot) specificForce(m *material.Material) (float64, bool) {
	served := s.ChooseForce(ForceQuery{Grade: m, Condition: firstCondition(m), Process: "turning"}).Served
	if served == nil || served.Method != material.Kienzle {
		return 0, false
	}
	law := force.Law{SpecificForce11NPerMM2: served.SpecificCuttingForce11NPerMM2.V, ThicknessExp: served.ChipThicknessExp.V}
	return law.SpecificForceNPerMM2(comparedAtMM), true
}

// firstCondition is the default condition of a grade, empty when it has none.
func firstCondition(m *material.Material) string {
	if len(m.Conditions) == 0 {
		return ""
	}
	return m.Conditions[0].Name
}

// unknown refuses a designation that no grade has, with those nearest to it.
func (s *Snapshot) unknown(designation string) *domain.Error {
	e := &domain.Error{Kind: domain.Invalid, Code: "material-unknown",
		Msg: "no grade on file has the designation " + quoted(designation)}
	if near := s.names.nearest(keyOf(designation)); len(near) > 0 {
		e.Fix = "did you mean " + strings.Join(near, ", ") + "? A temper or treatment belongs in material.condition. Otherwise "
	}
	e.Fix += "material.group answers for a whole ISO 513 group as a what-if"
	return e
}

// nearest lists the designations closest to a key, one of each grade.
func (n *names) nearest(key string) []string {
	if key == "" || len(key) > longestNamed {
		return nil
	}
	type close struct {
		offer
		away int
	}
	var found []close
	for _, o := range n.offered {
		if d, ok := distance(key, o.key); ok {
			found = append(found, close{o, d})
		}
	}
	slices.SortStableFunc(found, func(a, b close) int { return cmp.Or(a.away-b.away, strings.Compare(a.key, b.key)) })
	var texts []string
	seen := map[*material.Material]bool{}
	for _, c := range found {
		if seen[c.m] {
			continue
		}
		seen[c.m] = true
		text := c.value
		if keyOf(c.m.ID) != c.key {
			text += " (" + c.m.ID + ")"
		}
		if texts = append(texts, text); len(texts) == mostNearest {
			break
		}
	}
	return texts
}

// quoted is what the caller sent, cut to a length that can be read.
func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
