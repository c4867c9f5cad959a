package wire

import (
	"bytes"
	"reflect"
	"slices"
	"strings"

	"swarf/domain/unit"
)

// AppendCSV writes an answer as CSV (RFC 4180): one header line, then one row, or a
// row for each member of `items` or `results`; each row of those begins with what
// the list says of itself (units, data_revision, model_version). Columns are the
// union over the rows in the order of the struct; a cell is empty where its value
// is absent. A heading is the path of the value as in AppendText, with the UCUM
// code in brackets when it has a quantity: "loads.torque [N.m]". Text that a
// spreadsheet would take for a formula gets an apostrophe in front; numbers never.
func AppendCSV(dst []byte, v any, system unit.System) ([]byte, error) {
	return (*Selection)(nil).AppendCSV(dst, v, system, CSVStyle{})
}

// listNames are the members that hold the rows of a table.
var listNames = []string{"items", "results"}

// rowsOf finds the member that holds the rows, or nil.
func (p *plan) rowsOf() *member {
	for _, name := range listNames {
		if i, ok := p.byName[name]; ok {
			if m := &p.members[i]; m.kind == kindList && (m.elem.kind == kindStruct || m.elem.kind == kindAny) {
				return m
			}
		}
	}
	return nil
}

// aboutList are the members that say of which state the rows are.
var aboutList = []string{"units", "data_revision", "model_version"}

// AppendCSV writes the selected fields of an answer as CSV, in the style that a
// spreadsheet reads.
func (s *Selection) AppendCSV(dst []byte, v any, system unit.System, style CSVStyle) ([]byte, error) {
	if style.Mark {
		dst = append(dst, "\ufeff"...)
	}
	t := table{byPath: map[string]int{}, separator: style.separator(), decimal: style.Comma}
	t.walk.reset(system, s)
	t.walk.leaf = t.cell
	f := reflect.ValueOf(v)
	if f.Kind() == reflect.Pointer {
		f = f.Elem()
	}
	p := planOf(f.Type())
	rows := p.rowsOf()
	if rows == nil {
		if err := t.walk.start(v); err != nil {
			return dst, err
		}
		t.ends = append(t.ends, len(t.cells))
		return t.write(dst), nil
	}
	list := rows.of(f)
	for i := range list.Len() {
		for at := range p.members {
			if m := &p.members[at]; slices.Contains(aboutList, m.name) {
				t.walk.path, t.walk.order = append(t.walk.path[:0], m.name...), append(t.walk.order[:0], 0, byte(at))
				t.walk.value = t.walk.encoder.value(t.walk.value[:0], &m.node, m.of(f), unit.None)
				if m.kind == kindString {
					t.walk.value = append(t.walk.value[:0], m.of(f).String()...)
				}
				t.cell(unit.None, m.kind == kindString)
			}
		}
		row := list.Index(i)
		if row.Kind() == reflect.Interface {
			row = row.Elem()
		}
		t.walk.path, t.walk.order = t.walk.path[:0], append(t.walk.order[:0], 1, t.kind(row.Type()))
		if err := t.walk.start(row.Interface()); err != nil {
			return dst, err
		}
		t.ends = append(t.ends, len(t.cells))
	}
	return t.write(dst), nil
}

// table gathers the cells of all rows before the columns are known.
type table struct {
	walk    walker
	byPath  map[string]int
	columns []column
	cells   []cell
	ends    []int // of each row, in cells
	text    []byte
	types   []reflect.Type

	separator byte
	decimal   bool // a comma
}

type column struct {
	heading string
	order   string // sorts the columns as the struct does
}

type cell struct{ column, from, to int }

// kind numbers the types of rows, so that their columns stay together.
func (t *table) kind(row reflect.Type) byte {
	i := slices.Index(t.types, row)
	if i < 0 {
		i = len(t.types)
		t.types = append(t.types, row)
	}
	return byte(i) // #nosec G115 -- an answer has a handful of types of rows
}

// cell takes up the value that the walker is at.
func (t *table) cell(q unit.Quantity, text bool) {
	w := &t.walk
	at, known := t.byPath[string(w.path)]
	if !known {
		at = len(t.columns)
		heading := string(w.path)
		t.byPath[heading] = at
		if q != unit.None {
			heading += " [" + q.Code(w.system) + "]"
		}
		t.columns = append(t.columns, column{heading, string(w.order)})
	}
	from := len(t.text)
	if text {
		t.text = appendCell(t.text, string(w.value), t.separator)
	} else {
		t.text = append(t.text, w.value...)
		if point := bytes.IndexByte(t.text[from:], '.'); t.decimal && point >= 0 {
			t.text[from+point] = ','
		}
	}
	t.cells = append(t.cells, cell{at, from, len(t.text)})
}

// write lays the table out.
func (t *table) write(dst []byte) []byte {
	sorted := make([]int, len(t.columns))
	for i := range sorted {
		sorted[i] = i
	}
	slices.SortFunc(sorted, func(a, b int) int { return strings.Compare(t.columns[a].order, t.columns[b].order) })
	place := make([]int, len(sorted))
	for i, c := range sorted {
		place[c] = i
		if i > 0 {
			dst = append(dst, t.separator)
		}
		dst = appendCell(dst, t.columns[c].heading, t.separator)
	}
	dst = append(dst, '\r', '\n')
	row := make([]*cell, len(sorted))
	from := 0
	for _, end := range t.ends {
		clear(row)
		for i := from; i < end; i++ {
			row[place[t.cells[i].column]] = &t.cells[i]
		}
		from = end
		for i, c := range row {
			if i > 0 {
				dst = append(dst, t.separator)
			}
			if c != nil {
				dst = append(dst, t.text[c.from:c.to]...)
			}
		}
		dst = append(dst, '\r', '\n')
	}
	return dst
}

// appendCell writes a text as a cell of CSV, on one line and never as a formula.
func appendCell(dst []byte, s string, separator byte) []byte {
	s = strings.ToValidUTF8(s, "\ufffd")
	if s != "" && strings.IndexByte("=+-@\t\r\n\x00", s[0]) >= 0 {
		s = "'" + s
	}
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	if strings.IndexByte(s, '"') < 0 && strings.IndexByte(s, separator) < 0 {
		return append(dst, s...)
	}
	dst = append(dst, '"')
	for i := range len(s) {
		if s[i] == '"' {
			dst = append(dst, '"')
		}
		dst = append(dst, s[i])
	}
	return append(dst, '"')
}
