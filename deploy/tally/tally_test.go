package main

import (
	"strings"
	"testing"
)

func TestTally(t *testing.T) {
	const (
		run  = `{"Action":"run","Package":"p","Test":"TestA"}`
		say  = `{"Action":"output","Package":"p","Test":"TestA","Output":"a.go:1: wrong\n"}`
		pass = `{"Action":"pass","Package":"p","Test":"TestA"}`
		fail = `{"Action":"fail","Package":"p","Test":"TestA"}`
		skip = `{"Action":"skip","Package":"p","Test":"TestA"}`
		ok   = `{"Action":"pass","Package":"p","Elapsed":0.5}`
		bad  = `{"Action":"fail","Package":"p","Elapsed":0.5}`
		none = `{"Action":"skip","Package":"q"}`
	)
	for _, c := range []struct {
		name  string
		lines []string
		ok    bool
		want  string // in the output
	}{
		{"passes", []string{run, say, pass, ok}, true, "1 passed, 0 failed, 0 skipped\n"},
		{"a package without tests is no skip", []string{run, pass, ok, none}, true, "1 passed, 0 failed, 0 skipped\n"},
		{"a failure fails and shows its output", []string{run, say, fail, bad}, false, "a.go:1: wrong\n"},
		{"a failure counts once", []string{run, say, fail, bad}, false, "0 passed, 1 failed, 0 skipped\n"},
		{"a skip fails and is named", []string{run, skip, ok}, false, "skipped: p TestA\n"},
		{"a package without tests is named", []string{run, pass, ok, none}, true, "none q (0.0 s)\n"},
		{"nothing ran", []string{none}, false, "no test ran\n"},
		{"no input", nil, false, "0 passed, 0 failed, 0 skipped\n"},
		{"a package that did not build fails", []string{run, pass, ok,
			`{"Action":"build-output","ImportPath":"q","Output":"q.go:1: undefined: x\n"}`,
			`{"Action":"fail","Package":"q","FailedBuild":"q"}`}, false, "1 passed, 1 failed, 0 skipped\n"},
		{"the go command's complaint fails", []string{run, pass, ok, "go: go.mod: no such file"}, false, "1 passed, 1 failed, 0 skipped\n"},
		{"a download is no complaint", []string{"go: downloading m v1.0.0", run, pass, ok}, true, "1 passed, 0 failed, 0 skipped\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out strings.Builder
			got, err := read(strings.NewReader(strings.Join(c.lines, "\n")), &out, false)
			if err != nil {
				t.Fatal(err)
			}
			if ok := got.report(&out); ok != c.ok {
				t.Errorf("ok is %v, want %v", ok, c.ok)
			}
			if !strings.Contains(out.String(), c.want) {
				t.Errorf("output has no %q:\n%s", c.want, out.String())
			}
		})
	}
}

// What a test that passed said is printed only by asking.
func TestFigures(t *testing.T) {
	const lines = `{"Action":"output","Package":"p","Test":"TestA","Output":"a.go:1: 7 requests\n"}
{"Action":"pass","Package":"p","Test":"TestA"}`
	for _, asked := range []bool{false, true} {
		var out strings.Builder
		if _, err := read(strings.NewReader(lines), &out, asked); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(out.String(), "7 requests"); got != asked {
			t.Errorf("asked %v, printed %v", asked, got)
		}
	}
}
