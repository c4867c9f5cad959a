// Package smell looks through data for what no source can mean and for what a slip
// of the pen leaves behind. It judges data of any origin, shipped or a shop's own, and
// names each fault by the kind and id of the row that has it.
package smell

import (
	"fmt"

	"swarf/domain/catalog"
	"swarf/domain/material"
)

// Level says how much a fault matters.
type Level uint8

// The levels, mildest first.
const (
	Note    Level = iota // declared on purpose, worth knowing
	Warning              // unlikely; somebody must look
	Error                // cannot be
)

var levelNames = [...]string{"note", "warning", "error"}

// String is the name of the level.
func (l Level) String() string { return levelNames[l] }

// Finding is one fault of one row.
type Finding struct {
	Check string // name of the check
	Level Level
	Kind  string // source, material, designation, condition, physical, force, starting, life, class, machine, hardness
	ID    string // of the row; a designation's is its material, standard and value
	Text  string
}

// Check is one thing that is looked for.
type Check struct {
	Name string
	What string
	run  func(*book)
}

// Result is what a check came to: how many rows it looked at and what it found.
type Result struct {
	Check
	Rows     int
	Findings []Finding
}

// Checks lists what is looked for, in the order of reports.
var Checks = []Check{
	{"references", "ids stand once and refer to what is there", references},
	{"sources", "each number has a source that can carry its basis, and a place in it when it is published", sources},
	{"reviews", "no record in force is past its review, and each state goes with its dates and people", reviews},
	{"invented", "nothing invented stands outside the demonstration", invented},
	{"designations", "a designation points to one grade", designations},
	{"conditions", "hardness ranges of a grade neither overlap nor leave gaps", conditions},
	{"grades", "group, cautions and least chip follow from what the metal is", grades},
	{"physical", "physical properties are those of a solid, once a grade", physical},
	{"ranges", "ranges run from low to high, above zero, in the quantity of their column", ranges},
	{"validity", "a force law says for which chips it holds", validity},
	{"force-window", "kc1.1 is 200 to 6000 N/mm2 in metals and 50 or more in plastics, mc 0.05 to 0.45; energies, drilling factors and exponents are those of metals", forceWindow},
	{"force-neighbours", "two pairs for one grade and condition differ by no more than a factor of 2", forceNeighbours},
	{"copied-digits", "unlike metals do not have the same digits", copiedDigits},
	{"starting-window", "speeds and feeds are those of a machine tool", startingWindow},
	{"starting-safety", "no starting value burns titanium, nickel or magnesium, or rubs", startingSafety},
	{"starting-neighbours", "speed does not jump by more than a factor of 2 from one hardness band to the next", startingNeighbours},
	{"life", "life falls with speed", life},
	{"classes", "defaults of a tool class lie in its ranges", classes},
	{"machines", "torque does not rise above the base speed, power caps it inside the gear, short-term ratings exceed S1", machines},
	{"hardness-table", "scales of a conversion table rise together", hardnessTable},
}

// Run makes every check.
func Run(d catalog.Data) []Result {
	b := &book{Data: &d, grades: map[string]*material.Material{}}
	for i := range d.Materials {
		b.grades[d.Materials[i].ID] = &d.Materials[i]
	}
	results := make([]Result, len(Checks))
	for i, c := range Checks {
		b.now = Result{Check: c}
		c.run(b)
		results[i] = b.now
	}
	return results
}

// Count is how many findings of each level there are.
func Count(results []Result) (rows int, byLevel [3]int) {
	for _, r := range results {
		rows += r.Rows
		for _, f := range r.Findings {
			byLevel[f.Level]++
		}
	}
	return rows, byLevel
}

// book is the data with what checks look up in it.
type book struct {
	*catalog.Data
	grades map[string]*material.Material
	now    Result
}

// row counts a row looked at.
func (b *book) row() { b.now.Rows++ }

func (b *book) found(level Level, kind, id, format string, args ...any) {
	b.now.Findings = append(b.now.Findings, Finding{b.now.Name, level, kind, id, fmt.Sprintf(format, args...)})
}

// failIf reports an error when a condition holds.
func (b *book) failIf(bad bool, kind, id, format string, args ...any) {
	if bad {
		b.found(Error, kind, id, format, args...)
	}
}

// group is the ISO 513 letter that a scope belongs to; empty when it has none.
func (b *book) group(s material.Scope) material.Group {
	if s.Level == "material" {
		if m := b.grades[s.Key]; m != nil {
			return m.Group
		}
		return ""
	}
	if s.Key == "" {
		return ""
	}
	return material.Group(s.Key[:1])
}

// kind is the group and subgroup that a scope belongs to, "S/titanium".
func (b *book) kind(s material.Scope) string {
	if m := b.grades[s.Key]; s.Level == "material" && m != nil {
		return string(m.Group) + "/" + m.Subgroup
	}
	return s.Key
}

// provenances calls for what every number carries, with its kind.
func (b *book) provenances(do func(kind string, p *material.Provenance)) {
	for i := range b.Materials {
		m := &b.Materials[i]
		for j := range m.Conditions {
			do("condition", &m.Conditions[j].Provenance)
		}
		for j := range m.Physical {
			do("physical", &m.Physical[j].Provenance)
		}
	}
	for i := range b.Force {
		do("force", &b.Force[i].Provenance)
	}
	for i := range b.Starting {
		do("starting", &b.Starting[i].Provenance)
	}
	for i := range b.Life {
		do("life", &b.Life[i].Provenance)
	}
}
