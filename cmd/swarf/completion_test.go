package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestWordsAfter(t *testing.T) {
	for _, c := range []struct {
		said string // what is typed, to the end of the last word or the blank behind it
		want []string
	}{
		{"a", []string{"ask"}},
		{"", []string{"ask", "serve", "snapshot", "load", "completion"}},
		{"ask ", []string{"recommend", "estimate", "read"}},
		{"ask est", []string{"estimate"}},
		{"ask estimate -cutting_d", []string{"-cutting_diameter"}},
		{"ask estimate -out", []string{"-out", "-output"}},
		{"ask estimate -units ", []string{"inch", "metric"}},
		{"ask estimate -operation th", []string{"thread-forming", "thread-milling", "thread-turning"}},
		{"ask estimate -class drill-i", []string{"drill-indexable"}},
		{"ask estimate -output j", []string{"json"}},
		{"ask estimate -through -hol", []string{"-hole_depth", "-hole_diameter"}},
		{"ask estimate -cutting_diameter ", nil},
		{"ask read /v1/m", []string{"/v1/machines", "/v1/materials"}},
		{"ask guess ", nil},
		{"snapshot v", []string{"verify"}},
		{"completion ", []string{"bash", "fish", "zsh"}},
	} {
		got := wordsAfter(strings.Split(c.said, " "))
		for _, word := range c.want {
			if !slices.Contains(got, word) {
				t.Errorf("%q lacks %q: %v", c.said, word, got)
			}
		}
		last := c.said[strings.LastIndexByte(c.said, ' ')+1:]
		if c.want == nil && len(got) > 0 || slices.ContainsFunc(got, func(word string) bool { return !strings.HasPrefix(word, last) }) {
			t.Errorf("%q: %v, want %v", c.said, got, c.want)
		}
	}
	if !slices.Equal(outputs, []string{"text", "json", "value"}) {
		t.Errorf("completion changed what it read: %v", outputs)
	}
}

// The script for bash works in bash, which deploy/check needs anyway.
func TestCompletionInBash(t *testing.T) {
	shell, err := exec.LookPath("bash")
	if err != nil {
		t.Fatal("needs bash: install it (Debian, Ubuntu: apt-get install bash)")
	}
	folder := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", filepath.Join(folder, "swarf"), ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	ask := exec.Command(shell, "--norc", "-c", `source <(swarf completion bash)
COMP_WORDS=(swarf ask estimate -operation thread-t); COMP_CWORD=4; _swarf; echo "${COMPREPLY[*]}"
COMP_WORDS=(swarf ask recommend -units ""); COMP_CWORD=4; _swarf; echo "${COMPREPLY[*]}"
complete -p swarf`)
	ask.Env = append(os.Environ(), "PATH="+folder+string(os.PathListSeparator)+os.Getenv("PATH"))
	out, err := ask.CombinedOutput()
	if want := "thread-turning\ninch metric\ncomplete -o default -F _swarf swarf\n"; err != nil || string(out) != want {
		t.Errorf("%v\n%s\nwant\n%s", err, out, want)
	}
}

func TestCompletionScripts(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		code, out, errs := swarf(t, nil, "completion", shell)
		if code != 0 || !strings.Contains(out, "completion words") {
			t.Errorf("%s: exit %d: %s%s", shell, code, out, errs)
		}
	}
	if code, _, errs := swarf(t, nil, "completion", "dos"); code != 2 || !strings.Contains(errs, `"dos" is not expected`) {
		t.Errorf("exit %d: %s", code, errs)
	}
	if code, _, errs := swarf(t, nil, "completion"); code != 2 || !strings.Contains(errs, "say bash, zsh or fish") {
		t.Errorf("exit %d: %s", code, errs)
	}
}
