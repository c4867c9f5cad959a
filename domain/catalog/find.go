package catalog

import (
	"fmt"
	"math"
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
	m, err := s.findGrade(designation)
	if err != nil {
		own := *err // the caller may write into it
		return nil, &own
	}
	return m, nil
}

func (s *Snapshot) findGrade(designation string) (*material.Material, *domain.Error) {
	if len(designation) > 4*longestNamed {
		return nil, s.unknown(designation)
	}
	var room [2 * longestNamed]byte
	found := s.names.find(appendKey(room[:0], designation))
	if len(found) == 1 {
		return s.materials[found[0]], nil
	}
	if refused, ok := s.refused.get(designation); ok {
		return nil, refused
	}
	if len(found) == 0 {
		found = s.names.qualified(designation)
	}
	switch len(found) {
	case 1:
		return s.materials[found[0]], nil
	case 0:
		if words := strings.Fields(strings.ToLower(designation)); len(words) > 0 {
			if fits := s.names.having(words); len(fits) > 0 {
				found = fits
			}
		}
		if len(found) == 0 {
			return nil, s.unknown(designation)
		}
	}
	refused := s.ambiguous(designation, found)
	if len(designation) <= longestNamed {
		s.refused.put(strings.Clone(designation), refused)
	}
	return nil, refused
}

// ambiguous refuses a word that stands for several grades, with what they span.
func (s *Snapshot) ambiguous(word string, fits []int32) *domain.Error {
	grades := make([]*material.Material, len(fits))
	for i, at := range fits {
		grades[i] = s.materials[at]
	}
	e := &domain.Error{Kind: domain.Invalid, Code: "material-ambiguous"}
	what := "is one grade among others of its kind"
	if len(grades) > 1 {
		what = fmt.Sprintf("stands for %d grades", len(grades))
	}
	e.Msg = fmt.Sprintf("%s %s: %s", quoted(word), what, census(grades))
	low, high := math.Inf(1), 0.0
	for _, at := range fits {
		if kc := s.compared[at]; kc > 0 {
			low, high = min(low, kc), max(high, kc)
		}
	}
	if low < high {
		e.Value, e.Limit = unit.Of(unit.SpecificForce, low), unit.Of(unit.SpecificForce, high)
		e.Msg += "; their specific cutting forces at a chip of 0.2 mm run from {value} to {limit}"
	}
	e.Fix = "name one grade by any designation, as the certificate has it; material.group answers for a whole group as a what-if"
	for _, m := range candidates(grades, mostCandidates) {
		e.Candidates = append(e.Candidates, domain.Candidate{ID: m.ID, Name: m.Name, Group: string(m.Group)})
	}
	if more := len(grades) - len(e.Candidates); more > 0 {
		e.Fix += fmt.Sprintf("; %d more stand under /v1/materials?q=", more)
	}
	return e
}

// census counts grades by group and subgroup, in the order of ISO 513.
func census(grades []*material.Material) string {
	type kind struct{ group, subgroup string }
	counts := map[kind]int{}
	byGroup := map[material.Group][]kind{}
	for _, m := range grades {
		k := kind{string(m.Group), m.Subgroup}
		if counts[k]++; counts[k] == 1 {
			byGroup[m.Group] = append(byGroup[m.Group], k)
		}
	}
	var texts []string
	for _, g := range material.Groups {
		for _, k := range byGroup[g] {
			texts = append(texts, fmt.Sprintf("%d %s %s", counts[k], k.group, k.subgroup))
		}
	}
	return strings.Join(texts, ", ")
}

// compare works out each grade's specific cutting force at the chip thickness at which
// grades are compared, by the record that serves its first condition; 0 where none does.
func (s *Snapshot) compare() {
	s.compared = make([]float64, len(s.shelves))
	for i := range s.shelves {
		sh := &s.shelves[i]
		condition := firstCondition(sh.grade)
		served := sh.bestForce(forceKey{condition, "turning"}, sh.hardness(hardness{}, condition))
		if served == nil || served.Method != material.Kienzle {
			continue
		}
		law := force.Law{SpecificForce11NPerMM2: served.SpecificCuttingForce11NPerMM2.V, ThicknessExp: served.ChipThicknessExp.V}
		s.compared[i] = law.SpecificForceNPerMM2(comparedAtMM)
	}
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

// quoted is what the caller sent, cut to a length that can be read.
func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
