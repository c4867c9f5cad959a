package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"swarf/testdata/reference"
	"swarf/testdata/reference/calculation"
)

// held is one printed output and what came of holding our number against it.
type held struct {
	c       *reference.Check
	o       *reference.Output
	ours    float64
	verdict string
	bad     bool
}

// holdAll computes every printed result on file that a function of ours answers for.
func holdAll(files []reference.File) []held {
	var all []held
	for f := range files {
		for i := range files[f].Checks {
			c := &files[f].Checks[i]
			for j := range c.Outputs {
				if o := &c.Outputs[j]; o.By != "" {
					all = append(all, holdOne(c, o))
				}
			}
		}
	}
	return all
}

func holdOne(c *reference.Check, o *reference.Output) held {
	ours, err := calculation.Hold(c, o)
	h := held{c: c, o: o, ours: ours}
	switch {
	case err != nil:
		h.verdict, h.bad = "NO: "+err.Error(), true
	case o.Printed == "":
		h.verdict = "none printed"
	case c.UseOf(o) == reference.Negative:
		h.verdict = "a printed mistake, not repeated"
	case c.UseOf(o) == reference.Corrected:
		h.verdict = "the print is off: " + cmp.Or(o.Note, c.Note, c.Evidence)
	default:
		h.verdict = "yes"
	}
	return h
}

// counts are how many checks a list makes: one for each printed output, and one for all
// rows of a standard's table.
type counts struct {
	byStanding map[reference.Standing]int
	rows       int // published results that are rows of a handbook's tables
	off        int // published results that print has wrong, or by another convention
	disagree   int
}

func counted(all []held) counts {
	n := counts{byStanding: make(map[reference.Standing]int)}
	tables := make(map[string]bool)
	for _, h := range all {
		if h.bad {
			n.disagree++
		}
		if h.o.Printed == "" && h.c.Standing == reference.Published {
			continue // nothing was printed to agree with
		}
		if name := string(h.c.Standing) + h.c.Standard; h.c.Standard != "" {
			if tables[name] {
				continue
			}
			tables[name] = true
		} else if h.c.UseOf(h.o) == reference.Table && h.c.Standing == reference.Published {
			n.rows++
		}
		if use := h.c.UseOf(h.o); h.c.Standing == reference.Published && (use == reference.Corrected || use == reference.Negative) {
			n.off++
		}
		n.byStanding[h.c.Standing]++
	}
	return n
}

// printTable writes what was held as a table that a planner can read.
func printTable(out io.Writer, all []held) error {
	w := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(w, "case\twhat\tsource\tprinted\tours\tunit\tagrees\tconvention")
	for _, h := range all {
		source := cmp.Or(h.c.Source, string(h.c.Standing))
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%.6g\t%s\t%s\t%s\n", h.c.ID, short(h.c.Title+": "+h.o.Name, 56), short(source, 48),
			cmp.Or(h.o.Printed, "-"), h.ours, h.o.Unit, short(h.verdict, 60), short(h.c.Convention, 60))
	}
	return w.Flush()
}

// short cuts a text at a length, on one line.
func short(text string, most int) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most-3]) + "..."
	}
	return text
}

// checks holds our functions against print: a summary, or the whole table, and an error
// where one disagrees.
func (p *program) checks(whole bool) error {
	files, err := reference.Load()
	if err != nil {
		return fmt.Errorf("the printed results: %w", err)
	}
	return p.reportChecks(holdAll(files), whole)
}

func (p *program) reportChecks(all []held, whole bool) error {
	if whole {
		if err := printTable(p.out, all); err != nil {
			return err
		}
	}
	n := counted(all)
	var parts []string
	for _, s := range slices.Sorted(maps.Keys(n.byStanding)) {
		part := fmt.Sprintf("%d %s", n.byStanding[s], s)
		if s == reference.Published {
			part += fmt.Sprintf(" (%d of them rows of a handbook's tables, %d differ for a reason told; a standard's table counts once)", n.rows, n.off)
		}
		parts = append(parts, part)
	}
	fmt.Fprintf(p.out, "printed results: %s; %d disagree\n", strings.Join(parts, ", "), n.disagree)
	if n.disagree > 0 {
		return fmt.Errorf("%d results of ours disagree with print", n.disagree)
	}
	return nil
}
