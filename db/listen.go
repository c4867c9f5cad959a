package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/domain/access"
)

// Listen calls a function with the newest revision: once after every connection it
// makes, whenever a writer announces a revision, and at every poll, whether or not
// the number moved. The function compares it with what it holds; so an announcement
// that was lost, or a snapshot that could not be read, is made good at the next
// call. The number can go down when the database was restored from a copy.
//
// The keys are read and given to Config.Keys first, each time.
//
// Listen has a connection of its own outside the pool, which must reach the server
// itself or a pooler in session mode. When it breaks, Listen connects again, after
// waits that grow from 50 ms to 5 s, or as soon as Watch hears of the server again. It
// returns only when the context ends, with its error.
func (db *DB) Listen(ctx context.Context, moved func(revision int64)) error {
	const first, longest = 50 * time.Millisecond, 5 * time.Second
	wait := first
	for {
		heard, err := db.listenOnce(ctx, moved)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if heard {
			wait = first
		}
		err = translate(err)
		db.config.Logger.WarnContext(ctx, "listening for changes was interrupted", "error", err, "again_in", wait)
		if db.config.Lost != nil {
			db.config.Lost(err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-db.pulse.returned():
			wait = first
		case <-time.After(wait):
			wait = min(2*wait, longest)
		}
	}
}

// listenOnce listens on one connection until it breaks, and reports whether it ever
// gave a revision.
func (db *DB) listenOnce(ctx context.Context, moved func(int64)) (heard bool, err error) {
	settings, err := db.config.conn(db.fence)
	if err != nil {
		return false, err
	}
	ctx, done, err := db.pulse.with(ctx)
	if err != nil {
		return false, err
	}
	defer func() { err = cut(ctx, err); done() }()
	conn, err := pgx.ConnectConfig(ctx, settings)
	if err != nil {
		return false, err
	}
	defer func() {
		ending, cancel := context.WithTimeout(context.WithoutCancel(ctx), time.Second)
		defer cancel()
		conn.Close(ending)
	}()
	// First listen, then look: a revision made in between is seen or announced.
	if err := db.soon(ctx, func(ctx context.Context) error {
		_, err := conn.Exec(ctx, `LISTEN swarf_revision; LISTEN swarf_keys`)
		return err
	}); err != nil {
		return false, err
	}
	for ; ; heard = true {
		if db.config.Keys != nil {
			var keys []access.Key
			asked := time.Now()
			if err := db.soon(ctx, func(ctx context.Context) error {
				var err error
				keys, err = collectKeys(conn.Query(ctx, `SELECT `+keyColumns+` ORDER BY k.id COLLATE "C"`))
				return err
			}); err != nil {
				return heard, err
			}
			db.config.Keys(asked, keys)
		}
		var revision int64
		if err := db.soon(ctx, func(ctx context.Context) error {
			return conn.QueryRow(ctx, `SELECT revision FROM data_revision`).Scan(&revision)
		}); err != nil {
			return heard, err
		}
		moved(revision)
		waiting, cancel := context.WithTimeout(ctx, db.config.PollInterval)
		_, err := conn.WaitForNotification(waiting)
		cancel()
		if err != nil && (ctx.Err() != nil || conn.IsClosed() || !pgconn.Timeout(err)) {
			return true, err
		}
	}
}

// soon gives a statement the time that a statement has.
func (db *DB) soon(ctx context.Context, do func(context.Context) error) error {
	ctx, cancel := context.WithTimeout(ctx, db.config.StatementTimeout)
	defer cancel()
	return do(ctx)
}
