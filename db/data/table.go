package data

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"swarf/domain"
	"swarf/domain/unit"
)

// Table is one embedded CSV file, read strictly: comment lines at the top are the
// citation, then one header line, then rows that all have the header's columns.
// Faults are collected, each with file, line and column; Err returns them all.
type Table struct {
	Name     string
	Citation []string // the comment lines, without their mark
	Rows     []*Row
	columns  map[string]int
	seen     map[string]map[string]int // column -> value -> line
	faults   []error
}

// Row is one line of a table.
type Row struct {
	Line  int
	table *Table
	cells []string
}

// ReadTable reads a file whose header must hold exactly these columns, in any
// order. Column names carry the unit of their numbers. What cannot be read at all
// is returned at once; faults of cells wait for Err.
func ReadTable(files fs.FS, name string, columns ...string) (*Table, error) {
	file, err := files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	defer file.Close()
	t := &Table{Name: name, columns: map[string]int{}, seen: map[string]map[string]int{}}
	in := bufio.NewReader(file)
	for {
		mark, err := in.Peek(1)
		if err != nil || mark[0] != '#' {
			break
		}
		line, err := in.ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		t.Citation = append(t.Citation, strings.TrimSpace(strings.TrimPrefix(line, "#")))
	}
	if err := t.read(csv.NewReader(in), columns); err != nil {
		return nil, err
	}
	return t, nil
}

// read takes the header and the rows.
func (t *Table) read(reader *csv.Reader, columns []string) error {
	header, err := reader.Read()
	if err != nil {
		return fmt.Errorf("%s line %d: header: %w", t.Name, len(t.Citation)+1, err)
	}
	var faults []error
	for i, column := range header {
		if _, twice := t.columns[column]; twice {
			faults = append(faults, fmt.Errorf("%s line %d column %s: stands twice", t.Name, len(t.Citation)+1, column))
		}
		if !slices.Contains(columns, column) {
			faults = append(faults, fmt.Errorf("%s line %d column %s: unknown column", t.Name, len(t.Citation)+1, column))
		}
		t.columns[column] = i
	}
	for _, column := range columns {
		if _, there := t.columns[column]; !there {
			faults = append(faults, fmt.Errorf("%s line %d column %s: missing column", t.Name, len(t.Citation)+1, column))
		}
	}
	if len(faults) > 0 {
		return errors.Join(faults...)
	}
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s, after %d comment lines: %w", t.Name, len(t.Citation), err)
		}
		line, _ := reader.FieldPos(0)
		t.Rows = append(t.Rows, &Row{Line: len(t.Citation) + line, table: t, cells: cells})
	}
}

// Err returns every fault found so far, or nil.
func (t *Table) Err() error { return errors.Join(t.faults...) }

// Fail records a fault of a cell.
func (r *Row) Fail(column, format string, args ...any) {
	r.table.faults = append(r.table.faults, fmt.Errorf("%s line %d column %s: %s",
		r.table.Name, r.Line, column, fmt.Sprintf(format, args...)))
}

// Text returns a cell, which may be empty.
func (r *Row) Text(column string) string {
	i, there := r.table.columns[column]
	if !there {
		r.Fail(column, "not among the columns asked for")
		return ""
	}
	text := r.cells[i]
	if text != strings.TrimSpace(text) {
		r.Fail(column, "%q has blanks at its ends", text)
	}
	return text
}

// Need returns a cell that must not be empty.
func (r *Row) Need(column string) string {
	text := r.Text(column)
	if text == "" {
		r.Fail(column, "empty")
	}
	return text
}

// Unique returns a cell that must not be empty nor stand in an earlier row.
func (r *Row) Unique(column string) string {
	text := r.Need(column)
	seen := r.table.seen[column]
	if seen == nil {
		seen = map[string]int{}
		r.table.seen[column] = seen
	}
	if line, twice := seen[text]; twice {
		r.Fail(column, "%q stands already on line %d", text, line)
	} else {
		seen[text] = r.Line
	}
	return text
}

// Date returns a cell that must be a day, such as 2026-11-25.
func (r *Row) Date(column string) string {
	text := r.Need(column)
	if _, err := time.Parse(time.DateOnly, text); err != nil && text != "" {
		r.Fail(column, "%q is no day", text)
	}
	return text
}

// OneOf returns a cell that must be one of the values.
func (r *Row) OneOf(column string, values ...string) string {
	text := r.Text(column)
	if !slices.Contains(values, text) {
		r.Fail(column, "%q is none of %s", text, strings.Join(values, ", "))
	}
	return text
}

// List returns the entries of a cell separated by semicolons; none for an empty cell.
func (r *Row) List(column string) []string {
	text := r.Text(column)
	if text == "" {
		return nil
	}
	entries := strings.Split(text, ";")
	for i, entry := range entries {
		entries[i] = strings.TrimSpace(entry)
		if entries[i] == "" {
			r.Fail(column, "%q has an empty entry", text)
		}
	}
	return entries
}

// Opt returns a number, absent for an empty cell.
func (r *Row) Opt(column string) unit.Opt {
	text := r.Text(column)
	if text == "" {
		return unit.Opt{}
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(value) || math.IsInf(value, 0) || strings.Trim(text, "0123456789+-.eE") != "" {
		r.Fail(column, "%q is not a number", text)
		return unit.Opt{}
	}
	return unit.Some(value)
}

// Number returns a number that must be there.
func (r *Row) Number(column string) float64 {
	r.Need(column)
	return r.Opt(column).V
}

// Count returns a whole number; zero for an empty cell.
func (r *Row) Count(column string) int {
	text := r.Text(column)
	if text == "" {
		return 0
	}
	value, err := strconv.Atoi(text)
	if err != nil {
		r.Fail(column, "%q is not a whole number", text)
	}
	return value
}

// Interval returns the range between two columns, either of which may be empty.
func (r *Row) Interval(quantity unit.Quantity, low, high string) domain.Range {
	interval := domain.Range{Quantity: quantity, Low: r.Opt(low), High: r.Opt(high)}
	if interval.Low.OK && interval.High.OK && interval.Low.V > interval.High.V {
		r.Fail(low, "%v is above %s %v", interval.Low.V, high, interval.High.V)
	}
	return interval
}
