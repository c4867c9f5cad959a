package wire

import (
	"net/url"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"swarf/domain/unit"
)

// Column is one column of a table whose rows are of one type: a member that holds a
// word, a number, a truth value or a list of words, by its dotted path.
type Column struct {
	Path     string
	Quantity unit.Quantity // of a number, unit.None when it has no dimension
	Number   bool
	Words    []string // the allowed ones; nil when any
	index    [][]int  // the way to it, struct by struct
	member   *member
}

// Heading is the path, with the UCUM code in brackets when it has a quantity, as in
// AppendCSV.
func (c *Column) Heading(system unit.System) string {
	if c.Quantity == unit.None {
		return c.Path
	}
	return c.Path + " [" + c.Quantity.Code(system) + "]"
}

// ColumnsOf lists the columns of a row type in the order of the struct. Lists of objects
// and what is ignored on input have none; nor has `units`, for headings state them.
func ColumnsOf(row reflect.Type) []Column { return columnsOf(planOf(row), "", nil) }

func columnsOf(p *plan, prefix string, way [][]int) []Column {
	var list []Column
	for i := range p.members {
		m := &p.members[i]
		here := append(slices.Clone(way), m.index)
		switch {
		case m.ignored || i == p.units:
		case m.kind == kindStruct:
			list = append(list, columnsOf(m.plan, prefix+m.name+".", here)...)
		case m.kind == kindList && m.elem.kind != kindString, m.kind == kindAny, m.kind == kindRaw, m.kind == kindMachine:
		default:
			number := m.kind == kindFloat || m.kind == kindAmount || m.kind == kindInt
			list = append(list, Column{Path: prefix + m.name, Quantity: m.quantity, Number: number, Words: m.words, index: here, member: m})
		}
	}
	return list
}

// Cell reads a column's value of a row, which is a pointer to a struct: nil when absent,
// else a string or a float64. Numbers that are stored metric come out in the system.
func (c *Column) Cell(row any, system unit.System) any {
	v := reflect.ValueOf(row).Elem()
	for _, step := range c.index {
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return nil
			}
			v = v.Elem()
		}
		v = v.FieldByIndex(step)
	}
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return nil
		}
		v = v.Elem()
	}
	switch c.member.kind {
	case kindString:
		if v.String() == "" {
			return nil
		}
		return v.String()
	case kindBool:
		return strconv.FormatBool(v.Bool())
	case kindList:
		if v.Len() == 0 {
			return nil
		}
		words := make([]string, v.Len())
		for i := range words {
			words[i] = v.Index(i).String()
		}
		return strings.Join(words, ",")
	case kindInt:
		return float64(v.Int())
	}
	return c.Quantity.FromMetric(system, v.Float())
}

// sheetDigits is how many significant digits a number keeps that a table has in inches,
// as a record that comes in inches keeps them.
const sheetDigits = 10

// Metric is a cell of the column as a metric text, which Decode reads: a number in inches
// is converted, anything else stays as it is.
func (c *Column) Metric(text string, system unit.System) string {
	if !c.Number || c.Quantity == unit.None || system == unit.Metric {
		return text
	}
	v, ok := ReadNumber(text)
	if !ok {
		return text
	}
	return strconv.FormatFloat(c.Quantity.ToMetric(system, v), 'g', sheetDigits, 64)
}

// DecodeRow reads a row of a table from its cells by path, metric.
func DecodeRow(cells map[string]string, into any) Input {
	values := make(url.Values, len(cells))
	for path, text := range cells {
		values[path] = []string{text}
	}
	return DecodeQuery(values, into, DecodeOptions{Inherit: unit.Metric.String()})
}
