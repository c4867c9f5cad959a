package dbtest

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
)

// guard makes the directory, waits for the end of its standard input and cleans up.
// The directory named busy is a lock: whoever could make it may work on the data.
// The guard takes it for good, once a program that is still running has ended; then
// no other can begin. A server that was killed leaves its shared memory to be freed.
// This process may be gone before it reads that the directory is made.
const guard = `trap '' PIPE
mkdir -m 700 "$1" || exit 1
echo made
cat >/dev/null
tries=0
until mkdir "$1/busy" 2>/dev/null || [ $tries -ge 300 ]; do sleep 0.1; tries=$((tries + 1)); done
pid="$1/data/postmaster.pid"
if [ -f "$pid" ]; then
	"$2/pg_ctl" --pgdata="$1/data" --mode=immediate --wait stop >/dev/null 2>&1 ||
		ipcrm -m "$(awk 'NR == 7 { print $2 }' "$pid")" >/dev/null 2>&1
fi
rm -rf "$1"`

// watch starts the watchdog and waits until it has made the directory. It runs in a
// session of its own, so that an interrupt from the terminal does not end it before
// its work is done.
func (c *cluster) watch() error {
	c.watchdog = exec.Command("/bin/sh", "-c", guard, "watchdog", c.dir, c.bin)
	c.watchdog.Dir = "/"
	c.watchdog.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Credential: c.run}
	leash, err := c.watchdog.StdinPipe()
	if err != nil {
		return err
	}
	c.leash = leash
	said, err := c.watchdog.StdoutPipe()
	if err != nil {
		return err
	}
	if err := c.watchdog.Start(); err != nil {
		return err
	}
	if _, err := io.ReadFull(said, make([]byte, len("made\n"))); err != nil {
		c.remove()
		return fmt.Errorf("a directory for PostgreSQL, %s, cannot be made", c.dir)
	}
	return nil
}

// remove stops the server and deletes everything, and waits for it.
func (c *cluster) remove() {
	c.leash.Close()
	c.watchdog.Wait()
}

// turn runs a program while it holds the lock that guard respects. It ends the
// program's turn even when this process is gone by then.
const turn = `mkdir "$1/busy" || exit 1
busy="$1/busy"
shift
"$@"
code=$?
rmdir "$busy"
exit $code`

// do runs a program of PostgreSQL.
func (c *cluster) do(program string, arguments ...string) error {
	command := exec.Command("/bin/sh", append([]string{"-c", turn, "turn", c.dir, filepath.Join(c.bin, program)}, arguments...)...)
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
