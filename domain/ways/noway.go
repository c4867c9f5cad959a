package ways

import (
	"slices"

	"swarf/domain"
)

// noWay says what stands in the way of a lever that has none: what stands at every value
// that was tried, or else, beside what stands as asked, what comes up where that gives way.
// It says nothing of a lever that reaches no value of its own.
func (s *search) noWay(asked []string, aim domain.Severity) (n NoWay, ok bool) {
	always, others := slices.Clone(asked), s.whole
	for _, ratio := range [2]float64{s.lever.low, s.lever.high} {
		met := false
		for _, value := range s.lever.steps(ratio) {
			at := s.at(value)
			here := at.codes(aim)
			ok = ok || at.worst < domain.Hold || len(here) > 0
			if at.worst >= aim && len(here) == 0 {
				continue // another lever's
			}
			always = slices.DeleteFunc(always, func(code string) bool { return !slices.Contains(here, code) })
			if !met && !slices.ContainsFunc(here, func(code string) bool { return slices.Contains(asked, code) }) {
				met, others = true, union(others, here)
			}
		}
	}
	n = NoWay{Levers: []string{s.lever.name}, Codes: always, Why: whyStands}
	if len(always) == 0 {
		n.Codes, n.Why = union(asked, others), whyBetween
	}
	return n, ok
}

// codes are those from a severity on.
func (s *standing) codes(aim domain.Severity) []string {
	if aim == domain.Refusal {
		return s.refused
	}
	return union(s.refused, s.held)
}

// union is the first list with what only the second has behind it.
func union(first, second []string) []string {
	out := slices.Clone(first)
	for _, name := range second {
		out = appendNew(out, name)
	}
	return out
}
