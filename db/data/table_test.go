package data

import (
	"strings"
	"testing"
	"testing/fstest"

	"swarf/domain/unit"
)

// TestReadTableFaults checks that every kind of broken file is refused with the
// file, the line and the column in the text.
func TestReadTableFaults(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"unknown column": {"# c\nid,value_mm,extra\na,1,2\n", "f.csv line 2 column extra: unknown column"},
		"missing column": {"# c\nid\na\n", "f.csv line 2 column value_mm: missing column"},
		"twice":          {"id,id,value_mm\na,a,1\n", "f.csv line 1 column id: stands twice"},
		"short row":      {"# c\nid,value_mm\na\n", "record on line 2: wrong number of fields"},
		"no header":      {"# c\n", "f.csv line 2: header"},
		"not a number":   {"# c\nid,value_mm\na,1\nb,x\n", `f.csv line 4 column value_mm: "x" is not a number`},
		"NaN":            {"id,value_mm\na,NaN\n", `line 2 column value_mm: "NaN" is not a number`},
		"Inf":            {"id,value_mm\na,+Inf\n", `"+Inf" is not a number`},
		"overflow":       {"id,value_mm\na,1e999\n", `"1e999" is not a number`},
		"hexadecimal":    {"id,value_mm\na,0x1p4\n", `"0x1p4" is not a number`},
		"empty number":   {"id,value_mm\na,\n", "line 2 column value_mm: empty"},
		"repeated id":    {"id,value_mm\na,1\na,2\n", `f.csv line 3 column id: "a" stands already on line 2`},
		"blanks":         {"id,value_mm\n a,1\n", "has blanks at its ends"},
	} {
		t.Run(name, func(t *testing.T) {
			table, err := ReadTable(fstest.MapFS{"f.csv": {Data: []byte(c.text)}}, "f.csv", "id", "value_mm")
			if err == nil {
				for _, r := range table.Rows {
					r.Unique("id")
					r.Number("value_mm")
				}
				err = table.Err()
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want a fault with %q", err, c.want)
			}
		})
	}
}

// TestReadTable checks that a sound file gives its citation and its cells.
func TestReadTable(t *testing.T) {
	text := "# A book, 1957\n# page 3\nid,low_mm,high_mm,count,names\na,0.1,,2,x; y\n\"b, c\",0.3,0.2,,\n"
	table, err := ReadTable(fstest.MapFS{"f.csv": {Data: []byte(text)}}, "f.csv", "id", "low_mm", "high_mm", "count", "names")
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Citation) != 2 || table.Citation[1] != "page 3" || len(table.Rows) != 2 {
		t.Fatalf("citation %q, %d rows", table.Citation, len(table.Rows))
	}
	first := table.Rows[0]
	span := first.Interval(unit.Length, "low_mm", "high_mm")
	if !span.Low.OK || span.Low.V != 0.1 || span.High.OK || first.Count("count") != 2 || len(first.List("names")) != 2 {
		t.Errorf("row %+v read wrongly", first)
	}
	if err := table.Err(); err != nil {
		t.Errorf("sound row: %v", err)
	}
	table.Rows[1].Interval(unit.Length, "low_mm", "high_mm")
	if err := table.Err(); err == nil || !strings.Contains(err.Error(), "line 5 column low_mm: 0.3 is above high_mm 0.2") {
		t.Errorf("reversed range: %v", err)
	}
}
