package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
)

// outcome is what a run of tests came to.
type outcome struct {
	failed  []string // tests, the outermost
	passed  int
	unbuilt bool // nothing was tested: it does not compile
	text    string
}

// tested runs tests of a package, with a fault or without: overlay is empty then. Binaries
// that the tests build have the fault in them as well.
func tested(top, overlay, of, pattern string) (outcome, error) {
	args := []string{"test", "-json", "-count=1", "-timeout=8m"}
	if pattern != "" {
		args = append(args, "-run", pattern)
	}
	command := exec.Command("go", append(args, "./"+of)...)
	command.Dir, command.Env = top, append(os.Environ(), "CI=true")
	if overlay != "" {
		command.Env = append(command.Env, "GOFLAGS=-overlay="+overlay)
	}
	text, err := command.CombinedOutput()
	if _, exit := err.(*exec.ExitError); err != nil && !exit {
		return outcome{}, err
	}
	out := read(text)
	if err != nil && len(out.failed) == 0 && !out.unbuilt {
		out.unbuilt = true // neither failed a test nor passed: it ended before or beside them
	}
	return out, nil
}

// read reads what go test -json writes.
func read(text []byte) outcome {
	out := outcome{}
	var said strings.Builder
	lines := bufio.NewScanner(bytes.NewReader(text))
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		var e struct{ Action, Test, Output string }
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			said.WriteString(lines.Text() + "\n")
			continue
		}
		said.WriteString(e.Output)
		name, inner, _ := strings.Cut(e.Test, "/")
		switch {
		case e.Action == "build-fail":
			out.unbuilt = true
		case name == "" || inner != "":
		case e.Action == "fail":
			out.failed = append(out.failed, name)
		case e.Action == "pass":
			out.passed++
		}
	}
	out.text = said.String()
	return out
}

// kill plants a fault and says whether its test failed because of it.
func (m *mutant) kill(top string) error {
	dir, err := os.MkdirTemp("", "swarf-mutant-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	overlay, err := m.overlay(top, dir)
	if err != nil {
		return err
	}
	out, err := tested(top, overlay, m.of, "^"+m.test+"$")
	switch {
	case err != nil:
		return err
	case out.unbuilt:
		return fmt.Errorf("it was not tested:\n%.2000s", out.text)
	case !slices.Contains(out.failed, m.test):
		return fmt.Errorf("it survives: %s in %s passes", m.test, m.of)
	}
	return nil
}

// sound reports that the tests of a list pass without any fault.
func sound(top string, list []mutant) error {
	tests := map[string][]string{}
	for _, m := range list {
		if !slices.Contains(tests[m.of], m.test) {
			tests[m.of] = append(tests[m.of], m.test)
		}
	}
	for of, names := range tests {
		out, err := tested(top, "", of, "^("+strings.Join(names, "|")+")$")
		if err != nil {
			return err
		}
		if out.unbuilt || len(out.failed) > 0 || out.passed != len(names) {
			return fmt.Errorf("without a fault, of %v in %s %d pass:\n%.2000s", names, of, out.passed, out.text)
		}
	}
	return nil
}
