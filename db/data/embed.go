// Package data is the reference data that ships in the binary: CSV files, one per
// kind or per source, each with its citation in the comment lines at its top, and
// the readers that turn them into the domain's records.
package data

import (
	"embed"
	"errors"

	"swarf/domain/catalog"
)

// files holds every data file below this directory. Files for tests stand in
// testdata with another ending, so that they stay out of the binary.
//
//go:embed *.csv */*.csv
var files embed.FS

// Embedded reads the whole of the embedded reference data. It fails, naming file,
// line and column of every fault, rather than leave a record out.
func Embedded() (catalog.Data, error) {
	out := catalog.Data{Revision: 1}
	var faults [8]error
	out.Sources, faults[0] = loadSources()
	out.Materials, faults[1] = loadMaterials()
	out.Force, faults[2] = loadForce()
	out.Starting, faults[3] = loadStarting()
	out.Life, faults[4] = loadLife()
	out.Classes, faults[5] = loadClasses()
	out.Machines, faults[6] = loadMachines()
	out.Hardness, faults[7] = loadHardness()
	if err := errors.Join(faults[:]...); err != nil {
		return catalog.Data{}, err
	}
	return out, nil
}
