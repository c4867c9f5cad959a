package db

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/migrations"
)

// Schema is the state of the database's schema.
type Schema struct {
	Version uint // 0: an empty database
	Dirty   bool // a migration is under way, or broke off
}

// SchemaVersion reads the version of the schema.
//
// Errors: Unavailable.
func (db *DB) SchemaVersion(ctx context.Context) (Schema, error) {
	var schema Schema
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		var there bool
		if err := tx.QueryRow(ctx, `SELECT to_regclass('schema_migrations') IS NOT NULL`).Scan(&there); err != nil || !there {
			return err
		}
		return tx.QueryRow(ctx, `SELECT coalesce(max(version), 0), coalesce(bool_or(dirty), false) FROM schema_migrations`).
			Scan(&schema.Version, &schema.Dirty)
	})
	return schema, err
}

// CheckSchema reports whether the program can work with the schema. An older one,
// or a broken migration, is an error that says what to run. A newer one is not,
// since columns that the program does not know do not disturb it; the string it
// returns, else empty, says so for the log.
//
// Errors: Unavailable, data-not-ready.
func (db *DB) CheckSchema(ctx context.Context) (string, error) {
	newest, err := migrations.Newest(migrations.Files)
	if err != nil {
		return "", err
	}
	schema, err := db.SchemaVersion(ctx)
	if err != nil {
		return "", err
	}
	fault := func(text string) error {
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: text, Fix: migrateIt}
	}
	switch {
	case schema.Version == 0:
		return "", fault("the database is empty")
	case schema.Version > newest:
		return fmt.Sprintf("the database's schema is version %d, newer than the %d this program was made for", schema.Version, newest), nil
	case schema.Dirty:
		return "", fault(fmt.Sprintf("a migration to schema version %d is under way or broke off", schema.Version))
	case schema.Version < newest:
		return "", fault(fmt.Sprintf("the database's schema is version %d, this program needs %d", schema.Version, newest))
	}
	return "", nil
}
