package dbtest

import (
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
// process holds it: it stops the server and removes the directory when the pipe to
// this process closes, which it does however this process ends.
type cluster struct {
	bin, dir string
	run      *syscall.Credential // nil: as ourselves
	watchdog *exec.Cmd
	leash    io.Closer
}

// newCluster makes the data directory; the server is not started yet.
func newCluster() (*cluster, error) {
	bin, err := binaries()
	if err != nil {
		return nil, err
	}
	c := &cluster{bin: bin}
	if os.Getuid() == 0 {
		if c.run, err = servant(); err != nil {
			return nil, err
		}
	}
	if c.dir, err = os.MkdirTemp(shortTemp(), "swarf-pg-"); err != nil {
		return nil, err
	}
	if c.run != nil {
		err = os.Chown(c.dir, int(c.run.Uid), int(c.run.Gid))
	}
	if err == nil {
		err = c.watch()
	}
	if err != nil {
		os.RemoveAll(c.dir)
		return nil, err
	}
	err = c.do("initdb", "--pgdata="+c.data(), "--username=postgres", "--auth=trust", "--encoding=UTF8",
		"--locale=C.UTF-8", "--no-sync", "--no-instructions")
	if err != nil {
		c.remove()
		return nil, err
	}
	return c, nil
}

func (c *cluster) data() string { return filepath.Join(c.dir, "data") }

// url is the address of a database of the cluster.
func (c *cluster) url(database string) string {
	return fmt.Sprintf("postgres://postgres@/%s?host=%s", database, c.dir)
}

// watch starts the watchdog. It runs in a session of its own, so that an interrupt
// from the terminal does not end it before its work is done.
func (c *cluster) watch() error {
	const script = `cat >/dev/null
if [ -f "$1/data/postmaster.pid" ]; then "$2/pg_ctl" --pgdata="$1/data" --mode=immediate --wait stop >/dev/null 2>&1; fi
rm -rf "$1"`
	c.watchdog = exec.Command("/bin/sh", "-c", script, "watchdog", c.dir, c.bin)
	c.watchdog.Dir = "/"
	c.watchdog.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Credential: c.run}
	leash, err := c.watchdog.StdinPipe()
	if err != nil {
		return err
	}
	c.leash = leash
	return c.watchdog.Start()
}

// remove stops the server and deletes everything, and waits for it.
func (c *cluster) remove() {
	c.leash.Close()
	c.watchdog.Wait()
}

// start starts the server and waits until it answers. After a kill the old
// server's children may hold its memory for a moment longer: then it tries again.
func (c *cluster) start() error {
	options := fmt.Sprintf("-c listen_addresses='' -c unix_socket_directories='%s' -c max_connections=60 -c shared_buffers=16MB", c.dir)
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

// do runs a program of PostgreSQL.
func (c *cluster) do(program string, arguments ...string) error {
	command := exec.Command(filepath.Join(c.bin, program), arguments...)
	command.Dir = "/"
	command.SysProcAttr = &syscall.SysProcAttr{Credential: c.run, Setsid: true}
	// The server inherits what pg_ctl has: a file, never a pipe to this process,
	// which would then be waited for.
	output, err := os.CreateTemp(c.dir, program)
	if err != nil {
		return err
	}
	defer os.Remove(output.Name())
	defer output.Close()
	command.Stdout, command.Stderr = output, output
	if err := command.Run(); err != nil {
		text, _ := os.ReadFile(output.Name())
		return fmt.Errorf("%s: %w: %s", program, err, text)
	}
	return nil
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

// shortTemp is a directory for temporary files whose name is short enough for a
// socket (the limit is 107 bytes), "" for the usual one.
func shortTemp() string {
	if len(os.TempDir()) > 60 {
		return "/tmp"
	}
	return ""
}
