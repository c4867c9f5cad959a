package api

import (
	"iter"
	"math"
	"net/http"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain/catalog"
	"swarf/domain/unit"
)

// sheetRoutes are the rows of the tables in which the catalogue leaves and comes in.
func sheetRoutes() []route {
	return []route{
		{http.MethodGet, "/v1/sheets", listSheets, reading, nil, []format{formatJSON, formatText, formatCSV, formatXLSX}},
		{http.MethodGet, "/v1/sheets/{id}", getSheet, reading, []string{"units"}, []format{formatJSON, formatText, formatCSV}},
		{http.MethodGet, "/v1/exports", exportAll, reading, []string{"units", "as_of"}, []format{formatLines, formatXLSX, formatZIP}},
		{http.MethodGet, "/v1/exports/{id}", exportOne, reading, []string{"units", "as_of"}, []format{formatCSV, formatLines}},
		{http.MethodPost, "/v1/imports", postImport, writing, []string{"sheet", "validate_only", "reason"}, []format{formatJSON, formatText, formatCSV, formatLines}},
		{http.MethodPost, "/v1/imports/{id}/approval", approveImport, approving, nil, tableFormats},
	}
}

// catalogSheet is one table of the catalogue: what its columns are, which rows the
// snapshot has, and what becomes of a row that comes in.
type catalogSheet struct {
	name, about string
	required    []string // columns that a row cannot do without
	columns     []wire.Column
	rows        func(*catalog.Snapshot, unit.System) iter.Seq[[]any]
	take        func(*importer, *line) // nil: the sheet is only exported
}

// ties are what ties a row type to the catalogue.
type ties[R any] struct {
	all  func(*catalog.Snapshot, unit.System) iter.Seq[*R]
	find func(*catalog.Snapshot, *R) *R // the row on record that has the key of this one
	key  func(*R) string
	// metric turns numbers with a unit of their own beside them to metric; nil: there are none
	metric func(*R)
	take   func(*importer, *R, *line) // takes up a new or changed row
}

// sheetOf makes a table from its row type.
func sheetOf[R any](name, about, required string, t ties[R]) catalogSheet {
	s := catalogSheet{name: name, about: about, required: strings.Fields(required), columns: wire.ColumnsOf(reflect.TypeFor[R]())}
	s.rows = func(snap *catalog.Snapshot, system unit.System) iter.Seq[[]any] {
		return func(yield func([]any) bool) {
			for row := range t.all(snap, system) {
				if !yield(cellsOf(s.columns, row, system)) {
					return
				}
			}
		}
	}
	if t.take == nil {
		return s
	}
	compared := slices.DeleteFunc(slices.Clone(s.columns), func(c wire.Column) bool { return c.Path == toldColumn })
	s.take = func(im *importer, l *line) {
		row := new(R)
		if !l.read(row) {
			return
		}
		l.lacks(s.required)
		if t.metric != nil {
			t.metric(row)
		}
		if l.repeated(t.key(row)) || l.faulty {
			return
		}
		before := t.find(im.snap, row)
		if l.known = before != nil; l.known && slices.EqualFunc(cellsOf(compared, before, unit.Metric), cellsOf(compared, row, unit.Metric), sameCell) {
			l.same = true
			return
		}
		t.take(im, row, l)
	}
	return s
}

// toldColumn is a column that is exported and not looked at when it comes back.
const toldColumn = "state"

// sameCell compares two cells. Spreadsheets keep 15 digits of a number, so those after them
// do not make another.
func sameCell(a, b any) bool {
	x, isNumber := a.(float64)
	y, also := b.(float64)
	if isNumber && also {
		return math.Abs(x-y) <= 1e-14*math.Abs(x)
	}
	return a == b
}

// cellsOf reads a row column by column. The cells are nil, string or float64.
func cellsOf(columns []wire.Column, row any, system unit.System) []any {
	cells := make([]any, len(columns))
	for i := range columns {
		cells[i] = columns[i].Cell(row, system)
	}
	return cells
}

// catalogSheets are the tables in the order in which rows may refer to those before.
var catalogSheets = slices.Concat(materialSheets(), toolSheets(), recordSheets(), machineSheets())

func sheetNames() []string {
	names := make([]string, len(catalogSheets))
	for i := range catalogSheets {
		names[i] = catalogSheets[i].name
	}
	return names
}

// sheetNamed finds a table.
func sheetNamed(name string) (*catalogSheet, error) {
	for i := range catalogSheets {
		if catalogSheets[i].name == name {
			return &catalogSheets[i], nil
		}
	}
	e := notFound("sheet", name, "/v1/sheets")
	e.Fix = "take one of " + strings.Join(sheetNames(), ", ")
	return nil, e
}

// table is the sheet as it is written from a snapshot; without one it has no rows.
func (s *catalogSheet) table(snap *catalog.Snapshot, system unit.System) tabular.Table {
	t := tabular.Table{Name: s.name, Rows: func(func([]any) bool) {}}
	for i := range s.columns {
		t.Headings = append(t.Headings, s.columns[i].Heading(system))
	}
	if snap != nil {
		t.Rows = s.rows(snap, system)
	}
	return t
}

// listSheets answers GET /v1/sheets: what tables there are; as XLSX, a workbook to fill in.
func listSheets(x *exchange) error {
	if x.format == formatXLSX && x.unchanged("template", 0) {
		return nil
	}
	if x.format == formatXLSX {
		tables := make([]tabular.Table, 0, len(catalogSheets)+1)
		for i := range catalogSheets {
			if catalogSheets[i].take != nil {
				tables = append(tables, catalogSheets[i].table(nil, x.system))
			}
		}
		return x.sendWorkbook(append(tables, columnTable()))
	}
	out := wire.SheetList{ModelVersion: x.s.ModelVersion}
	for i := range catalogSheets {
		out.Items = append(out.Items, catalogSheets[i].info())
	}
	return x.conditional(&out)
}

// getSheet answers GET /v1/sheets/{id}: the columns of a table; as CSV, one to fill in.
func getSheet(x *exchange) error {
	name, err := x.pathValue("id")
	if err != nil {
		return err
	}
	s, err := sheetNamed(name)
	if err != nil {
		return err
	}
	if x.format == formatCSV && x.unchanged("template "+name, 0) {
		return nil
	}
	if x.format == formatCSV {
		t := s.table(nil, x.system)
		return x.sendTable(&t)
	}
	info := s.info()
	return x.conditional(&info)
}

// info describes the table.
func (s *catalogSheet) info() wire.SheetInfo {
	out := wire.SheetInfo{Sheet: s.name, About: s.about, Import: s.take != nil}
	for i := range s.columns {
		c := &s.columns[i]
		info := wire.ColumnInfo{Column: c.Path, Required: slices.Contains(s.required, c.Path), Kind: "text", Words: c.Words}
		if c.Number {
			info.Kind = "number"
		}
		if c.Quantity != unit.None {
			info.Units = slices.Compact([]string{c.Quantity.Code(unit.Metric), c.Quantity.Code(unit.Inch)})
		}
		out.Columns = append(out.Columns, info)
	}
	return out
}

// columnTable explains the columns of all tables in a sheet of the workbook.
func columnTable() tabular.Table {
	return tabular.Table{
		Name:     "columns",
		Headings: []string{"sheet", "column", "required", "kind", "units", "words"},
		Rows: func(yield func([]any) bool) {
			for i := range catalogSheets {
				info := catalogSheets[i].info()
				for _, c := range info.Columns {
					if info.Import && !yield([]any{info.Sheet, c.Column, strconv.FormatBool(c.Required), c.Kind, strings.Join(c.Units, " or "), strings.Join(c.Words, ", ")}) {
						return
					}
				}
			}
		},
	}
}
