// Package catalog is the snapshot: all reference and shop data in memory, immutable,
// with its indexes. Requests read one snapshot from beginning to end.
package catalog

import (
	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
)

// Data is everything a snapshot is made of, as the embedded files or the database
// give it. Records carry their scope; New attaches them to what they are about.
type Data struct {
	Revision  int64 // 1 for the embedded data
	Sources   []domain.Source
	Materials []material.Material
	Force     []material.Force
	Starting  []material.Starting
	Life      []material.Life
	Classes   []tool.Class
	Machines  []machine.Machine
	Hardness  []material.HardnessRow // the conversion table, in its order
	Cuts      []StoredCut
}

// StoredCut is a cut as it was once asked, kept to show what a change of data would do.
type StoredCut struct {
	ID       string
	Request  []byte // a body of POST /v1/estimates or /v1/recommendations
	Note     string
	Revision int64
}
