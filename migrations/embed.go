// Package migrations holds the steps that build the database, as embedded SQL.
//
// A step is NNNN_name.up.sql with its .down.sql. Each file is one transaction
// (nothing in it may refuse to run in one), and each up-file ends by writing its
// number into schema_applied, so that a broken run can tell a step that was
// committed from one that was not. Steps that have been released are never edited;
// columns are added, not renamed, because rows of the history keep their old shape.
//
// schema.sql is a dump of the result, for readers.
package migrations

import (
	"embed"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
)

// Files are the steps.
//
//go:embed *.up.sql *.down.sql
var Files embed.FS

// Newest returns the number of the last step among the files.
//
// Errors: a file whose name does not begin with a number.
func Newest(files fs.FS) (uint, error) {
	names, err := fs.Glob(files, "*.up.sql")
	if err != nil {
		return 0, err
	}
	newest := uint(0)
	for _, name := range names {
		number, _, _ := strings.Cut(name, "_")
		version, err := strconv.ParseUint(number, 10, 32)
		if err != nil {
			return 0, fmt.Errorf("migration %s: the name must begin with its number: %w", name, err)
		}
		newest = max(newest, uint(version))
	}
	return newest, nil
}
