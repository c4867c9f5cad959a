package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// event is one line of `go test -json` (go doc test2json).
type event struct {
	Action      string
	Package     string
	ImportPath  string // of build events
	Test        string
	Output      string
	Elapsed     float64
	FailedBuild string
}

// tally is what a run came to. A package that failed although none of its tests
// did (it did not build, or crashed) counts as one failure.
type tally struct {
	passed, failed, skipped int
	skippedNames            []string
	output                  map[string][]string // by package and test, until it passes
	failedIn                map[string]int
	figures                 bool // what tests that passed said is printed as well
}

// read counts the events and writes the output of failures as they come. Lines
// that are no events (the go command's own complaints) are written through and
// counted as one failure, since no test would tell of them.
func read(in io.Reader, out io.Writer, figures bool) (*tally, error) {
	t := &tally{output: map[string][]string{}, failedIn: map[string]int{}, figures: figures}
	lines := bufio.NewScanner(in)
	lines.Buffer(make([]byte, 1<<16), 1<<26)
	strays := 0
	for lines.Scan() {
		var e event
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			fmt.Fprintln(out, lines.Text())
			if !strings.HasPrefix(lines.Text(), "go: downloading ") {
				strays++
			}
			continue
		}
		t.add(e, out)
	}
	if strays > 0 {
		t.failed++
	}
	return t, lines.Err()
}

func (t *tally) add(e event, out io.Writer) {
	key := e.Package + " " + e.Test
	switch e.Action {
	case "output":
		if !strings.HasPrefix(e.Output, "=== ") { // that a test began is no news
			t.output[key] = append(t.output[key], e.Output)
		}
	case "build-output":
		fmt.Fprint(out, e.Output)
	case "pass":
		if t.figures && e.Test != "" {
			fmt.Fprint(out, strings.Join(t.output[key], ""))
		}
		t.end(e, out, &t.passed)
	case "skip":
		if e.Test != "" {
			t.skippedNames = append(t.skippedNames, key)
		}
		t.end(e, out, &t.skipped)
	case "fail":
		fmt.Fprint(out, strings.Join(t.output[key], ""))
		if e.Test != "" {
			t.failedIn[e.Package]++
		} else if t.failedIn[e.Package] == 0 {
			t.failed++
		}
		t.end(e, out, &t.failed)
	}
}

// end closes a test, or a package with its one line.
func (t *tally) end(e event, out io.Writer, count *int) {
	delete(t.output, e.Package+" "+e.Test)
	if e.Test != "" {
		*count++
		return
	}
	what := e.Action
	if what == "skip" {
		what = "none" // the package has no tests
	}
	fmt.Fprintf(out, "        %-4s %s (%.1f s)\n", what, e.Package, e.Elapsed)
}

// report writes the closing lines and says whether the run may count as passed.
func (t *tally) report(out io.Writer) bool {
	for _, name := range t.skippedNames {
		fmt.Fprintln(out, "        skipped:", name)
	}
	if t.passed+t.failed == 0 {
		fmt.Fprintln(out, "        no test ran")
	}
	fmt.Fprintf(out, "%d passed, %d failed, %d skipped\n", t.passed, t.failed, t.skipped)
	return t.passed > 0 && t.failed == 0 && t.skipped == 0
}
