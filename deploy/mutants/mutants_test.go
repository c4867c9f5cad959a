package main

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const top = "../.."

// Each mutant stands where it was planted, is another program that can be read, and names a
// test that there is. Whether the test fails, deploy/check mutants finds out.
func TestMutantsCanBePlanted(t *testing.T) {
	list := all()
	if len(list) < 30 {
		t.Errorf("%d mutants are too few", len(list))
	}
	names := map[string]bool{}
	for _, m := range list {
		if names[m.name] {
			t.Errorf("two are called %q", m.name)
		}
		names[m.name] = true
		for _, place := range m.places() {
			text, err := place.apply(top)
			if err == nil && strings.HasSuffix(place.file, ".go") {
				_, err = parser.ParseFile(token.NewFileSet(), place.file, text, 0)
			}
			if err != nil {
				t.Errorf("%s: %v", m.name, err)
			}
		}
		if !declared(t, m.of, m.test) {
			t.Errorf("%s: %s has no test %s", m.name, m.of, m.test)
		}
	}
}

// declared reports a test of a package.
func declared(t *testing.T, of, test string) bool {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(top, of, "*_test.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s has no tests (%v)", of, err)
	}
	line := regexp.MustCompile(`(?m)^func ` + test + `\(`)
	for _, file := range files {
		if text, err := os.ReadFile(file); err != nil || line.Match(text) {
			return err == nil
		}
	}
	return false
}

// A fault is caught by a test that fails; by one that passes, or by a program that cannot be
// built, it is not.
func TestReadingOfRuns(t *testing.T) {
	pass := `{"Action":"pass","Test":"TestA"}` + "\n" + `{"Action":"pass","Test":"TestA/one"}` + "\n" + `{"Action":"pass"}`
	if out := read([]byte(pass)); out.passed != 1 || len(out.failed) > 0 || out.unbuilt {
		t.Errorf("%+v", out)
	}
	fail := `{"Action":"fail","Test":"TestA/one"}` + "\n" + `{"Action":"fail","Test":"TestA"}` + "\n" + `{"Action":"fail"}`
	if out := read([]byte(fail)); out.passed != 0 || len(out.failed) != 1 || out.failed[0] != "TestA" || out.unbuilt {
		t.Errorf("%+v", out)
	}
	if out := read([]byte(`{"Action":"build-fail"}` + "\n" + `{"Action":"fail"}`)); !out.unbuilt || len(out.failed) > 0 {
		t.Errorf("%+v", out)
	}
}
