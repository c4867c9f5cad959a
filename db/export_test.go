package db

import "context"

// What the tests of this package, which need dbtest and so stand outside, look at.
var (
	MigrateFrom = migrateFrom
	WithTLS     = withTLS
	Translate   = translate
)

// Exec runs a statement as the tests like it.
func (db *DB) Exec(ctx context.Context, statement string) error {
	_, err := db.pool.Exec(ctx, statement)
	return err
}
