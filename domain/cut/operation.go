package cut

import "slices"

// Family is the kinematic family of an operation.
type Family string

// The families.
const (
	TurningFamily Family = "turning"
	MillingFamily Family = "milling"
	HoleFamily    Family = "holes"
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
	Check    func(*Cut, *Faults)
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

// operations is the table of what this version computes. Adding an operation is
// one file here, one in force and one row.
var operations = []*Operation{
	&drilling, &reaming, &boringRotating, &counterboring, &countersinking, &spotDrilling, &chainDrilling,
	&faceMilling, &sideMilling, &slotMilling, &trochoidalMilling, &plungeMilling, &ballMilling,
	&circularMilling, &threadMilling, &chamferMilling,
	&turning, &facing, &boringInternal, &grooving, &parting,
}

// known is every operation of the contract, computed or not.
var known = []string{
	"turning", "facing", "boring-internal", "grooving", "parting", "thread-turning",
	"face-milling", "side-milling", "slot-milling", "plunge-milling", "trochoidal-milling",
	"ball-milling", "circular-milling", "thread-milling", "chamfer-milling",
	"drilling", "reaming", "countersinking", "counterboring", "spot-drilling", "boring-rotating",
	"tapping", "thread-forming", "chain-drilling",
}

// Find returns an operation that this version computes.
func Find(name string) (*Operation, bool) {
	for _, o := range operations {
		if o.Name == name {
			return o, true
		}
	}
	return nil, false
}

// Known reports whether the contract has an operation, computed here or not.
func Known(name string) bool { return slices.Contains(known, name) }

// KnownNames lists every operation of the contract.
func KnownNames() []string { return slices.Clone(known) }

// Names lists the operations this version computes.
func Names() []string {
	names := make([]string, len(operations))
	for i, o := range operations {
		names[i] = o.Name
	}
	return names
}
