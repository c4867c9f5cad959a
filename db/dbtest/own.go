package dbtest

import (
	"context"
	"errors"
	"net"
	"os"
	"strconv"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db"
)

// Server is a server of its own with one migrated database, for tests of outages.
type Server struct {
	t       testing.TB
	cluster *cluster
}

// NewServer starts a server, gone when the test ends, with settings of PostgreSQL written
// as name=value. It never uses TEST_DATABASE_URL.
func NewServer(t testing.TB, settings ...string) *Server {
	t.Helper()
	s := NewEmptyServer(t, settings...)
	if _, err := db.Migrate(context.Background(), db.Config{URL: s.URL()}); err != nil {
		t.Fatal(err)
	}
	return s
}

// NewEmptyServer starts a server whose database has nothing in it yet.
func NewEmptyServer(t testing.TB, settings ...string) *Server {
	t.Helper()
	c, err := newCluster(settings...)
	need(t, err)
	t.Cleanup(c.remove)
	s := &Server{t: t, cluster: c}
	s.Start()
	return s
}

// OnLoopback are the settings of a server that can be reached by TCP, through a proxy for
// instance, at a port that is free now.
func OnLoopback(t testing.TB) []string {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer free.Close()
	return []string{"listen_addresses=127.0.0.1", "port=" + strconv.Itoa(free.Addr().(*net.TCPAddr).Port)}
}

// NewStandby starts a standby that streams from a server made with OnLoopback and can be
// promoted, on loopback too. Its name is that under which the server's
// synchronous_standby_names knows it.
func NewStandby(t testing.TB, of *Server, name string) *Server {
	t.Helper()
	host, port, err := net.SplitHostPort(of.Address())
	need(t, err)
	settings := append(OnLoopback(t), "primary_conninfo=host="+host+" port="+port+" user=postgres application_name="+name, "wal_retrieve_retry_interval=200ms")
	c, err := clusterOf(settings, func(c *cluster) error {
		return c.do("pg_basebackup", "--pgdata="+c.data(), "--host="+host, "--port="+port, "--username=postgres", "--write-recovery-conf", "--wal-method=stream", "--checkpoint=fast", "--no-sync")
	})
	need(t, err)
	t.Cleanup(c.remove)
	s := &Server{t: t, cluster: c}
	s.Start()
	return s
}

// Promote makes a standby take writes and waits until it does.
func (s *Server) Promote() {
	s.t.Helper()
	if err := s.cluster.do("pg_ctl", "--pgdata="+s.cluster.data(), "--wait", "promote"); err != nil {
		s.t.Fatal(err)
	}
}

// URL is the address of the server's database, the same after every start.
func (s *Server) URL() string { return s.cluster.url("postgres") }

// Address is host and port of a server made with OnLoopback.
func (s *Server) Address() string { return s.cluster.port("127.0.0.1:") }

// Either is the address of the database on whichever of two servers on loopback takes writes.
func Either(one, other *Server) string {
	return "postgres://postgres@" + one.Address() + "," + other.Address() + "/postgres?sslmode=disable&target_session_attrs=read-write"
}

// Ask asks the server for one value as text.
func (s *Server) Ask(statement string, args ...any) (string, error) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx)
	var value string
	err = conn.QueryRow(ctx, statement, args...).Scan(&value)
	return value, err
}

// Do runs a statement on the server, outside any transaction.
func (s *Server) Do(statement string) error {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, statement)
	return err
}

// Start starts the server again and waits until it answers.
func (s *Server) Start() {
	s.t.Helper()
	if err := s.cluster.start(); err != nil {
		s.t.Fatal(err)
	}
}

// Stop ends the server in order, its connections with it.
func (s *Server) Stop() {
	s.t.Helper()
	if err := s.cluster.stop("fast"); err != nil {
		s.t.Fatal(err)
	}
}

// Kill ends the server's first process at once, as a crash would (SIGKILL), if it runs.
func (s *Server) Kill() {
	s.t.Helper()
	pid, err := s.cluster.postmaster()
	if err == nil {
		err = syscall.Kill(pid, syscall.SIGKILL)
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) && !errors.Is(err, syscall.ESRCH) {
		s.t.Fatal(err)
	}
}
