package db

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"swarf/domain"
)

// DB is the database. It is safe for concurrent use.
type DB struct {
	config Config
	pool   *pgxpool.Pool
	fence  *fence
	pulse  *pulse

	receipts receipts
}

// Open reads the settings and makes the pool. It does not wait for the server:
// with the server away Open succeeds, the first use fails as Unavailable and a
// later one works.
//
// Errors: an address that cannot be read (Invalid).
func Open(ctx context.Context, config Config) (*DB, error) {
	config = config.withDefaults()
	db := &DB{config: config, fence: new(fence), pulse: newPulse()}
	db.receipts.list = make([]receipt, 0, mostReceipts) // all of it at once, so that it does not grow
	settings, err := config.pool(db.fence)
	if err != nil {
		return nil, err
	}
	if db.pool, err = pgxpool.NewWithConfig(ctx, settings); err != nil {
		return nil, translate(err)
	}
	return db, nil
}

// Close ends all connections of the pool.
func (db *DB) Close() { db.pool.Close() }

// Ping reports whether the server answers.
//
// Errors: Unavailable.
func (db *DB) Ping(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, db.config.ConnectTimeout+db.config.PingTimeout)
	defer cancel()
	return db.seen(db.pool.Ping(ctx))
}

// CheckDurability reports a server that may lose what it has acknowledged:
// fsync or synchronous_commit off. Writes to it are refused unless
// Config.UnsafeWrites allows them; this is for a warning at the start.
//
// Errors: Unavailable, with the setting at fault in its text.
func (db *DB) CheckDurability(ctx context.Context) error {
	return db.inTx(ctx, reading, func(tx pgx.Tx) error { return durable(ctx, tx) })
}

func durable(ctx context.Context, tx pgx.Tx) error {
	var fsync, commit string
	err := tx.QueryRow(ctx, `SELECT current_setting('fsync'), current_setting('synchronous_commit')`).Scan(&fsync, &commit)
	if err != nil {
		return err
	}
	for _, setting := range [][2]string{{"fsync", fsync}, {"synchronous_commit", commit}} {
		if setting[1] == "off" {
			return &domain.Error{Kind: domain.Unavailable, Code: "data-not-ready",
				Msg: "the database may lose writes it has acknowledged: " + setting[0] + " is off",
				Fix: "switch " + setting[0] + " on in the server, or allow unsafe writes"}
		}
	}
	return nil
}

// keeps reports a server that may lose what is written now: one that acknowledges too
// early, unless that is allowed, or one that has been deposed.
func (db *DB) keeps(ctx context.Context, tx pgx.Tx) error {
	if !db.config.UnsafeWrites {
		if err := durable(ctx, tx); err != nil {
			return err
		}
	}
	s, err := identify(ctx, tx.Conn().PgConn())
	if err != nil {
		return err
	}
	return db.fence.pass(s)
}

// reading is a transaction that sees one state of everything and writes nothing.
var reading = pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}

// InTx runs a function in a read-write transaction (READ COMMITTED) that is
// committed when it returns nil and undone otherwise. When the server gave it up
// for another's sake (a deadlock or a serialisation failure) it is run again, up to
// three times in all, so the function must not keep what it did in an earlier run.
//
// Errors: the function's own; else domain errors as errors.go makes them.
func (db *DB) InTx(ctx context.Context, do func(pgx.Tx) error) error {
	return db.inTx(ctx, pgx.TxOptions{}, do)
}

func (db *DB) inTx(ctx context.Context, options pgx.TxOptions, do func(pgx.Tx) error) error {
	return db.inTimedTx(ctx, db.config.TransactionTimeout, options, do)
}

func (db *DB) inTimedTx(ctx context.Context, limit time.Duration, options pgx.TxOptions, do func(pgx.Tx) error) error {
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	if whole, ok := ctx.Value(within{}).(pgx.Tx); ok {
		// Part of a larger transaction, which Once runs: a savepoint in it.
		return translate(pgx.BeginFunc(ctx, whole, do))
	}
	ctx, done, err := db.pulse.busy(ctx)
	if err != nil {
		return err
	}
	defer done()
	const attempts = 3
	for range attempts {
		err = db.oneTx(ctx, options, func(tx pgx.Tx) error {
			if err := db.limit(ctx, tx, limit); err != nil {
				return err
			}
			if err := do(tx); err != nil {
				return err
			}
			return db.undoWhenChecked(ctx, tx, options)
		})
		if !givenUp(err) {
			break
		}
	}
	if errors.Is(err, errChecked) {
		return nil
	}
	return db.seen(cut(ctx, err))
}

// oneTx runs a function in one transaction. A commit that the server warns of is no
// success: it does so when a standby that should have confirmed did not. One that ended
// without the server's word, or on a server that was deposed meanwhile, may have been kept,
// and is told apart from all that was not.
func (db *DB) oneTx(ctx context.Context, options pgx.TxOptions, do func(pgx.Tx) error) error {
	conn, err := db.pool.Acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	said := talkOf(conn.Conn().PgConn())
	said.receipts = nil
	committing, of := false, db.Switches()
	err = pgx.BeginTxFunc(ctx, conn, options, func(tx pgx.Tx) error {
		err := do(tx)
		said.warning, committing = "", err == nil
		return err
	})
	switch {
	case err == nil && options.AccessMode != pgx.ReadOnly && db.Switches() != of:
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: "the database was deposed meanwhile; its successor may or may not have the write", Fix: lookFirst}
	case err == nil && said.warning != "":
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Fix: lookFirst,
			Msg: "the write stands on one server alone, no standby confirmed it; a failover may lose it", Err: errors.New(said.warning)}
	case err != nil && committing && options.AccessMode != pgx.ReadOnly && !undone(err):
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: "the database did not say whether it kept the write; it may or may not have", Fix: lookFirst, Err: err}
	}
	if err == nil {
		db.receipts.add(said.receipts)
	}
	return err
}

// errChecked ends a transaction that was only to be checked.
var errChecked = errors.New("checked, and not kept")

// undoWhenChecked lets a transaction that is only checked see every rule of the database,
// those at its end too, and undoes it (Config.CheckOnly).
func (db *DB) undoWhenChecked(ctx context.Context, tx pgx.Tx, options pgx.TxOptions) error {
	if options.AccessMode == pgx.ReadOnly || db.config.CheckOnly == nil || !db.config.CheckOnly(ctx) {
		return nil
	}
	if _, err := tx.Exec(ctx, `SET CONSTRAINTS ALL IMMEDIATE`); err != nil {
		return err
	}
	return errChecked
}

// limit sets the server's own time limits for one transaction. They belong to the
// transaction, not to the connection, so that a pooler between us and the server
// may hand the connection on.
func (db *DB) limit(ctx context.Context, tx pgx.Tx, whole time.Duration) error {
	statement, idle := db.config.StatementTimeout, db.config.IdleInTransactionTimeout
	if whole > db.config.TransactionTimeout { // what prepares much between its statements
		statement, idle = whole, max(idle, whole)
	}
	_, err := tx.Exec(ctx, `SELECT set_config('statement_timeout', $1, true), set_config('lock_timeout', $2, true),
		set_config('idle_in_transaction_session_timeout', $3, true), set_config('extra_float_digits', '1', true)`,
		milliseconds(statement), milliseconds(db.config.LockTimeout), milliseconds(idle))
	return err
}

// inWrite runs a function in a transaction that may change data: it carries the
// writer's name and reason for the history and holds the revision counter, so that
// writers follow one another and meet each other's results, in one order, without
// deadlock.
func (db *DB) inWrite(ctx context.Context, limit time.Duration, by Write, do func(pgx.Tx) error) error {
	return db.inTimedTx(ctx, limit, pgx.TxOptions{}, func(tx pgx.Tx) error {
		if err := db.authored(ctx, tx, by); err != nil {
			return err
		}
		var before int64
		if err := tx.QueryRow(ctx, `SELECT revision FROM data_revision FOR UPDATE`).Scan(&before); err != nil {
			return err
		}
		if err := do(tx); err != nil {
			return err
		}
		return noteChanges(ctx, tx, before)
	})
}

// authored readies a transaction for a write: the server must keep what it acknowledges,
// and the history learns who writes and why.
func (db *DB) authored(ctx context.Context, tx pgx.Tx, by Write) error {
	if by.Who == "" {
		return &domain.Error{Kind: domain.Internal, Code: "internal", Msg: "a write without its author"}
	}
	if err := db.keeps(ctx, tx); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `SELECT set_config('swarf.who', $1, true), set_config('swarf.person', $2, true), set_config('swarf.reason', $3, true)`, by.Who, by.Person, by.Reason)
	return err
}

// seen translates an error, and drops the pool's connections when they lead to a
// server that can no longer serve them (it went into recovery or is going down).
func (db *DB) seen(err error) error {
	if lostServer(err) {
		db.pool.Reset()
	}
	return translate(err)
}
