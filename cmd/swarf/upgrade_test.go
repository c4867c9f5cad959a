//go:build history

// The version before is built from the history of the repository, which a tree of files
// without one does not have: deploy/check upgrade runs this, go test ./... does not.

package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"swarf/db/dbtest"
	"swarf/migrations"
)

// git runs git in the repository.
func git(t *testing.T, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "git", append([]string{"-C", root}, args...)...).CombinedOutput()
	if err != nil {
		t.Fatalf("git %s: %v\n%s\nThe version before is built from the history: this needs a clone with all of it (git fetch --unshallow).", strings.Join(args, " "), err, out)
	}
	return strings.TrimSpace(string(out))
}

// newestStep is the number of the newest step of the schema and the names of its files.
func newestStep(t *testing.T) (version uint, up, down string) {
	t.Helper()
	version, err := migrations.Newest(migrations.Files)
	if err != nil {
		t.Fatal(err)
	}
	ups, err := fs.Glob(migrations.Files, fmt.Sprintf("%04d_*.up.sql", version))
	if err != nil || len(ups) != 1 {
		t.Fatal(ups, err)
	}
	return version, ups[0], strings.Replace(ups[0], ".up.", ".down.", 1)
}

// versionBefore builds swarf as it was just before the newest step of the schema: at the
// parent of the commit of the main line that brought it, or at the head where none has yet.
func versionBefore(t *testing.T) (binary, commit string) {
	t.Helper()
	_, step, _ := newestStep(t)
	if brought := git(t, "log", "-m", "--first-parent", "--diff-filter=A", "--format=%H", "-1", "--", "migrations/"+step); brought == "" {
		commit = git(t, "rev-parse", "HEAD")
	} else {
		commit = git(t, "rev-parse", brought+"^1")
	}
	source := t.TempDir()
	tree := filepath.Join(source, "tree.tar")
	git(t, "archive", "--output="+tree, commit)
	if out, err := exec.CommandContext(t.Context(), "tar", "-xf", tree, "-C", source).CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	if _, err := os.Stat(filepath.Join(source, "migrations", step)); err == nil {
		t.Fatalf("%s has %s already", commit, step)
	}
	binary = filepath.Join(source, "swarf-before")
	build := exec.CommandContext(t.Context(), "go", "build", "-o", binary, "./cmd/swarf")
	build.Dir = source
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%s does not build: %v\n%s", commit, err, out)
	}
	return binary, commit
}

// older is the version before, as processes.
type older struct{ binary, database string }

func (o older) command(t *testing.T, args ...string) *exec.Cmd {
	command := exec.CommandContext(t.Context(), o.binary, args...)
	command.Env = []string{"DATABASE_URL=" + o.database, "SWARF_LISTEN=127.0.0.1:0", "SWARF_SHUTDOWN_WAIT=0s", "PATH=" + os.Getenv("PATH")}
	return command
}

// run runs a command to its end.
func (o older) run(t *testing.T, args ...string) string {
	t.Helper()
	out, err := o.command(t, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("the version before: %v: %v\n%s", args, err, out)
	}
	return string(out)
}

// serve starts a service and waits until it is ready.
func (o older) serve(t *testing.T) (address string, stop func()) {
	t.Helper()
	var out screen
	process := o.command(t, "serve")
	process.Stdout, process.Stderr = &out, &out
	if err := process.Start(); err != nil {
		t.Fatal(err)
	}
	stop = func() { process.Process.Signal(os.Interrupt); process.Wait() }
	t.Cleanup(func() { process.Process.Kill() })
	eventually(t, "the version before is ready", func() bool {
		if address = printedAddress.FindString(out.String()); address == "" {
			return false
		}
		status, _ := get(t, address+"/readyz")
		return status == http.StatusOK
	})
	return address, stop
}

// reads are asked of both versions.
var reads = []string{"/v1/materials?limit=20", "/v1/materials/x5crni18-10", "/v1/tool-classes?limit=5", "/v1/sources?limit=5", "/v1/machines/vmc-50", tries[1], tries[2],
	"/v1/materials/x5crni18-10?as_of=1"}

func readsOf(t *testing.T, address string) (list []string) {
	t.Helper()
	for _, target := range reads {
		list = append(list, mustGet(t, address+target))
	}
	return list
}

// puts writes a machine and requires that it is there afterwards.
func puts(t *testing.T, address, id string) {
	t.Helper()
	status, _, body := call(t, http.MethodPut, address+"/v1/machines/"+id, ourMachine, "If-None-Match", "*", "From", "ann")
	if status != http.StatusCreated {
		t.Fatalf("writing %s: %d %s", id, status, body)
	}
	mustGet(t, address+"/v1/machines/"+id)
}

// machines lists the machines of a service that we wrote.
func machinesOf(t *testing.T, address string) (ids []string) {
	t.Helper()
	var page struct {
		Items []struct{ ID string } `json:"items"`
	}
	if err := json.Unmarshal([]byte(mustGet(t, address+"/v1/machines?limit=500")), &page); err != nil {
		t.Fatal(err)
	}
	for _, m := range page.Items {
		if strings.HasPrefix(m.ID, "own-") {
			ids = append(ids, m.ID)
		}
	}
	return ids
}

// The version before and this one, on the schema before and this one's: the program before
// serves and writes on the new schema, beside the new program; the new program says on the old
// schema what to run; one step down and up again loses nothing, and the history holds.
func TestUpgradeAndBack(t *testing.T) {
	binary, commit := versionBefore(t)
	version, _, down := newestStep(t)
	t.Logf("the version before is %s", commit)
	database := dbtest.EmptyURL(t)
	before := older{binary, database}
	settings := []string{"DATABASE_URL=" + database}
	migrate := func() {
		t.Helper()
		if code, out, errs := swarf(t, settings, "migrate"); code != 0 || !strings.Contains(out, fmt.Sprintf("schema %d, was %d", version, version-1)) {
			t.Fatalf("migrate: exit %d %s%s", code, out, errs)
		}
	}
	verify := func(when string) {
		t.Helper()
		if code, out, errs := swarf(t, settings, "audit", "verify"); code != 0 {
			t.Errorf("the history %s: exit %d %s%s", when, code, out, errs)
		}
	}

	// The old program on its own schema; the new one refuses it and says what to do.
	if out := before.run(t, "migrate"); !strings.Contains(out, fmt.Sprintf("schema %d, was 0", version-1)) {
		t.Fatalf("the version before made another schema: %s", out)
	}
	before.run(t, "load", "--demo")
	old, stop := before.serve(t)
	puts(t, old, "own-a")
	asked := readsOf(t, old)
	for _, command := range []string{"serve", "check", "load"} {
		code, out, errs := swarf(t, append(settings, "SWARF_LISTEN=127.0.0.1:0"), command)
		if says := fmt.Sprintf("schema is version %d, this program needs %d", version-1, version); code == 0 || !strings.Contains(out+errs, says) || !strings.Contains(out+errs, "swarf migrate") {
			t.Errorf("the new program's %s on the old schema: exit %d %s%s", command, code, out, errs)
		}
	}

	// Migrated under the running old program, which reads and writes on, also started anew.
	migrate()
	same := func(when string) {
		t.Helper()
		for i, got := range readsOf(t, old) {
			if withoutRevision(got) != withoutRevision(asked[i]) {
				t.Errorf("%s, %s:\nwas %.300s\nis  %.300s", when, reads[i], asked[i], got)
			}
		}
	}
	same("under the running old program")
	puts(t, old, "own-b")
	stop()
	old, stop = before.serve(t)
	same("with the old program started on the new schema")
	puts(t, old, "own-c")
	before.run(t, "load", "--demo")
	verify("that the old program wrote on the new schema")

	// Both at once, as while replicas are replaced one by one.
	s := startService(t, settings...)
	eventually(t, "the new program is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	puts(t, s.address, "own-d")
	puts(t, old, "own-e")
	want := []string{"own-a", "own-b", "own-c", "own-d", "own-e"}
	for _, address := range []string{old, s.address} {
		eventually(t, "both see all machines", func() bool { return slices.Equal(machinesOf(t, address), want) })
	}
	s.stop()

	// One step down and up again, with the old program at work in between.
	step, err := fs.ReadFile(migrations.Files, down)
	if err != nil {
		t.Fatal(err)
	}
	stop()
	if err := execute(t, database, string(step)+fmt.Sprintf("; UPDATE schema_migrations SET version = %d, dirty = false", version-1)); err != nil {
		t.Fatal(err)
	}
	old, stop = before.serve(t)
	puts(t, old, "own-f")
	stop()
	migrate()
	again := startService(t, settings...)
	eventually(t, "the new program is ready again", func() bool { status, _ := get(t, again.address+"/readyz"); return status == http.StatusOK })
	puts(t, again.address, "own-g")
	if got := machinesOf(t, again.address); !slices.Equal(got, append(want, "own-f", "own-g")) {
		t.Errorf("after a step down and up there are %v", got)
	}
	verify("after a step down and up")
}

// withoutRevision is an answer without the revision of the data, which grows, and what is
// made of it.
func withoutRevision(body string) string {
	var out []string
	for part := range strings.SplitSeq(body, ",") {
		if !strings.Contains(part, "data_revision") && !strings.Contains(part, "next_cursor") {
			out = append(out, part)
		}
	}
	return strings.Join(out, ",")
}
