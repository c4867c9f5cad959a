// Package tabular reads and writes tables for spreadsheets: CSV (RFC 4180), XLSX and lines
// of JSON. It knows nothing of what the tables hold. Text that a spreadsheet would take
// for a formula leaves with an apostrophe in front and loses it on its way in.
package tabular

import (
	"fmt"
	"iter"
	"strconv"
	"strings"
)

// Row is one row of a table as it was read: texts by heading, empty cells left out.
type Row struct {
	Sheet string // the name of its table
	Line  int    // in the file, headings included
	Cells map[string]string
}

// Rows is a stream of rows. An error ends it.
type Rows = iter.Seq2[Row, error]

// Table is a table to be written: rows of cells that are nil, string or float64.
type Table struct {
	Name     string
	Headings []string
	Rows     iter.Seq[[]any]
}

// Unreadable is a table that cannot be read any further.
type Unreadable struct {
	Sheet string
	Line  int
	Text  string
}

// Error says where and what.
func (e *Unreadable) Error() string {
	return fmt.Sprintf("%s row %d: %s", e.Sheet, e.Line, e.Text)
}

// risky are the first letters by which a spreadsheet takes a text for a formula.
const risky = "=+-@\t\r\n\x00"

// guarded is a text that no spreadsheet takes for a formula, on one line.
func guarded(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "\ufffd"))
	if text != "" && (strings.IndexByte(risky, text[0]) >= 0 || text[0] == '\'') {
		return "'" + text
	}
	return text
}

// bare takes the guard off, and blanks at the ends.
func bare(text string) string {
	text = strings.TrimSpace(text)
	if len(text) > 1 && text[0] == '\'' && (strings.IndexByte(risky, text[1]) >= 0 || text[1] == '\'') {
		return text[1:]
	}
	return text
}

// written is a cell as text.
func written(cell any) string {
	switch v := cell.(type) {
	case string:
		return guarded(v)
	case float64:
		return number(v)
	}
	return ""
}

// number writes a number so that it reads back as the same, without an exponent.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// headed are the headings of a table, each once, nothing nameless between them.
func headed(sheet string, line int, cells []string) ([]string, error) {
	headings := make([]string, len(cells))
	for i, cell := range cells {
		headings[i] = bare(cell)
	}
	for len(headings) > 0 && headings[len(headings)-1] == "" {
		headings = headings[:len(headings)-1]
	}
	if len(headings) == 0 {
		return nil, &Unreadable{sheet, line, "the table has no headings"}
	}
	seen := map[string]bool{}
	for _, heading := range headings {
		if heading == "" {
			return nil, &Unreadable{sheet, line, "a column has no heading"}
		}
		if seen[heading] {
			return nil, &Unreadable{sheet, line, "the heading " + strconv.Quote(heading) + " stands twice"}
		}
		seen[heading] = true
	}
	return headings, nil
}

// row puts cells under their headings; ok is false for an empty row.
func row(sheet string, line int, headings, cells []string) (Row, bool, error) {
	out := Row{Sheet: sheet, Line: line, Cells: make(map[string]string, len(headings))}
	for i, cell := range cells {
		text := bare(cell)
		switch {
		case text == "":
		case i >= len(headings):
			return out, false, &Unreadable{sheet, line, "the row has a cell beyond the last heading"}
		default:
			out.Cells[headings[i]] = text
		}
	}
	return out, len(out.Cells) > 0, nil
}
