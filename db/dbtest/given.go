package dbtest

import (
	"context"
	"crypto/rand"
	"strings"

	"github.com/jackc/pgx/v5"
)

// mark is this process in the names of its databases.
var mark = strings.ToLower(rand.Text()[:10])

// sweep drops, on a server that outlives the tests, the databases of processes that
// are gone: each process holds a lock of its mark as long as it lives, in a session
// that nothing ends before. The newest process's template stays until the next comes.
func sweep(server host) (*pgx.Conn, error) {
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, server.url(""))
	if err != nil {
		return nil, err
	}
	if _, err := conn.Exec(ctx, lock("pg_advisory_lock"), mark); err != nil {
		return nil, err
	}
	result, err := conn.Query(ctx, `SELECT datname, split_part(datname, '_', 3) FROM pg_database WHERE datname ~ '^swarf_test_[a-z0-9]{10}_'`)
	if err != nil {
		return nil, err
	}
	type database struct{ Name, Mark string }
	left, err := pgx.CollectRows(result, pgx.RowToStructByPos[database])
	if err != nil {
		return nil, err
	}
	for _, d := range left {
		var dead bool
		if err := conn.QueryRow(ctx, lock("pg_try_advisory_lock"), d.Mark).Scan(&dead); err != nil {
			return nil, err
		}
		if dead {
			if _, err := conn.Exec(ctx, "DROP DATABASE IF EXISTS "+d.Name+" WITH (FORCE)"); err != nil {
				return nil, err
			}
		}
	}
	return conn, nil
}

// lock is the statement that takes the lock of a mark.
func lock(function string) string {
	return "SELECT " + function + "(hashtext('swarf_test'), hashtext($1))"
}
