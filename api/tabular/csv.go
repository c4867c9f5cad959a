package tabular

import (
	"bufio"
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// ReadCSV reads one table from CSV, row by row. A byte order mark is passed over;
// semicolons separate where the headings have some and no comma.
func ReadCSV(name string, from io.Reader) Rows {
	return func(yield func(Row, error) bool) {
		in := bufio.NewReaderSize(from, 64<<10)
		if mark, err := in.Peek(3); err == nil && string(mark) == "\ufeff" {
			in.Discard(3)
		}
		table := csv.NewReader(in)
		table.Comma, table.ReuseRecord, table.FieldsPerRecord = separator(in), true, -1
		first, err := table.Read()
		if err != nil {
			yield(Row{}, tornCSV(name, 1, err, "the table has no headings"))
			return
		}
		headings, err := headed(name, 1, first)
		if err != nil {
			yield(Row{}, err)
			return
		}
		for {
			cells, err := table.Read()
			if errors.Is(err, io.EOF) {
				return
			}
			if err != nil {
				yield(Row{}, tornCSV(name, 1, err, "the row cannot be read: quotes around a cell must be closed, and doubled within it"))
				return
			}
			line, _ := table.FieldPos(0)
			for _, cell := range cells {
				if !utf8.ValidString(cell) {
					yield(Row{}, &Unreadable{name, line, "the row is not UTF-8"})
					return
				}
			}
			r, filled, err := row(name, line, headings, cells)
			if err != nil {
				yield(r, err)
				return
			}
			if filled && !yield(r, nil) {
				return
			}
		}
	}
}

// tornCSV keeps errors of the stream and names those of the table.
func tornCSV(name string, line int, err error, text string) error {
	var torn *csv.ParseError
	if errors.As(err, &torn) {
		return &Unreadable{name, torn.Line, text}
	}
	if errors.Is(err, io.EOF) {
		return &Unreadable{name, line, text}
	}
	return err
}

// separator looks at the headings.
func separator(in *bufio.Reader) rune {
	ahead, _ := in.Peek(4 << 10)
	line, _, _ := strings.Cut(string(ahead), "\n")
	if strings.Contains(line, ";") && !strings.Contains(line, ",") {
		return ';'
	}
	return ','
}

// Style is how a spreadsheet of some country wants its CSV; the zero value is that of
// RFC 4180 with a decimal point.
type Style struct {
	Separator rune // between cells; 0 is a comma
	Comma     bool // numbers have a decimal comma
	Mark      bool // a byte order mark goes before
}

// WriteCSV writes one table as CSV.
func WriteCSV(to io.Writer, t *Table, style Style) error {
	if style.Mark {
		if _, err := io.WriteString(to, "\ufeff"); err != nil {
			return err
		}
	}
	out := csv.NewWriter(to)
	out.UseCRLF = true
	if style.Separator != 0 {
		out.Comma = style.Separator
	}
	if err := out.Write(t.Headings); err != nil {
		return err
	}
	texts := make([]string, len(t.Headings))
	for cells := range t.Rows {
		for i, cell := range cells {
			texts[i] = written(cell)
			if _, number := cell.(float64); number && style.Comma {
				texts[i] = strings.Replace(texts[i], ".", ",", 1)
			}
		}
		if err := out.Write(texts); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
