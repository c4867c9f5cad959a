package tabular

import (
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// Bounds of a workbook that is read.
const (
	mostXLSXRows = 10_000   // in all its sheets
	mostUnzipped = 64 << 20 // bytes of all its parts, which stay in memory: no part goes to a file
)

// ReadXLSX reads the tables of a workbook, sheet by sheet in the order of wanted; sheets of
// other names are left alone. Formulas are not computed: what was last shown is read. The
// caller bounds how large the file may be.
func ReadXLSX(from io.Reader, wanted []string) Rows {
	return func(yield func(Row, error) bool) {
		in := &noting{from: from}
		book, err := excelize.OpenReader(in, excelize.Options{UnzipSizeLimit: mostUnzipped, UnzipXMLSizeLimit: mostUnzipped, RawCellValue: true})
		if in.err != nil {
			yield(Row{}, in.err)
			return
		}
		if err != nil {
			yield(Row{}, &Unreadable{"workbook", 0, "it is no XLSX file, or unpacks to more than " + strconv.Itoa(mostUnzipped>>20) + " MiB"})
			return
		}
		defer book.Close()
		there := map[string]bool{}
		for _, name := range book.GetSheetList() {
			there[name] = true
		}
		left, found := mostXLSXRows, false
		for _, name := range wanted {
			if !there[name] {
				continue
			}
			found = true
			if !readSheet(book, name, &left, yield) {
				return
			}
		}
		if !found {
			yield(Row{}, &Unreadable{"workbook", 0, "it has none of the sheets that belong here"})
		}
	}
}

// noting keeps what went wrong with reading, apart from what is wrong with what was read.
type noting struct {
	from io.Reader
	err  error
}

func (n *noting) Read(p []byte) (int, error) {
	got, err := n.from.Read(p)
	if err != nil && err != io.EOF {
		n.err = err
	}
	return got, err
}

// readSheet reads one sheet; false ends the reading.
func readSheet(book *excelize.File, name string, left *int, yield func(Row, error) bool) bool {
	lines, err := book.Rows(name)
	if err != nil {
		yield(Row{}, &Unreadable{name, 0, "the sheet cannot be read"})
		return false
	}
	defer lines.Close()
	var headings []string
	for line := 1; lines.Next(); line++ {
		cells, err := lines.Columns()
		if err != nil {
			yield(Row{}, &Unreadable{name, line, "the row cannot be read"})
			return false
		}
		if headings == nil {
			if headings, err = headed(name, line, cells); err != nil {
				yield(Row{}, err)
				return false
			}
			continue
		}
		r, filled, err := row(name, line, headings, cells)
		if err != nil {
			yield(r, err)
			return false
		}
		if !filled {
			continue
		}
		if *left--; *left < 0 {
			yield(r, &Unreadable{name, line, fmt.Sprintf("the workbook has more than %d rows: send the rest as CSV", mostXLSXRows)})
			return false
		}
		if !yield(r, nil) {
			return false
		}
	}
	if err := lines.Error(); err != nil {
		yield(Row{}, &Unreadable{name, 0, "the sheet cannot be read to its end"})
		return false
	}
	return true
}

// WriteXLSX writes tables as a workbook, a sheet each, headings frozen. Numbers are
// numbers, all else is text, and no cell is a formula.
func WriteXLSX(to io.Writer, tables []Table) error {
	book := excelize.NewFile()
	defer book.Close()
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for i := range tables {
		if err := writeSheet(book, &tables[i], bold); err != nil {
			return err
		}
	}
	if err := book.DeleteSheet("Sheet1"); err != nil {
		return err
	}
	book.SetActiveSheet(0)
	_, err = book.WriteTo(to)
	return err
}

func writeSheet(book *excelize.File, t *Table, bold int) error {
	if _, err := book.NewSheet(t.Name); err != nil {
		return err
	}
	out, err := book.NewStreamWriter(t.Name)
	if err != nil {
		return err
	}
	if err := out.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	line := make([]any, len(t.Headings))
	for i, heading := range t.Headings {
		line[i] = excelize.Cell{StyleID: bold, Value: heading}
	}
	at := 1
	if err := out.SetRow("A1", line); err != nil {
		return err
	}
	for cells := range t.Rows {
		for i, cell := range cells {
			line[i] = cell
			if text, ok := cell.(string); ok {
				line[i] = guarded(text)
			}
		}
		at++
		if err := out.SetRow("A"+strconv.Itoa(at), line); err != nil {
			return err
		}
	}
	return out.Flush()
}
