package api

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// line is one row on its way in.
type line struct {
	im     *importer
	sheet  *catalogSheet
	row    tabular.Row
	known  bool // there is such a row on record
	same   bool // and it is the same
	faulty bool
}

// fault notes a fault of the row, in the column that its field names.
func (l *line) fault(e *domain.Error) {
	l.faulty = true
	l.im.fault(l.sheet.name, l.row.Line, columnOf(e.Field), e)
}

// columnOf is the column of a field: that of a list has no place in it.
func columnOf(field string) string {
	name, _, _ := strings.Cut(field, "[")
	return name
}

// checker reads the numbers of the row; end tells its faults.
func (l *line) checker() checker { return checker{faults: &cut.Faults{}} }

// end tells the faults that a checker met and, when the row has none at all, does what is
// to be done with it.
func (l *line) end(c checker, do func()) {
	for _, e := range c.faults.List {
		l.fault(e)
	}
	if !l.faulty {
		do()
	}
}

// read reads the cells into the row's type, metric. False when it has faults.
func (l *line) read(into any) bool {
	cells := make(map[string]string, len(l.row.Cells))
	for heading, text := range l.row.Cells {
		place, why := l.im.heading(l.sheet, heading)
		switch {
		case why != nil:
			if l.im.once(l.sheet.name, heading) {
				l.fault(why)
			}
			l.faulty = true
			continue
		case place.column.Path == toldColumn:
			continue
		}
		if _, twice := cells[place.column.Path]; twice {
			l.fault(fault(domain.Invalid, "fields-conflict", place.column.Path, "two columns of the row are the same", "keep one of them"))
			continue
		}
		cells[place.column.Path] = place.column.Metric(text, place.system)
	}
	in := wire.DecodeRow(cells, into)
	for _, e := range faultsFromWire(in.Faults) {
		l.fault(e)
	}
	return !l.faulty
}

// lacks reports the columns that the row cannot do without.
func (l *line) lacks(required []string) {
	for _, path := range required {
		if !slices.ContainsFunc(l.headings(), func(heading string) bool { return bareHeading(heading) == path }) {
			l.fault(fault(domain.Unreadable, "field-missing", path, "the cell is empty", "fill it in"))
		}
	}
}

// headings are those of the cells that are filled.
func (l *line) headings() []string {
	names := make([]string, 0, len(l.row.Cells))
	for heading := range l.row.Cells {
		names = append(names, heading)
	}
	return names
}

// repeated reports a row whose like came before.
func (l *line) repeated(key string) bool {
	rows := l.im.seen[l.sheet.name]
	if rows == nil {
		rows = map[string]int{}
		l.im.seen[l.sheet.name] = rows
	}
	if at, twice := rows[key]; twice {
		l.fault(fault(domain.Invalid, "fields-conflict", l.sheet.required[0], "row "+strconv.Itoa(at)+" is about the same", "keep one of them"))
		return true
	}
	rows[key] = l.row.Line
	return false
}

// plainID requires an id in lower case.
func (l *line) plainID(field, id string) {
	if !plainRecordID.MatchString(id) || len(id) > longestName {
		l.fault(fault(domain.Invalid, "value-out-of-range", field, quoteClipped(id)+" cannot be an id", "take lower-case letters, digits, points and hyphens"))
	}
}

// placed is what a heading means.
type placed struct {
	column *wire.Column
	system unit.System
}

// layout is what the headings of a sheet mean, and which unknown ones were told.
type layout struct {
	places map[string]placed
	told   map[string]bool
}

func (im *importer) layout(sheet string) *layout {
	l := im.layouts[sheet]
	if l == nil {
		l = &layout{map[string]placed{}, map[string]bool{}}
		im.layouts[sheet] = l
	}
	return l
}

// once reports the first time that a heading is told of.
func (im *importer) once(sheet, heading string) bool {
	l := im.layout(sheet)
	first := !l.told[heading]
	l.told[heading] = true
	return first
}

// heading finds the column that a heading names, and the units it states in brackets.
func (im *importer) heading(s *catalogSheet, heading string) (placed, *domain.Error) {
	known := im.layout(s.name).places
	if p, ok := known[heading]; ok {
		return p, nil
	}
	path := bareHeading(heading)
	i := slices.IndexFunc(s.columns, func(c wire.Column) bool { return c.Path == path })
	if i < 0 {
		names := make([]string, len(s.columns))
		for i := range s.columns {
			names[i] = s.columns[i].Path
		}
		if near := nearest(path, names); near != "" {
			return placed{}, fault(domain.Unreadable, "unknown-field", clip(path), "the sheet "+s.name+" has no such column", "did you mean "+near+"?")
		}
		return placed{}, fault(domain.Unreadable, "unknown-field", clip(path), "the sheet "+s.name+" has no such column", "take it out; /v1/sheets/"+s.name+" lists the columns")
	}
	p := placed{column: &s.columns[i]}
	if code, stated := strings.CutPrefix(heading, path+" "); stated {
		switch code = strings.TrimSpace(code); code {
		case "[" + p.column.Quantity.Code(unit.Metric) + "]":
		case "[" + p.column.Quantity.Code(unit.Inch) + "]":
			p.system = unit.Inch
		default:
			return placed{}, fault(domain.Unreadable, "units-unknown", path, "the heading states the unit "+quoteClipped(code), fmt.Sprintf("write %q or %q", p.column.Heading(unit.Metric), p.column.Heading(unit.Inch)))
		}
	} else if p.column.Quantity != unit.None && heading == path {
		return placed{}, fault(domain.Unreadable, "units-missing", path, "the heading does not state a unit", fmt.Sprintf("write %q or %q", p.column.Heading(unit.Metric), p.column.Heading(unit.Inch)))
	}
	known[heading] = p
	return p, nil
}

// bareHeading is a heading without its unit.
func bareHeading(heading string) string {
	path, _, _ := strings.Cut(heading, " ")
	return path
}
