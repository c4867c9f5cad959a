package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const stream = `{"config":{"protocol_version":"v1.0.0","go_version":"go1.26.10","scan_level":"symbol"}}
{"osv":{"id":"GO-1","summary":"one"}}
{"osv":{"id":"GO-2","summary":"two"}}
{"finding":{"osv":"GO-1","trace":[{"module":"m/a","version":"v1.0.0"}]}}
{"finding":{"osv":"GO-1","trace":[{"module":"m/a","version":"v1.0.0","package":"m/a","function":"F"}]}}
{"finding":{"osv":"GO-2","fixed_version":"v1.2.0","trace":[{"module":"m/b","version":"v1.1.0","package":"m/b"}]}}
`

var day = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func judged(t *testing.T, stream, exceptions string) string {
	t.Helper()
	list, err := readExceptions(strings.NewReader(exceptions))
	if err != nil {
		t.Fatal(err)
	}
	s, err := readScan(strings.NewReader(stream))
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := judge(&out, s, list, day); err != nil {
		return out.String() + "FAULT " + err.Error()
	}
	return out.String()
}

func TestJudge(t *testing.T) {
	called := strings.Replace(stream, `"package":"m/b"}`, `"package":"m/b","function":"G"}`, 1)
	for name, c := range map[string]struct {
		stream, exceptions, says string
		passes                   bool
	}{
		"an exception":                     {stream, "GO-1 | m/a | 2026-11-25 | TestX | harmless", "excepted GO-1 in m/a v1.0.0 until 2026-11-25: harmless (TestX)", true},
		"what is not called is counted":    {stream, "GO-1 | m/a | 2026-11-25 | TestX | harmless", "1 more in modules", true},
		"what is called and not excepted":  {stream, "", "GO-1 in m/a v1.0.0, no version mends it: one", false},
		"where it is mended":               {called, "GO-1 | m/a | 2026-11-25 | TestX | harmless", "GO-2 in m/b v1.1.0, mended in v1.2.0: two", false},
		"an exception past its date":       {stream, "GO-1 | m/a | 2026-11-23 | TestX | harmless", "ended on 2026-11-23", false},
		"an exception for nothing":         {stream, "GO-1 | m/a | 2027-01-01 | TestX | x\nGO-2 | m/b | 2027-01-01 | TestX | x", "GO-2 is for nothing any more", false},
		"an exception of another's module": {stream, "GO-1 | m/c | 2027-01-01 | TestX | x", "is for m/c, found in m/a", false},
	} {
		got := judged(t, c.stream, c.exceptions)
		if !strings.Contains(got, c.says) || strings.Contains(got, "FAULT") == c.passes {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

// What is no scan never passes for one that found nothing.
func TestNoScanIsNoPass(t *testing.T) {
	for name, text := range map[string]string{"nothing": "", "an error of the tool": "govulncheck: fetching vulnerabilities", "modules alone": `{"config":{"scan_level":"module"}}`} {
		if _, err := readScan(strings.NewReader(text)); err == nil {
			t.Errorf("%s passes", name)
		}
	}
}

func TestFaultsOfTheListAreToldAtOnce(t *testing.T) {
	_, err := readExceptions(strings.NewReader("GO-1 | m | soon | TestX | why\nGO-2 | m\n# a remark\n"))
	if err == nil || !strings.Contains(err.Error(), `"soon" is no date`) || !strings.Contains(err.Error(), "line 2 is not") {
		t.Error(err)
	}
}

// Every exception is in force, for a module of the build, and held by a test that exists.
func TestExceptionsAreDated(t *testing.T) {
	file, err := os.Open("../vulnerabilities.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	list, err := readExceptions(file)
	if err != nil {
		t.Fatal(err)
	}
	modules, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		if e.Past(time.Now()) {
			t.Errorf("%s ended on %s: look at it again, and mend it or set another date", e.ID, e.Until.Format(time.DateOnly))
		}
		if e.Until.After(time.Now().AddDate(1, 0, 0)) {
			t.Errorf("%s is excepted for more than a year", e.ID)
		}
		if !strings.Contains(string(modules), "\t"+e.Module+" v") {
			t.Errorf("%s: %s is not in go.mod", e.ID, e.Module)
		}
		if !holds(t, e.HeldBy) {
			t.Errorf("%s: no test is named %s", e.ID, e.HeldBy)
		}
	}
}

// holds reports whether a test of the name stands in the packages of the service.
func holds(t *testing.T, name string) bool {
	t.Helper()
	for _, folder := range []string{"api", "db", "cmd/swarf"} {
		files, err := filepath.Glob(filepath.Join("../..", folder, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if text, err := os.ReadFile(file); err == nil && strings.Contains(string(text), "func "+name+"(t *testing.T)") {
				return true
			}
		}
	}
	return false
}

// The command exits with 1 where nothing was scanned.
func TestCommand(t *testing.T) {
	program := filepath.Join(t.TempDir(), "vulns")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%s", out)
	}
	if out, err := exec.CommandContext(t.Context(), program, "../vulnerabilities.txt").CombinedOutput(); err == nil || !strings.Contains(string(out), "nothing was scanned") {
		t.Errorf("%v %s", err, out)
	}
}
