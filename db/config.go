package db

import (
	"context"
	"log/slog"
	"net"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"swarf/domain"
	"swarf/domain/access"
)

// Config says how to reach the database. Only URL is needed; a zero elsewhere
// means the default in the comment.
//
// TLS: a URL that says nothing about sslmode gets verify-full when any of its hosts
// is another machine (the certificate must be valid for the host's name, checked
// against the system's roots, or sslrootcert). A host is local when it is a socket
// directory, localhost or a loopback address. Whatever the URL or PGSSLMODE says
// about sslmode is kept.
type Config struct {
	URL string // postgres://… or key=value form

	MaxConns                 int32         // connections in the pool; 4, or pool_max_conns of the URL
	ConnectTimeout           time.Duration // 2 s
	PingTimeout              time.Duration // 500 ms, when a connection leaves the pool
	Patience                 time.Duration // 350 ms, for a sign of life while a transaction waits: see Watch
	StatementTimeout         time.Duration // 5 s, kept by the server
	LockTimeout              time.Duration // 3 s, kept by the server
	IdleInTransactionTimeout time.Duration // 10 s, kept by the server
	TransactionTimeout       time.Duration // 10 s, kept here, for all but Load and Snapshot
	LoadTimeout              time.Duration // 2 min, for Load and Snapshot
	PollInterval             time.Duration // 10 s, of Listen
	JobSlice                 time.Duration // 8 s, for which a worker stays with a job

	// Tracer, if any, sees each statement.
	Tracer pgx.QueryTracer
	// Lost, if any, is told why whenever Listen's connection broke or could not be
	// made. The next call of Listen's own function says that it is there again.
	Lost func(error)

	// CheckOnly, if any, tells writes that are only to be checked by their context: they
	// meet every rule of the database and are undone.
	CheckOnly func(context.Context) bool

	// Keys, if any, is given all keys whenever Listen calls its own function, before it:
	// after every connection, when a key or a revision was announced, and at every poll.
	// They were asked for at a time, so that they can be put in order with other reads.
	Keys func(asked time.Time, list []access.Key)

	// UnsafeWrites allows writes although the server may lose them in a crash
	// (fsync or synchronous_commit off). Without it they are refused.
	UnsafeWrites bool

	Logger *slog.Logger // the default logger
}

func (c Config) withDefaults() Config {
	set := func(d *time.Duration, standard time.Duration) {
		if *d <= 0 {
			*d = standard
		}
	}
	set(&c.ConnectTimeout, 2*time.Second)
	set(&c.PingTimeout, 500*time.Millisecond)
	set(&c.Patience, 350*time.Millisecond)
	set(&c.JobSlice, 8*time.Second)
	set(&c.StatementTimeout, 5*time.Second)
	set(&c.LockTimeout, 3*time.Second)
	set(&c.IdleInTransactionTimeout, 10*time.Second)
	set(&c.TransactionTimeout, 10*time.Second)
	set(&c.LoadTimeout, 2*time.Minute)
	set(&c.PollInterval, 10*time.Second)
	if c.Logger == nil {
		c.Logger = slog.Default()
	}
	return c
}

// pool is the configuration of the connection pool, which leads only to servers that the
// fence lets pass; nil: to any.
func (c Config) pool(f *fence) (*pgxpool.Config, error) {
	text, err := withTLS(c.URL)
	if err != nil {
		return nil, err
	}
	pool, err := pgxpool.ParseConfig(text)
	if err != nil {
		return nil, urlFault()
	}
	if c.MaxConns > 0 {
		pool.MaxConns = c.MaxConns
	}
	pool.PingTimeout = c.PingTimeout
	// A connection may have died since it was last used, and nothing here is in such
	// a hurry that 50 microseconds matter: reads are served from memory.
	pool.ShouldPing = func(context.Context, pgxpool.ShouldPingParams) bool { return true }
	pool.ConnConfig.Tracer = c.Tracer
	c.reach(&pool.ConnConfig.Config, f)
	return pool, nil
}

// conn is the configuration of a connection outside the pool.
func (c Config) conn(f *fence) (*pgx.ConnConfig, error) {
	text, err := withTLS(c.URL)
	if err != nil {
		return nil, err
	}
	conn, err := pgx.ParseConfig(text)
	if err != nil {
		return nil, urlFault()
	}
	c.reach(&conn.Config, f)
	return conn, nil
}

// reach sets how a connection is made: soon or not at all, and kept under watch.
func (c Config) reach(conn *pgconn.Config, f *fence) {
	if f != nil {
		f.guard(conn)
	}
	if conn.ConnectTimeout == 0 {
		conn.ConnectTimeout = c.ConnectTimeout
	}
	dialer := &net.Dialer{Timeout: conn.ConnectTimeout, KeepAlive: 15 * time.Second}
	conn.DialFunc = dialer.DialContext
	conn.OnNotice = noteWarning
	if conn.RuntimeParams["application_name"] == "" {
		conn.RuntimeParams["application_name"] = "swarf"
	}
}

// withTLS adds sslmode=verify-full to a connection string that says nothing about
// it and leads to another machine.
func withTLS(text string) (string, error) {
	if strings.TrimSpace(text) == "" {
		return "", &domain.Error{Kind: domain.Invalid, Field: "DATABASE_URL", Code: "field-missing",
			Msg: "no database is named", Fix: "set it to postgres://user@host/name"}
	}
	parsed, err := pgconn.ParseConfig(text)
	if err != nil {
		return "", urlFault()
	}
	away := !local(parsed.Host)
	for _, other := range parsed.Fallbacks {
		away = away || !local(other.Host)
	}
	if !away || os.Getenv("PGSSLMODE") != "" {
		return text, nil
	}
	if strings.HasPrefix(text, "postgres://") || strings.HasPrefix(text, "postgresql://") {
		place, err := url.Parse(text)
		if err != nil { // several hosts with ports do not parse as a URL
			return addToQuery(text), nil
		}
		if place.Query().Has("sslmode") {
			return text, nil
		}
		return addToQuery(text), nil
	}
	if strings.Contains(strings.ReplaceAll(text, " ", ""), "sslmode=") {
		return text, nil
	}
	return text + " sslmode=verify-full", nil
}

func addToQuery(text string) string {
	if strings.Contains(text, "sslmode=") {
		return text
	}
	if strings.Contains(text, "?") {
		return text + "&sslmode=verify-full"
	}
	return text + "?sslmode=verify-full"
}

// local reports a host on this machine.
func local(host string) bool {
	if host == "" || host == "localhost" || strings.HasPrefix(host, "/") || strings.HasPrefix(host, "@") {
		return true
	}
	address := net.ParseIP(strings.Trim(host, "[]"))
	return address != nil && address.IsLoopback()
}

// urlFault says that an address cannot be read. The driver's own error is left out:
// it quotes the address, and with it a password.
func urlFault() error {
	return &domain.Error{Kind: domain.Invalid, Field: "DATABASE_URL", Code: "wrong-type",
		Msg: "the database's address cannot be read", Fix: "write it as postgres://user@host:5432/name"}
}
