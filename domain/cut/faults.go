package cut

import (
	"swarf/domain"
	"swarf/domain/unit"
)

// Faults collects every fault of a cut.
type Faults struct{ List domain.Errors }

// Missing reports a required member that is absent.
func (f *Faults) Missing(field, what string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Unreadable, Field: field, Code: "field-missing", Msg: what, Fix: "add it"})
}

// Alternative reports that none of several members that would do is there.
func (f *Faults) Alternative(field, what, fix string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Unreadable, Field: field, Code: "alternative-missing", Msg: what, Fix: fix})
}

// Conflict reports members that exclude each other.
func (f *Faults) Conflict(field, what string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Invalid, Field: field, Code: "fields-conflict", Msg: what, Fix: "keep one"})
}

// Impossible reports geometry that cannot be.
func (f *Faults) Impossible(field, msg string, value, limit *unit.Measure, fix string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Invalid, Field: field, Code: "engagement-impossible", Msg: msg, Value: value, Limit: limit, Fix: fix})
}

// Range reports a number outside what its field can mean.
func (f *Faults) Range(field, msg string, value, limit *unit.Measure, fix string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Invalid, Field: field, Code: "value-out-of-range", Msg: msg, Value: value, Limit: limit, Fix: fix})
}

// Unknown reports a member that the operation does not have.
func (f *Faults) Unknown(field, msg, fix string) {
	f.List = append(f.List, &domain.Error{Kind: domain.Unreadable, Field: field, Code: "unknown-field", Msg: msg, Fix: fix})
}

// Any adds a fault of any kind.
func (f *Faults) Any(e *domain.Error) { f.List = append(f.List, e) }
