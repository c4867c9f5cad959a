package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"swarf/api/client"
	"swarf/api/wire"
	"swarf/db/dbtest"
)

// exampleFolder is the folder of what callers copy.
const exampleFolder = "../../deploy/examples/"

// posts are the post scripts with the program that runs each, and how to get that.
var posts = []struct{ script, program, install string }{
	{"post.py", "python3", "python3 (Debian, Ubuntu: apt-get install python3)"},
	{"post.js", "node", "Node.js 18 or later (Debian, Ubuntu: apt-get install nodejs)"},
	{"post.sh", "sh", "a POSIX shell"},
}

// ran runs a script of the examples and returns its exit code and what it printed.
func ran(t *testing.T, environ []string, program, install, script string, args ...string) (int, string) {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		t.Fatalf("no %s here: install %s", program, install)
	}
	if _, err := exec.LookPath("curl"); err != nil {
		t.Fatal("no curl here: install it (Debian, Ubuntu: apt-get install curl)")
	}
	run := exec.CommandContext(t.Context(), path, append([]string{exampleFolder + script}, args...)...)
	run.Env = append(os.Environ(), environ...)
	var out bytes.Buffer
	run.Stdout, run.Stderr = &out, &out
	var ended *exec.ExitError
	if err := run.Run(); err != nil && !errors.As(err, &ended) {
		t.Fatal(err)
	}
	return run.ProcessState.ExitCode(), out.String()
}

// operationLines are the operations of the example.
func operationLines(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile(exampleFolder + "operations.txt")
	if err != nil {
		t.Fatal(err)
	}
	lines := slices.DeleteFunc(strings.Split(strings.TrimSpace(string(text)), "\n"), func(line string) bool { return strings.HasPrefix(line, "#") })
	if len(lines) < 3 {
		t.Fatalf("%d operations in the example", len(lines))
	}
	return lines
}

// expected are the words S and F of each operation, as the API gives them.
func expected(t *testing.T, address string) []string {
	t.Helper()
	c, err := client.New(address, client.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, line := range operationLines(t) {
		query := url.Values{"units": {"metric"}, "machine": {"vmc-40"}, "format": {"text"}}
		for pair := range strings.FieldsSeq(line) {
			name, value, _ := strings.Cut(pair, "=")
			query.Set(name, value)
		}
		answer, err := c.Send(t.Context(), client.Request{Method: "GET", Path: "/v1/recommendations", Query: query})
		if err != nil {
			t.Fatal(err)
		}
		whole := func(name string) int {
			_, rest, _ := strings.Cut(string(answer.Body), "\nparameters."+name+"=")
			text, _, _ := strings.Cut(rest, "\n")
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			return int(math.Floor(v))
		}
		words = append(words, fmt.Sprintf("G94 G97 S%d F%d", whole("spindle_speed"), whole("feed_rate")))
	}
	return words
}

// The post scripts write the same program, with the numbers of the API rounded down.
func TestPostExamples(t *testing.T) {
	s := startService(t)
	want := expected(t, s.address)
	var first []byte
	for _, post := range posts {
		t.Run(post.script, func(t *testing.T) {
			program := filepath.Join(t.TempDir(), "part.nc")
			code, out := ran(t, []string{"SWARF_SERVER=" + s.address, "MACHINE=vmc-40"}, post.program, post.install, post.script, exampleFolder+"operations.txt", program)
			text, err := os.ReadFile(program)
			if code != 0 || err != nil {
				t.Fatalf("exit %d, %v: %s", code, err, out)
			}
			for i, words := range want {
				ref := "(op-" + strconv.Itoa(10*(i+1)) + " "
				if _, after, found := strings.Cut(string(text), ref); !found || !strings.Contains(after, words+"\n") {
					t.Errorf("no %s...) with %s in\n%s", ref, words, text)
				}
			}
			if !strings.Contains(string(text), "(WARNING sources-disagree)") {
				t.Errorf("the warnings are not in the program:\n%s", text)
			}
			if first == nil {
				first = text
			} else if !bytes.Equal(text, first) {
				t.Errorf("the program differs from that of %s:\n%s\n%s", posts[0].script, text, first)
			}
			if left, err := os.ReadDir(filepath.Dir(program)); err != nil || len(left) != 1 {
				t.Errorf("left beside the program: %v %v", left, err)
			}
		})
	}
}

// With a hold, a refusal, a fault or no server there is no program, not even an old one.
func TestPostExamplesRefuse(t *testing.T) {
	s := startService(t)
	lines := operationLines(t)
	for _, post := range posts {
		for _, c := range []struct {
			name, server, spoilt string // what is added to the second operation
			code                 int
			want                 string
		}{
			{"hold", s.address, "hardness.value=200 hardness.scale=HBW", 4, "hardness-outside-condition"},
			{"refusal", s.address, "cutting_speed=2000", 4, "spindle-speed"},
			{"unknown member", s.address, "colour=red", 4, "colour"},
			{"no server", "http://127.0.0.1:1", "", 5, ""},
		} {
			t.Run(post.script+" "+c.name, func(t *testing.T) {
				folder := t.TempDir()
				list, program := filepath.Join(folder, "operations.txt"), filepath.Join(folder, "part.nc")
				spoilt := []string{lines[0], lines[1] + " " + c.spoilt, lines[2]}
				err := errors.Join(os.WriteFile(list, []byte(strings.Join(spoilt, "\n")+"\n"), 0o600), os.WriteFile(program, []byte("M30\n"), 0o600))
				if err != nil {
					t.Fatal(err)
				}
				code, out := ran(t, []string{"SWARF_SERVER=" + c.server, "MACHINE=vmc-40"}, post.program, post.install, post.script, list, program)
				if code != c.code || !strings.Contains(out, c.want) || c.code == 4 && !strings.Contains(out, "op-20: ") {
					t.Errorf("exit %d, want %d and %q:\n%s", code, c.code, c.want, out)
				}
				if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
					t.Errorf("left: %v %v", left, err)
				}
			})
		}
	}
}

// The mirror holds what the server holds, fetches only what changed, and writes down what
// that was.
func TestMirrorExample(t *testing.T) {
	environ := "DATABASE_URL=" + dbtest.URL(t)
	if code, _, errs := swarf(t, []string{environ}, "load", "--demo"); code != 0 {
		t.Fatal(errs)
	}
	s := startService(t, environ)
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == 200 })
	folder := filepath.Join(t.TempDir(), "mirror")
	mirror := func(code int, want string) {
		t.Helper()
		got, out := ran(t, []string{"SWARF_SERVER=" + s.address}, "python3", posts[0].install, "mirror.py", folder)
		if got != code || !strings.Contains(out, want) {
			t.Errorf("exit %d, want %d and %q: %s", got, code, want, out)
		}
	}
	holds := func(table string, there bool, text string) {
		t.Helper()
		kept, err := os.ReadFile(filepath.Join(folder, table+".csv"))
		if err != nil || strings.Contains(string(kept), text) != there {
			t.Errorf("%s holds %q: want %v (%v)", table, text, there, err)
		}
	}
	mirror(0, "revision 1: 13 of 13 tables are new")
	_, whole := get(t, s.address+"/v1/exports/materials?format=csv&units=metric")
	holds("materials", true, whole)
	mirror(0, "revision 1: 0 of 13 tables are new, 0 changes")

	c, err := client.New(s.address, client.Options{From: "planner@shop.example"})
	if err != nil {
		t.Fatal(err)
	}
	kept, err := c.Machine(t.Context(), "vmc-40", client.Read{})
	if err != nil {
		t.Fatal(err)
	}
	more := kept.Value
	more.ID, more.Name = "vmc-41", "Its twin"
	twin, err := c.PutMachine(t.Context(), more, client.Write{Reason: "bought"})
	if err != nil {
		t.Fatal(err)
	}
	mirror(0, "revision 2: 2 of 13 tables are new, 1 changes")
	holds("machines", true, "Its twin")
	holds("changes", true, ",machine,vmc-41,added,planner@shop.example,bought")
	if err := c.DeleteMachine(t.Context(), "vmc-41", client.Write{Tag: twin.Tag, Reason: "sold"}); err != nil {
		t.Fatal(err)
	}
	mirror(0, "revision 3: 2 of 13 tables are new, 1 changes")
	holds("machines", false, "Its twin")
	holds("changes", true, ",machine,vmc-41,removed,planner@shop.example,sold")
	var list []wire.Change
	for change, err := range c.Changes(t.Context(), 1) {
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, change)
	}
	if len(list) != 2 {
		t.Errorf("changes: %+v", list)
	}
	s.stop()
	mirror(5, "no answer")
	holds("machines", true, "vmc-40")
}
