package dbtest

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// errNoPostgres says that the machine has no PostgreSQL.
var errNoPostgres = errors.New("no PostgreSQL server: install it (Debian: postgresql), or set TEST_DATABASE_URL")

// cluster is a throwaway server with its data, reached through a socket in its own
// directory, so that nothing else can reach it and no port is taken. A watchdog
// process holds it: it makes the directory, and when the pipe to this process
// closes, which it does however this process ends, it stops the server and removes
// the directory. It needs no help from the kernel that hangs on a thread.
type cluster struct {
	bin, dir string
	run      *syscall.Credential // nil: as ourselves
	settings []string            // of the server, name=value
	watchdog *exec.Cmd
	leash    io.Closer
}

// newCluster makes the data directory; the server is not started yet.
func newCluster(settings ...string) (*cluster, error) {
	return clusterOf(settings, func(c *cluster) error {
		return c.do("initdb", "--pgdata="+c.data(), "--username=postgres", "--auth=trust", "--encoding=UTF8",
			"--locale=C.UTF-8", "--no-sync", "--no-instructions")
	})
}

// clusterOf makes a directory with its watchdog and fills it.
func clusterOf(settings []string, fill func(*cluster) error) (*cluster, error) {
	bin, err := binaries()
	if err != nil {
		return nil, err
	}
	c := &cluster{bin: bin, settings: settings}
	if os.Getuid() == 0 {
		if c.run, err = servant(); err != nil {
			return nil, err
		}
	}
	var refused error
	for _, parent := range []string{os.TempDir(), "/tmp"} {
		// A socket's name is 107 bytes at most.
		if c.dir = filepath.Join(parent, "swarf-pg-"+rand.Text()[:12]); len(c.dir) > 80 {
			continue
		}
		if refused = c.watch(); refused == nil {
			break
		}
	}
	if refused != nil {
		return nil, refused
	}
	if err := fill(c); err != nil {
		c.remove()
		return nil, err
	}
	return c, nil
}

func (c *cluster) data() string { return filepath.Join(c.dir, "data") }

// url is the address of a database of the cluster.
func (c *cluster) url(database string) string {
	return fmt.Sprintf("postgres://postgres@/%s?host=%s", database, c.dir) + c.port("&port=")
}

// port is the port that the settings name, with a word before it; empty for the usual one.
func (c *cluster) port(before string) string {
	for _, s := range c.settings {
		if port, ok := strings.CutPrefix(s, "port="); ok {
			return before + port
		}
	}
	return ""
}

// start starts the server and waits until it answers. After a kill the old
// server's children may hold its memory for a moment longer: then it tries again.
func (c *cluster) start() error {
	options := fmt.Sprintf("-c listen_addresses='' -c unix_socket_directories='%s' -c max_connections=60 -c shared_buffers=16MB", c.dir)
	for _, s := range c.settings {
		name, value, _ := strings.Cut(s, "=")
		options += fmt.Sprintf(" -c %s='%s'", name, value)
	}
	deadline := time.Now().Add(20 * time.Second)
	for {
		err := c.do("pg_ctl", "--pgdata="+c.data(), "--log="+filepath.Join(c.dir, "log"), "--options="+options, "--wait", "start")
		if err == nil || time.Now().After(deadline) {
			return err
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// stop stops the server as pg_ctl's mode says: fast (connections are closed) or
// immediate (as in a crash).
func (c *cluster) stop(mode string) error {
	return c.do("pg_ctl", "--pgdata="+c.data(), "--mode="+mode, "--wait", "stop")
}

// postmaster is the server's process id.
func (c *cluster) postmaster() (int, error) {
	text, err := os.ReadFile(filepath.Join(c.data(), "postmaster.pid"))
	if err != nil {
		return 0, err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	return strconv.Atoi(strings.TrimSpace(first))
}

// binaries finds the directory of initdb and pg_ctl: by PATH, else where Debian
// keeps them, the newest version first.
func binaries() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		if path, err = filepath.EvalSymlinks(path); err == nil && whole(filepath.Dir(path)) {
			return filepath.Dir(path), nil
		}
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin")
	if err != nil {
		return "", err
	}
	slices.SortFunc(found, func(a, b string) int { return version(b) - version(a) })
	for _, dir := range found {
		if whole(dir) {
			return dir, nil
		}
	}
	return "", errNoPostgres
}

func version(dir string) int {
	number, err := strconv.Atoi(filepath.Base(filepath.Dir(dir)))
	if err != nil {
		return 0
	}
	return number
}

// whole reports a directory with all that is needed.
func whole(dir string) bool {
	for _, program := range []string{"initdb", "pg_ctl", "postgres"} {
		if _, err := os.Stat(filepath.Join(dir, program)); err != nil {
			return false
		}
	}
	return true
}

// servant is the user that runs the server when we are root, which it refuses to be.
func servant() (*syscall.Credential, error) {
	for _, name := range []string{"postgres", "nobody"} {
		account, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, errUser := strconv.ParseUint(account.Uid, 10, 32)
		gid, errGroup := strconv.ParseUint(account.Gid, 10, 32)
		if err := errors.Join(errUser, errGroup); err != nil {
			return nil, err
		}
		return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, nil
	}
	return nil, errors.New("no user postgres or nobody to run PostgreSQL as")
}
