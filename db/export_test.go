package db

import (
	"context"

	"github.com/jackc/pgx/v5/pgxpool"
)

// What the tests of this package, which need dbtest and so stand outside, look at.
var (
	MigrateFrom = migrateFrom
	WithTLS     = withTLS
	Translate   = translate
)

// MigrationLock is the advisory lock that migrations take.
const MigrationLock = migrationLock

// Pool is the pool, for statements that the package itself never makes.
func (db *DB) Pool() *pgxpool.Pool { return db.pool }

// Exec runs a statement as the tests like it.
func (db *DB) Exec(ctx context.Context, statement string) error {
	_, err := db.pool.Exec(ctx, statement)
	return err
}
