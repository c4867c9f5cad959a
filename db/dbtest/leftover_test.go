package dbtest

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/db"
)

// TestServer uses a server, or with SWARF_HOLD_SERVER set holds one until the test
// process is killed: the other tests here start it so.
func TestServer(t *testing.T) {
	hold := os.Getenv("SWARF_HOLD_SERVER") != ""
	if hold {
		os.Stdout.WriteString("begun\n")
	}
	s := NewServer(t)
	store := Open(t, s.URL())
	if hold {
		os.Stdout.WriteString("held\n")
		time.Sleep(time.Minute)
		return
	}
	for name, again := range map[string]func(){
		"stopped": func() { s.Stop(); s.Start() },
		"killed":  func() { s.Kill(); s.Start() },
	} {
		again()
		if schema, err := store.SchemaVersion(t.Context()); err != nil || schema == (db.Schema{}) {
			t.Errorf("%s and started again: %+v, %v", name, schema, err)
		}
	}
}

// Whenever a test process is killed, its server and its files go.
func TestKilledTestsLeaveNothing(t *testing.T) {
	if _, err := binaries(); err != nil {
		need(t, err)
	}
	for name, c := range map[string]struct {
		line string
		wait time.Duration
	}{
		"while the directory is made": {"begun", 2 * time.Millisecond},
		"while the data are made":     {"begun", 100 * time.Millisecond},
		"while the server starts":     {"begun", 350 * time.Millisecond},
		"while the server runs":       {"held", 0},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			place := publicTemp(t)
			child := exec.Command(os.Args[0], "-test.run=^TestServer$")
			child.Env = append(os.Environ(), "SWARF_HOLD_SERVER=1", "TMPDIR="+place)
			child.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
			says, err := child.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := child.Start(); err != nil {
				t.Fatal(err)
			}
			for lines := bufio.NewScanner(says); lines.Scan() && lines.Text() != c.line; {
			}
			time.Sleep(c.wait)
			if c.line == "held" && len(processes(t, place)) == 0 {
				t.Error("no server runs to begin with")
			}
			// The whole group at once, as a runner that lost its patience does it.
			if err := syscall.Kill(-child.Process.Pid, syscall.SIGKILL); err != nil {
				t.Fatal(err)
			}
			child.Wait()
			gone(t, place)
		})
	}
}

// A test that ends in order has cleaned up when it has ended.
func TestServerIsGoneAfterItsTest(t *testing.T) {
	place := publicTemp(t)
	t.Setenv("TMPDIR", place)
	t.Run("with a crash", func(t *testing.T) { NewServer(t).Kill() })
	if left, _ := filepath.Glob(place + "/*"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// publicTemp makes a directory in which any user may make another.
func publicTemp(t *testing.T) string {
	t.Helper()
	place, err := os.MkdirTemp("/tmp", "swarf-left-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(place) })
	if err := os.Chmod(place, 0o777|os.ModeSticky); err != nil {
		t.Fatal(err)
	}
	return place
}

// gone waits until a directory is empty and no process names it.
func gone(t *testing.T, place string) {
	t.Helper()
	var files, running []string
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		files, _ = filepath.Glob(place + "/*/*")
		running = processes(t, place)
		if left, _ := os.ReadDir(place); len(left) == 0 && len(running) == 0 {
			return
		}
	}
	t.Errorf("left behind: files %v, processes %v", files, running)
}

// processes lists what runs on the machine and names a directory.
func processes(t *testing.T, place string) []string {
	t.Helper()
	list, err := exec.Command("ps", "-A", "-o", "args").Output()
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(strings.Split(string(list), "\n"), func(line string) bool { return !strings.Contains(line, place) })
}

// On a server that outlives the tests, the databases of a process that was killed go
// when the next one begins; those of one that lives stay.
func TestSweep(t *testing.T) {
	s := NewServer(t)
	server := host{url: func(database string) string {
		if database == "" {
			database = "postgres"
		}
		return s.cluster.url(database)
	}}
	for _, name := range []string{"swarf_test_aaaaaaaaaa_template", "swarf_test_aaaaaaaaaa_1", "swarf_test_bbbbbbbbbb_1", "shop"} {
		if err := command(server, "CREATE DATABASE "+name); err != nil {
			t.Fatal(err)
		}
	}
	alive, err := pgx.Connect(t.Context(), server.url(""))
	if err != nil {
		t.Fatal(err)
	}
	defer alive.Close(t.Context())
	if _, err := alive.Exec(t.Context(), lock("pg_advisory_lock"), "bbbbbbbbbb"); err != nil {
		t.Fatal(err)
	}
	held, err := sweep(server)
	if err != nil {
		t.Fatal(err)
	}
	defer held.Close(t.Context())
	result, err := alive.Query(t.Context(), `SELECT datname FROM pg_database WHERE NOT datistemplate ORDER BY 1`)
	if err != nil {
		t.Fatal(err)
	}
	names, err := pgx.CollectRows(result, pgx.RowTo[string])
	if want := []string{"postgres", "shop", "swarf_test_bbbbbbbbbb_1"}; err != nil || !slices.Equal(names, want) {
		t.Errorf("%v stay, %v, want %v", names, err, want)
	}
	var free bool
	if err := alive.QueryRow(t.Context(), lock("pg_try_advisory_lock"), mark).Scan(&free); err != nil || free {
		t.Errorf("this process has no lock of its own, %v", err)
	}
}
