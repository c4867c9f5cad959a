package db

import (
	"context"
	"errors"
	"strconv"
	"sync"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/domain"
)

// server is which PostgreSQL answers, and on which timeline of its history: every
// promotion of a standby begins a new one. Timeline 0 is a standby, or not known.
type server struct{ system, timeline int64 }

// askServer asks a server what it is. Any role may.
const askServer = `SELECT (SELECT system_identifier FROM pg_control_system()),
	CASE WHEN pg_is_in_recovery() THEN 0 ELSE ('x' || substring(pg_walfile_name(pg_current_wal_lsn()) for 8))::bit(32)::bigint END`

// fence keeps a program from a server that has been deposed. It knows the newest timeline
// that any connection of this program has seen, and lets nothing through to an older one.
type fence struct {
	mu       sync.Mutex
	newest   server
	switches int64 // how often another server, or another timeline, took the place
}

// pass notes a server, and refuses one that another has deposed.
//
// Errors: Unavailable.
func (f *fence) pass(s server) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	switch {
	case s.timeline == 0 || s == f.newest:
	case f.newest.timeline == 0:
		f.newest = s
	case s.system == f.newest.system && s.timeline < f.newest.timeline:
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Fix: tryAgain,
			Msg: "the database has been deposed: it is on timeline " + strconv.FormatInt(s.timeline, 10) + " of its history, another on " + strconv.FormatInt(f.newest.timeline, 10)}
	default:
		f.newest = s
		f.switches++
	}
	return nil
}

// Switches counts how often another server, or the same on another timeline, has taken
// the place of the one before: what was read before such a switch may not be there any more.
func (db *DB) Switches() int64 {
	db.fence.mu.Lock()
	defer db.fence.mu.Unlock()
	return db.fence.switches
}

// identify asks a fresh connection which server it leads to.
func identify(ctx context.Context, conn *pgconn.PgConn) (server, error) {
	result := conn.ExecParams(ctx, askServer, nil, nil, nil, nil).Read()
	var refused *pgconn.PgError
	if errors.As(result.Err, &refused) {
		switch refused.Code {
		case pgerrcode.InsufficientPrivilege, pgerrcode.UndefinedFunction, pgerrcode.FeatureNotSupported, pgerrcode.ObjectNotInPrerequisiteState:
			return server{}, nil // a service that does not say
		}
	}
	if result.Err != nil {
		return server{}, result.Err
	}
	if len(result.Rows) != 1 || len(result.Rows[0]) != 2 {
		return server{}, errors.New("a server that does not say what it is")
	}
	var s server
	var err error
	if s.system, err = strconv.ParseInt(string(result.Rows[0][0]), 10, 64); err != nil {
		return server{}, err
	}
	s.timeline, err = strconv.ParseInt(string(result.Rows[0][1]), 10, 64)
	return s, err
}

// guard lets a connection be made only to a server that the fence lets pass; with several
// hosts in the address the next is tried.
func (f *fence) guard(conn *pgconn.Config) {
	asked := conn.ValidateConnect // target_session_attrs
	conn.ValidateConnect = func(ctx context.Context, c *pgconn.PgConn) error {
		if asked != nil {
			if err := asked(ctx, c); err != nil {
				return err
			}
		}
		s, err := identify(ctx, c)
		if err != nil {
			return err
		}
		return f.pass(s)
	}
}
