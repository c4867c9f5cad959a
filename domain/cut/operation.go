package cut

import "slices"

// Family is the kinematic family of an operation.
type Family string

// The families.
const (
	TurningFamily Family = "turning"
	MillingFamily Family = "milling"
	HoleFamily    Family = "holes"
	ThreadFamily  Family = "threads" // with taps
)

// Operation is one operation of the trade and what its engagement needs, by
// member names of API.md 3.1.
type Operation struct {
	Name     string
	Family   Family
	Required []string   // engagement members that must be there
	OneOf    [][]string // of each list one must be there
	Optional []string   // further members it has
	StartsAs Start      // whose starting values it takes; empty: its own

	FeedIsPitch bool // one pitch a turn: the feed may be left out

	Check func(*Cut, *Faults)
}

// Start is an operation, and where it is another's a tool class, whose starting values
// serve an operation that has no records of its own.
type Start struct{ Operation, Class string }

// Has reports whether the operation's engagement has a member.
func (o *Operation) Has(member string) bool {
	if slices.Contains(o.Required, member) || slices.Contains(o.Optional, member) {
		return true
	}
	for _, list := range o.OneOf {
		if slices.Contains(list, member) {
			return true
		}
	}
	return false
}

// Circles reports an operation whose tool goes round in circles.
func (o *Operation) Circles() bool {
	switch o.Name {
	case "circular-milling", "thread-milling", "trochoidal-milling":
		return true
	}
	return false
}

// operations is the table of all operations of the contract. Adding an operation is
// one file here, one in force and one row.
var operations = []*Operation{
	&drilling, &reaming, &boringRotating, &counterboring, &countersinking, &spotDrilling, &chainDrilling,
	&faceMilling, &sideMilling, &slotMilling, &trochoidalMilling, &plungeMilling, &ballMilling,
	&circularMilling, &threadMilling, &chamferMilling,
	&turning, &facing, &boringInternal, &grooving, &parting, &threadTurning,
	&tapping, &threadForming,
}

// Find returns an operation by name.
func Find(name string) (*Operation, bool) {
	for _, o := range operations {
		if o.Name == name {
			return o, true
		}
	}
	return nil, false
}

// Known reports whether there is such an operation.
func Known(name string) bool { _, ok := Find(name); return ok }

// Names lists the operations.
func Names() []string {
	names := make([]string, len(operations))
	for i, o := range operations {
		names[i] = o.Name
	}
	return names
}
