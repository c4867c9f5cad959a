package db

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"

	"github.com/golang-migrate/migrate/v4"
	"github.com/golang-migrate/migrate/v4/database"
	driver "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/golang-migrate/migrate/v4/source/iofs"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"

	"swarf/domain"
	"swarf/migrations"
)

// migrationLock is the advisory lock of whoever changes the schema ("swarf" as a number).
const migrationLock = 0x7377617266

// MigrateReport says what Migrate did.
type MigrateReport struct {
	From, To uint // schema versions; 0 is an empty database
	// Healed is the version at which an earlier run had broken off, 0 for none.
	Healed uint
	// Kept is true when the broken run's last step had been committed all the same.
	Kept bool
}

// String is a line for a person.
func (r MigrateReport) String() string {
	text := fmt.Sprintf("schema %d, nothing to do", r.To)
	if r.From != r.To {
		text = fmt.Sprintf("schema %d, was %d", r.To, r.From)
	}
	switch {
	case r.Healed != 0 && r.Kept:
		text += fmt.Sprintf("; an earlier run broke off after step %d was done", r.Healed)
	case r.Healed != 0:
		text += fmt.Sprintf("; an earlier run broke off in step %d, which was run again", r.Healed)
	}
	return text
}

// Migrate brings the schema up to this program's version. Several at once take
// turns. A run that was killed leaves its mark; under the lock, the next run finds
// out whether the step at which it stood was committed (every step writes its
// number into schema_applied in its own transaction) and goes on from there.
//
// The lock, the steps and the mark share one session: as long as a killed run's
// server process is still at work, its lock is held. That process is told to look
// every second whether its client is still there.
//
// Errors: Unavailable; Conflict when the schema is newer than this program.
func Migrate(ctx context.Context, config Config) (MigrateReport, error) {
	return migrateFrom(ctx, config, migrations.Files)
}

func migrateFrom(ctx context.Context, config Config, files fs.FS) (MigrateReport, error) {
	newest, err := migrations.Newest(files)
	if err != nil {
		return MigrateReport{}, err
	}
	settings, err := config.withDefaults().conn(nil)
	if err != nil {
		return MigrateReport{}, err
	}
	pool := stdlib.OpenDB(*settings, stdlib.OptionAfterConnect(takeMigrationLock))
	defer pool.Close()
	pool.SetMaxOpenConns(1)
	if err := pool.PingContext(ctx); err != nil {
		return MigrateReport{}, translate(err)
	}
	applied, err := appliedVersion(ctx, pool)
	if err != nil {
		return MigrateReport{}, translate(err)
	}
	on, err := driver.WithInstance(pool, &driver.Config{})
	if err != nil {
		return MigrateReport{}, translate(err)
	}
	defer on.Close()
	steps, err := iofs.New(files, ".")
	if err != nil {
		return MigrateReport{}, err
	}
	run, err := migrate.NewWithInstance("files", steps, "database", on)
	if err != nil {
		return MigrateReport{}, err
	}
	stop := context.AfterFunc(ctx, func() { run.GracefulStop <- true })
	defer stop()
	report, err := climb(run, applied, newest)
	if err != nil {
		return report, migrateFault(err)
	}
	if ctx.Err() != nil {
		return report, translate(ctx.Err())
	}
	return report, translate(migrateQueue(ctx, config))
}

// takeMigrationLock runs on every connection, so that none is ever without the lock.
func takeMigrationLock(ctx context.Context, conn *pgx.Conn) error {
	for _, setting := range []string{
		`SET client_connection_check_interval = '1s'`,
		`SET statement_timeout = 0`, `SET lock_timeout = 0`, `SET idle_in_transaction_session_timeout = 0`,
		fmt.Sprintf(`SELECT pg_advisory_lock(%d)`, migrationLock),
		// A step that waits for a table makes everybody after it wait as well.
		`SET lock_timeout = '15s'`,
	} {
		if _, err := conn.Exec(ctx, setting); err != nil {
			return err
		}
	}
	return nil
}

// appliedVersion reads the last step that was certainly committed.
func appliedVersion(ctx context.Context, pool *sql.DB) (uint, error) {
	var there bool
	err := pool.QueryRowContext(ctx, `SELECT to_regclass('schema_applied') IS NOT NULL`).Scan(&there)
	if err != nil || !there {
		return 0, err
	}
	var version uint
	err = pool.QueryRowContext(ctx, `SELECT coalesce(max(version), 0) FROM schema_applied`).Scan(&version)
	return version, err
}

// climb heals what an earlier run left and runs the steps that are missing.
func climb(run *migrate.Migrate, applied, newest uint) (MigrateReport, error) {
	version, dirty, err := run.Version()
	if err != nil && !errors.Is(err, migrate.ErrNilVersion) {
		return MigrateReport{}, err
	}
	report := MigrateReport{From: version, To: version}
	if version > newest {
		return report, newerSchema(version, newest)
	}
	if dirty {
		report.Healed, report.Kept, report.From = version, applied >= version, applied
		sound := int(applied)
		if applied == 0 {
			sound = database.NilVersion
		}
		if err := run.Force(sound); err != nil {
			return report, err
		}
	}
	if err := run.Up(); err != nil && !errors.Is(err, migrate.ErrNoChange) {
		return report, err
	}
	version, _, err = run.Version()
	if err != nil && !errors.Is(err, migrate.ErrNilVersion) {
		return report, err
	}
	report.To = version
	return report, nil
}

func newerSchema(version, newest uint) error {
	return &domain.Error{Kind: domain.Conflict, Code: notReady,
		Msg: fmt.Sprintf("the database's schema is version %d, this program knows up to %d", version, newest),
		Fix: "use a newer program"}
}

// migrateFault keeps the library's text, which names step and line, as the cause.
func migrateFault(err error) error {
	var failed database.Error
	if errors.As(err, &failed) {
		if fault, ok := translate(failed.OrigErr).(*domain.Error); ok && fault.Kind == domain.Unavailable {
			return fault
		}
		return &domain.Error{Kind: domain.Internal, Code: ourFault,
			Msg: fmt.Sprintf("a migration failed at line %d and was undone", failed.Line), Err: failed.OrigErr}
	}
	return translate(err)
}
