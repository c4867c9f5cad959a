package main

import (
	"cmp"
	"fmt"
	"slices"
	"text/tabwriter"

	"swarf/db/data"
	"swarf/domain/catalog"
	"swarf/domain/smell"
)

// smells looks through the embedded data and the files it comes from. It prints a
// summary, or the whole list, and fails where something cannot be.
func (p *program) smells(d catalog.Data, list bool) error {
	results := smell.Run(d)
	places, err := data.Places()
	if err != nil {
		return err
	}
	rows, faults := data.CheckShapes()
	shapes := smell.Result{Check: smell.Check{Name: "shapes", What: "rows and column sums of each file, and its sources"}, Rows: rows}
	for _, fault := range faults {
		shapes.Findings = append(shapes.Findings, smell.Finding{Check: shapes.Name, Level: smell.Error, Text: fault})
	}
	return p.reportSmells("embedded data", append(results, shapes), places, list)
}

// storedSmells does the same with data of a database, which has no files.
func (p *program) storedSmells(d catalog.Data, list bool) error {
	return p.reportSmells("database", smell.Run(d), nil, list)
}

func (p *program) reportSmells(what string, results []smell.Result, places map[string]data.Place, list bool) error {
	rows, byLevel := smell.Count(results)
	if list {
		w := tabwriter.NewWriter(p.out, 0, 8, 2, ' ', 0)
		fmt.Fprintln(w, "check\trows\tfindings\tlooks whether")
		for _, r := range results {
			fmt.Fprintf(w, "%s\t%d\t%d\t%s\n", r.Name, r.Rows, len(r.Findings), r.What)
		}
		fmt.Fprintln(w)
		fmt.Fprintln(w, "level\tcheck\trow\tfinding")
		for _, f := range worstFirst(results) {
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", f.Level, f.Check, where(f, places), f.Text)
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	fmt.Fprintf(p.out, "checks of the %s: %d on %d rows; %d errors, %d warnings, %d notes\n", what, len(results), rows,
		byLevel[smell.Error], byLevel[smell.Warning], byLevel[smell.Note])
	if n := byLevel[smell.Error]; n > 0 {
		return fmt.Errorf("the %s: %d findings that cannot be; swarf check --data lists them", what, n)
	}
	return nil
}

// where is the file and line of a finding, or the kind and id of its row.
func where(f smell.Finding, places map[string]data.Place) string {
	row := f.Kind + " " + f.ID
	if place, known := places[row]; known {
		return place.String() + " " + f.ID
	}
	return cmp.Or(short(row, 80), "-")
}

// worstFirst is all findings, errors before warnings before notes.
func worstFirst(results []smell.Result) []smell.Finding {
	var all []smell.Finding
	for _, r := range results {
		all = append(all, r.Findings...)
	}
	slices.SortStableFunc(all, func(a, b smell.Finding) int { return int(b.Level) - int(a.Level) })
	return all
}
