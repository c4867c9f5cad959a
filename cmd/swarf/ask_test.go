package main

import (
	"bytes"
	"crypto/ed25519"
	"encoding/base64"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"swarf/domain/cut"
)

// The halves of a key for tests.
var (
	testKey   = base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{7}, ed25519.SeedSize))
	testTrust = base64.StdEncoding.EncodeToString(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{7}, ed25519.SeedSize)).Public().(ed25519.PublicKey))
)

// drillWords are the members of a drilling that runs without a finding that matters, and
// slotWords of a recommendation with warnings.
var (
	drillWords   = strings.Fields("-units metric -grade 1.4301 -condition annealed -operation drilling -class drill-indexable -cutting_diameter 30 -effective_edges 1 -hole_depth 60 -through false -cutting_speed 150 -feed_per_revolution 0.12")
	throughWords = slices.Concat(drillWords[:16], []string{"-through"}, drillWords[18:])
	slotWords    = strings.Fields("-units metric -grade EN-AW-6061 -operation slot-milling -class mill-end -cutting_diameter 12 -effective_edges 3 -axial_depth 6")
)

// routing is a plan of one cut.
const routing = `{"units":"metric","cuts":[{"ref":"op-10","material":{"grade":"1.4301","condition":"annealed"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":30,"effective_edges":1},"engagement":{"hole_depth":60,"through":false},"parameters":{"cutting_speed":150,"feed_per_revolution":0.12}}]}`

// with puts words behind others.
func with(words []string, more ...string) []string { return append(slices.Clone(words), more...) }

// Each way to ask, its answer and its code, from a server and from a snapshot: the same.
func TestAsk(t *testing.T) {
	s := startService(t)
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	if code, _, errs := swarf(t, []string{"SWARF_SNAPSHOT_KEY=" + testKey}, "snapshot", "export", "-out", file); code != 0 {
		t.Fatal(errs)
	}
	ways := map[string][]string{
		"server":   {"SWARF_SERVER=" + s.address},
		"snapshot": {"SWARF_SNAPSHOT=" + file, "SWARF_SNAPSHOT_TRUST=" + testTrust},
	}
	body := filepath.Join(t.TempDir(), "plan.json")
	if err := os.WriteFile(body, []byte(routing), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		args      []string
		code      int
		out, errs string // parts; out begins with "=" where it is the whole
	}{
		{"text", with(drillWords, "ask", "estimate"), 0, "parameters.spindle_speed=1591.55\n", ""},
		{"the close of a text", with(drillWords, "ask", "estimate"), 0, "\nstatus=ok\nlines=", ""},
		{"json", with(drillWords, "ask", "estimate", "-output", "json"), 0, `"spindle_speed":1591.55`, ""},
		{"a bare number", with(drillWords, "ask", "estimate", "-field", "spindle_speed"), 0, "=1591.55\n", ""},
		{"a bare number by its path", with(drillWords, "ask", "estimate", "-field", "parameters.feed_rate"), 0, "=190.986\n", ""},
		{"a word", with(drillWords, "ask", "estimate", "-field", "verdict"), 0, "=yes\n", ""},
		{"fields", with(drillWords, "ask", "estimate", "-fields", "parameters.spindle_speed"), 0, "parameters.spindle_speed=1591.55\n", ""},
		{"a field that stands twice", with(drillWords, "ask", "estimate", "-field", "cutting_power"), 2, "=#ERR usage", "stands in the answer more than once: say loads.cutting_power or"},
		{"a field that is not there", with(drillWords, "ask", "estimate", "-field", "colour"), 4, "=#ERR refused", "the answer has no colour"},
		{"warnings", with(throughWords, "ask", "estimate"), 3, "].code=exit-slug\n", ""},
		{"warnings beside a number", with(throughWords, "ask", "estimate", "-field", "spindle_speed"), 3, "=1591.55\n", "warning: exit-slug: "},
		{"a recommendation", with(slotWords, "ask", "recommend"), 3, "verdict=yes\n", ""},
		{"a member twice", with(drillWords, "ask", "estimate", "-hole_depth", "3"), 4, "code=wrong-type\n", "2 times"},
		{"an ambiguous grade", with(drillWords, "ask", "estimate"), 4, "code=material-ambiguous\n", "material-ambiguous"},
		{"an ambiguous grade as a number", with(drillWords, "ask", "estimate", "-field", "spindle_speed"), 4, "=#ERR material-ambiguous\n", "material-ambiguous"},
		{"an ambiguous grade as JSON", with(drillWords, "ask", "estimate", "-output", "json"), 4, `"code":"material-ambiguous"`, "stainless"},
		{"a plan", []string{"ask", "plan", "-request", body}, 0, "cuts[0].ref=op-10\n", ""},
		{"a list", []string{"ask", "read", "/v1/materials", "-q", "1.4301"}, 0, ".name=", ""},
		{"a list with its query", []string{"ask", "read", "/v1/tool-classes?limit=2", "-output", "json"}, 0, `"next_cursor":"`, ""},
		{"a page that is not there", []string{"ask", "read", "/v1/nothing"}, 4, "code=not-found\n", "not-found"},
		{"a correction", []string{"ask", "correct", "-units", "metric", "-feature", "external", "-sides_cut", "2", "-programmed", "50", "-measured", "50.04", "-register", "diameter", "-field", "correction.value"}, 0, "=-0.04\n", ""},
		{"a misspelt member", with(drillWords, "ask", "estimate", "-cuting_speed", "3"), 2, "=#ERR usage", "flag provided but not defined: -cuting_speed"},
		{"a form that is none", with(drillWords, "ask", "estimate", "-output", "xml"), 2, "=#ERR usage", "text, json, value"},
		{"a number without its name", with(drillWords, "ask", "estimate", "-output", "value"), 2, "", "go together"},
		{"a request and members", with(drillWords, "ask", "estimate", "-request", body), 2, "", "stands in the -request"},
		{"a plan without a request", []string{"ask", "plan"}, 2, "", "needs -request"},
		{"no route to read", []string{"ask", "read"}, 2, "", "say what to read"},
		{"no such question", []string{"ask", "guess"}, 2, "", `there is no question "guess"`},
	} {
		for way, environ := range ways {
			t.Run(c.name+" from a "+way, func(t *testing.T) {
				args := ordered(c.args, way == "snapshot", strings.Contains(c.name, "ambiguous"))
				code, out, errs := swarf(t, environ, args...)
				fits := strings.Contains(out, c.out)
				if whole, is := strings.CutPrefix(c.out, "="); is {
					fits = out == whole || !strings.HasSuffix(whole, "\n") && strings.HasPrefix(out, whole)
				}
				if code != c.code || !fits || !strings.Contains(errs, c.errs) {
					t.Errorf("%v: exit %d, want %d with %q and %q:\n%.600s\n%s", args, code, c.code, c.out, c.errs, out, errs)
				}
			})
		}
	}
}

// ordered puts the command in front of the members that a table has before it.
func ordered(args []string, offline, ambiguous bool) []string {
	at := slices.Index(args, "ask")
	words := append(slices.Clone(args[at:]), args[:at]...)
	if ambiguous {
		words[slices.Index(words, "1.4301")] = "stainless"
	}
	if offline {
		words = append(words, "-offline")
	}
	return words
}

// What goes out of a refused cut is no number, whatever was asked for.
func TestAskGivesNoNumberOfARefusedCut(t *testing.T) {
	s := startService(t)
	// A drill far larger than the demonstration machine carries: torque and power are passed.
	words := strings.Fields("ask recommend -units metric -grade 1.4301 -operation drilling -class drill-indexable -cutting_diameter 63 -effective_edges 1 -hole_depth 60 -through false -cutting_speed 250 -feed_per_revolution 0.3 -machine vmc-40")
	code, out, errs := swarf(t, []string{"SWARF_SERVER=" + s.address}, with(words, "-field", "spindle_speed")...)
	if code != exitRefused || !strings.HasPrefix(out, "#ERR ") || errs == "" {
		t.Errorf("exit %d: %q\n%s", code, out, errs)
	}
}

// The file is whole or not there, never that of last time, and ends as the exit code does.
func TestAskOut(t *testing.T) {
	s := startService(t)
	file := filepath.Join(t.TempDir(), "answer.txt")
	for _, c := range []struct {
		name    string
		environ []string
		args    []string
		code    int
		want    string
	}{
		{"an answer", []string{"SWARF_SERVER=" + s.address}, with(drillWords, "-field", "spindle_speed"), 0, "1591.55\n"},
		{"out of reach", []string{"SWARF_SERVER=http://127.0.0.1:1"}, with(drillWords, "-field", "spindle_speed"), 5, "#ERR unreachable\n"},
		{"out of reach as text", []string{"SWARF_SERVER=http://127.0.0.1:1"}, drillWords, 5, "code=unreachable\nstatus=error\nlines=3\n"},
		{"wrong usage", []string{"SWARF_SERVER=" + s.address}, with(drillWords, "-colour", "red"), 2, "#ERR usage"},
		{"no snapshot", nil, with(drillWords, "-offline"), 1, "#ERR failed"},
		{"no such snapshot", []string{"SWARF_SNAPSHOT_TRUST=" + testTrust}, with(drillWords, "-snapshot", "none"), 5, "#ERR unreachable"},
		{"a setting that is none", []string{"SWARF_LISTEN=nowhere"}, drillWords, 1, "#ERR failed SWARF_LISTEN"},
		{"an address that is none", []string{"SWARF_SERVER=swarf"}, drillWords, 1, "#ERR failed"},
	} {
		args := append([]string{"ask", "estimate", "-out", file}, c.args...)
		code, out, errs := swarf(t, c.environ, args...)
		text, err := os.ReadFile(file)
		if err != nil || code != c.code || out != "" || !strings.HasPrefix(string(text), c.want) || (errs == "") != (code == 0) {
			t.Errorf("%s: exit %d, want %d: %v %q, want %q\n%s%s", c.name, code, c.code, err, text, c.want, out, errs)
		}
	}
	if code, _, errs := swarf(t, []string{"SWARF_SERVER=" + s.address}, append([]string{"ask", "estimate", "-out", filepath.Join(file, "below")}, drillWords...)...); code != 1 || !strings.Contains(errs, "could not be written") {
		t.Errorf("exit %d: %s", code, errs)
	}
	if left, err := os.ReadDir(filepath.Dir(file)); err != nil || len(left) != 1 {
		t.Errorf("beside the file: %v %v", left, err)
	}
}

// A server that cannot answer now is as good as none; the key goes along.
func TestAskABusyServer(t *testing.T) {
	var key string
	busy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		key = r.Header.Get("Authorization")
		w.Header().Set("Retry-After", "3600")
		w.WriteHeader(http.StatusServiceUnavailable)
	}))
	defer busy.Close()
	code, out, _ := swarf(t, []string{"SWARF_SERVER=" + busy.URL, "SWARF_API_KEY=k1"}, with([]string{"ask", "estimate", "-field", "verdict"}, drillWords...)...)
	if code != exitUnreachable || out != "#ERR unreachable\n" || key != "Bearer k1" {
		t.Errorf("exit %d: %q, key %q", code, out, key)
	}
}

// The examples of the pages work as they stand there.
func TestAskExamples(t *testing.T) {
	s := startService(t)
	t.Chdir(t.TempDir())
	if err := os.WriteFile("routing.json", []byte(routing), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, q := range questions {
		_, page, _ := swarf(t, nil, "ask", q.name, "-h")
		_, example, found := strings.Cut(page, "\nFor example\n\n  swarf ")
		if !found {
			t.Errorf("the page of %s has no example", q.name)
			continue
		}
		example, _, _ = strings.Cut(example, "\n\n")
		code, out, errs := swarf(t, []string{"SWARF_SERVER=" + s.address}, strings.Fields(strings.ReplaceAll(example, "\\\n", " "))...)
		if code != exitFine && code != exitWarnings || strings.Contains(out, "#ERR") || out == "" && !strings.Contains(example, "-out ") {
			t.Errorf("%s\nexit %d: %.500s\n%s", example, code, out, errs)
		}
	}
}

// The pages name every member, every flag and every code.
func TestAskPages(t *testing.T) {
	_, all, _ := swarf(t, nil, "ask", "-h")
	for _, c := range exitCodes {
		if !strings.Contains(strings.Join(strings.Fields(all), " "), c.what) {
			t.Errorf("the page lacks code %d", c.code)
		}
	}
	for _, q := range questions {
		if !strings.Contains(all, "  "+q.name+" ") {
			t.Errorf("the page lacks %s", q.name)
		}
		code, page, errs := swarf(t, nil, "ask", q.name, "-h")
		if code != 0 || !strings.Contains(page, "swarf ask "+q.name+": ") {
			t.Errorf("%s: exit %d\n%s%s", q.name, code, page, errs)
		}
		for _, f := range flatMembers(q.shape) {
			if !strings.Contains(page, "\n  -"+f.Name+" ") {
				t.Errorf("the page of %s lacks %s", q.name, f.Name)
			}
		}
		for _, f := range own {
			if !strings.Contains(page, "\n  -"+f.name) {
				t.Errorf("the page of %s lacks -%s", q.name, f.name)
			}
		}
		for line := range strings.Lines(page) {
			if len(line) > 101 {
				t.Errorf("%s: a line of %d columns: %s", q.name, len(line), line)
			}
		}
	}
	_, page, _ := swarf(t, nil, "ask", "recommend", "-h")
	for _, operation := range cut.Names() {
		if !strings.Contains(page, operation) {
			t.Errorf("the page lacks the operation %s", operation)
		}
	}
}

// The code speaks of the verdicts on cuts, and of nothing else that is called so.
func TestCodeOfLines(t *testing.T) {
	for _, c := range []struct {
		lines lines
		code  int
	}{
		{lines{{"verdict", "yes"}, {"findings[0].severity", "note"}}, exitFine},
		{lines{{"verdict", "yes"}, {"findings[0].severity", "note"}, {"findings[1].severity", "warning"}}, exitWarnings},
		{lines{{"verdict", "conditional"}}, exitWarnings},
		{lines{{"verdict", "yes"}, {"motion.spot.verdict", "no"}, {"results[0].ways[0].verdict", "conditional"}}, exitFine},
		{lines{{"results[0].verdict", "yes"}, {"results[1].verdict", "no"}}, exitRefused},
		{lines{{"verdict", "yes"}, {"cuts[3].answer.verdict", "no"}}, exitRefused},
		{lines{{"verdict", "no"}, {"findings[0].severity", "warning"}}, exitRefused},
		{lines{{"findings[0].severity", "refusal"}}, exitRefused},
		{lines{{"findings[0].severity", "hold"}}, exitWarnings},
		{nil, exitFine},
	} {
		if got := codeOfLines(c.lines); got != c.code {
			t.Errorf("%v: %d, want %d", c.lines, got, c.code)
		}
	}
}
