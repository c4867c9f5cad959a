package main

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"swarf/testdata/reference"
)

// files are the printed results that ship.
func files(t *testing.T) []reference.File {
	t.Helper()
	list, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// The summary counts what the table lists: one check for each printed output, one for each
// table of a standard; and there are at least 180 from print.
func TestChecksAreCountedAsListed(t *testing.T) {
	want, outputs, standards := map[reference.Standing]int{}, 0, map[string]bool{}
	for _, f := range files(t) {
		for i := range f.Checks {
			c := &f.Checks[i]
			for j := range c.Outputs {
				o := &c.Outputs[j]
				if o.By == "" {
					continue
				}
				outputs++
				table := string(c.Standing) + c.Standard
				if o.Printed == "" && c.Standing == reference.Published || c.Standard != "" && standards[table] {
					continue
				}
				standards[table] = c.Standard != ""
				want[c.Standing]++
			}
		}
	}
	code, out, errs := swarf(t, nil, "check", "-table")
	if code != 0 {
		t.Fatalf("exit %d\n%s", code, errs)
	}
	for standing, n := range want {
		if !strings.Contains(out, strconv.Itoa(n)+" "+string(standing)) {
			t.Errorf("not %d %s:\n%s", n, standing, regexp.MustCompile(`printed results:.*`).FindString(out))
		}
	}
	if want[reference.Published] < 180 {
		t.Errorf("only %d checks against print", want[reference.Published])
	}
	// The floor holds without the rows of handbooks' tables and without what differs for a reason told.
	if n := counted(holdAll(files(t))); n.byStanding[reference.Published]-n.rows-n.off < 200 {
		t.Errorf("only %d printed results agree that are no rows of tables", n.byStanding[reference.Published]-n.rows-n.off)
	}
	rows := 0
	for line := range strings.SplitSeq(out, "\n") {
		if regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*-[A-Za-z0-9-]+  +\S`).MatchString(line) {
			rows++
		}
	}
	if rows != outputs {
		t.Errorf("the table has %d rows for %d outputs", rows, outputs)
	}
	for _, heading := range []string{"case", "source", "printed", "ours", "agrees", "convention"} {
		if !strings.Contains(out, heading) {
			t.Errorf("no column %s", heading)
		}
	}
}

// A function that went wrong is told with its row, and the command fails.
func TestABrokenCheckIsTold(t *testing.T) {
	list := files(t)
	for f := range list {
		for i := range list[f].Checks {
			for j := range list[f].Checks[i].Outputs {
				c, o := &list[f].Checks[i], &list[f].Checks[i].Outputs[j]
				if o.By == "" || o.Printed == "" || c.Standing != reference.Published || c.UseOf(o) != reference.Golden {
					continue
				}
				wrong := *o.Recomputed * 1.01
				o.Recomputed = &wrong
				var out strings.Builder
				p := &program{out: &out}
				if err := p.reportChecks(holdAll(list), true); err == nil || !strings.Contains(err.Error(), "1 results") {
					t.Fatalf("%v", err)
				}
				if !regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(c.ID) + ` .*NO: `).MatchString(out.String()) {
					t.Errorf("the row of %s does not say NO", c.ID)
				}
				return
			}
		}
	}
	t.Fatal("nothing to break")
}

// The help names what the command can do.
func TestCheckHelp(t *testing.T) {
	code, out, errs := swarf(t, nil, "check", "-h")
	if said := out + errs; code != 0 || !strings.Contains(said, "-table") || !strings.Contains(said, "-data") {
		t.Errorf("exit %d:\n%s%s", code, out, errs)
	}
}
