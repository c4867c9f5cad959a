package finding

import (
	"swarf/domain"
	"swarf/domain/estimate"
)

// Grave returns the refusals and holds of an estimate and nothing milder, so that a search
// can judge thousands of them. A lean estimate is enough; what it says is then what Judge
// says of the whole one.
func Grave(e *estimate.Estimate) []domain.Finding {
	j := &judge{e: e, c: e.Cut, worn: e.Worn(), grave: true}
	j.all()
	return j.list
}
