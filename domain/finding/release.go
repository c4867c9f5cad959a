package finding

import (
	"swarf/domain"
	"swarf/domain/estimate"
)

// Closed makes findings fail closed for a release: what was not checked is held, and
// so is evidence below an approved shop record.
func Closed(findings []domain.Finding, e *estimate.Estimate) []domain.Finding {
	out := make([]domain.Finding, len(findings), len(findings)+len(e.Unchecked))
	copy(out, findings)
	for i := range out {
		if out[i].Code == "no-approved-record" {
			out[i].Severity = domain.Hold
		}
	}
	for _, u := range e.Unchecked {
		out = append(out, domain.Finding{Code: "not-checked", Severity: domain.Hold, Field: u.Check,
			Message: u.Check + " was not checked", Fix: "it needs " + u.Needs})
	}
	return out
}
