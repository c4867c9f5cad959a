package db

import (
	"fmt"
	"strings"
)

// LoadReport says what a load changed, or would change.
type LoadReport struct {
	DryRun   bool
	Revision int64       // the data's revision afterwards
	Changes  []RowChange // in the order of the tables, then by key
	Kept     []string    // rows that differ but are the shop's, so they stayed
}

// RowChange is one row that was added, changed or removed.
type RowChange struct {
	Table  string
	Key    string
	Action string        // added, changed, removed
	Fields []FieldChange // of a changed row
}

// FieldChange is a column whose value changed, as JSON but for bare text.
type FieldChange struct {
	Field    string
	Old, New string
}

// Changed reports whether anything did, or would.
func (r LoadReport) Changed() bool { return len(r.Changes) > 0 }

// String is the report for a person: a line per row, then a count per table.
func (r LoadReport) String() string {
	var b strings.Builder
	type count struct{ added, changed, removed int }
	counts := map[string]*count{}
	var names []string
	for _, c := range r.Changes {
		if counts[c.Table] == nil {
			counts[c.Table] = &count{}
			names = append(names, c.Table)
		}
		switch c.Action {
		case "added":
			counts[c.Table].added++
		case "changed":
			counts[c.Table].changed++
		case "removed":
			counts[c.Table].removed++
		}
		fmt.Fprintf(&b, "%-8s %s %s", c.Action, c.Table, c.Key)
		for i, f := range c.Fields {
			mark := ": "
			if i > 0 {
				mark = ", "
			}
			fmt.Fprintf(&b, "%s%s %s -> %s", mark, f.Field, f.Old, f.New)
		}
		b.WriteByte('\n')
	}
	for _, row := range r.Kept {
		fmt.Fprintf(&b, "kept     %s: the shop's own\n", row)
	}
	for _, name := range names {
		n := counts[name]
		fmt.Fprintf(&b, "%s: %d added, %d changed, %d removed\n", name, n.added, n.changed, n.removed)
	}
	switch {
	case !r.Changed():
		fmt.Fprintf(&b, "nothing to change, revision %d\n", r.Revision)
	case r.DryRun:
		fmt.Fprintf(&b, "dry run: nothing was written, revision %d\n", r.Revision)
	default:
		fmt.Fprintf(&b, "revision %d\n", r.Revision)
	}
	return b.String()
}
