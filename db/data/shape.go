package data

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
)

// Shape is what a file must add up to, so that a slipped digit or a lost row shows.
type Shape struct {
	File string
	Rows int
	Sums []Sum
}

// Sum is the sum of a column of numbers, to the digits given.
type Sum struct {
	Column string
	Value  float64
	Within float64 // half of the last digit given
}

// CheckShapes holds the embedded files against what they must add up to. It returns
// how many rows it added up, and each fault with its file.
func CheckShapes() (int, []string) { return checkShapes(files, shapes) }

func checkShapes(files fs.FS, shapes []Shape) (rows int, faults []string) {
	names, err := fileNames(files)
	if err != nil {
		return 0, []string{err.Error()}
	}
	for _, name := range names {
		if !slices.ContainsFunc(shapes, func(s Shape) bool { return s.File == name }) {
			faults = append(faults, name+": no shape is on file: say in shapes.go what it adds up to")
		}
	}
	known, err := sourceNames(files)
	if err != nil {
		faults = append(faults, err.Error())
	}
	for _, want := range shapes {
		t, err := anyTable(files, want.File)
		if err != nil {
			faults = append(faults, want.File+": "+err.Error())
			continue
		}
		rows += len(t.Rows)
		if len(t.Rows) != want.Rows {
			faults = append(faults, fmt.Sprintf("%s: %d rows, want %d", want.File, len(t.Rows), want.Rows))
		}
		faults = append(faults, unsourced(t, known)...)
		for _, sum := range want.Sums {
			total := 0.0
			for _, r := range t.Rows {
				total += r.Opt(sum.Column).V
			}
			if !(math.Abs(total-sum.Value) <= sum.Within+1e-9) {
				faults = append(faults, fmt.Sprintf("%s: column %s adds up to %.10g, want %v", want.File, sum.Column, total, sum.Value))
			}
		}
		if err := t.Err(); err != nil {
			faults = append(faults, strings.Split(err.Error(), "\n")...)
		}
	}
	return rows, faults
}

// sourceNames are the ids of the sources on file.
func sourceNames(files fs.FS) (map[string]bool, error) {
	t, err := anyTable(files, "sources.csv")
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, r := range t.Rows {
		known[r.Text("id")] = true
	}
	return known, nil
}

// unsourced lists the rows whose source is not on file. A file without a column for
// it in a folder of sources has the name of its source.
func unsourced(t *Table, known map[string]bool) []string {
	var faults []string
	if _, has := t.columns["source"]; !has {
		own := strings.TrimSuffix(path.Base(t.Name), ".csv")
		if path.Dir(t.Name) == "force" && !known[own] {
			faults = append(faults, fmt.Sprintf("%s: no source %q", t.Name, own))
		}
		return faults
	}
	for _, r := range t.Rows {
		if source := r.Text("source"); !known[source] {
			faults = append(faults, fmt.Sprintf("%s:%d: no source %q", t.Name, r.Line, source))
		}
	}
	return faults
}

// shape reads "column 17780; column 12.95": the digits given are those that must agree.
func shape(file string, rows int, sums string) Shape {
	s := Shape{File: file, Rows: rows}
	for _, text := range strings.Split(sums, ";") {
		column, number, _ := strings.Cut(strings.TrimSpace(text), " ")
		if column == "" {
			continue
		}
		sum := Sum{Column: column, Within: 0.5}
		if _, err := fmt.Sscan(number, &sum.Value); err != nil {
			panic(file + ": " + text)
		}
		if _, decimals, dot := strings.Cut(number, "."); dot {
			sum.Within = 0.5 * math.Pow(10, -float64(len(decimals)))
		}
		s.Sums = append(s.Sums, sum)
	}
	return s
}
