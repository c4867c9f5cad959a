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
}
