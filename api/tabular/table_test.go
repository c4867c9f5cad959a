package tabular

import (
	"bytes"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// kept is how a text comes back: on one line, without blanks at its ends.
func kept(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, text))
}

// forms are the ways in which tables are written and read back.
var forms = map[string]struct {
	write func(*bytes.Buffer, *Table) error
	read  func(*bytes.Buffer) Rows
}{
	"CSV":   {func(b *bytes.Buffer, t *Table) error { return WriteCSV(b, t, Style{}) }, func(b *bytes.Buffer) Rows { return ReadCSV("t", b) }},
	"lines": {func(b *bytes.Buffer, t *Table) error { return WriteLines(b, t) }, func(b *bytes.Buffer) Rows { return ReadLines(b) }},
	"XLSX":  {func(b *bytes.Buffer, t *Table) error { return WriteXLSX(b, []Table{*t}) }, func(b *bytes.Buffer) Rows { return ReadXLSX(b, []string{"t"}) }},
}

// What is written reads back the same in every form, formulas and quotes as text.
func TestTablesReadBackAsTheyWere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SampledFrom([]string{"", "plain", "=1+1", "'quoted", "''", "+5 %", "-x", "@a", "a,b;c", `say "no"`, "two\nlines", "ä µ ✓", "0012", "1e5", "true"})
		// Spreadsheets keep 15 digits.
		numbers := rapid.Map(rapid.Float64Range(-1e9, 1e9), func(v float64) float64 {
			v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 14, 64), 64)
			return v
		})
		var rows [][]any
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			rows = append(rows, []any{"x" + texts.Draw(t, "key"), texts.Draw(t, "text"), numbers.Draw(t, "number"), nil})
		}
		for name, form := range forms {
			var b bytes.Buffer
			if err := form.write(&b, &Table{Name: "t", Headings: []string{"key", "text", "number [mm]", "none"}, Rows: slices.Values(rows)}); err != nil {
				t.Fatal(err)
			}
			at := 0
			for r, err := range form.read(&b) {
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				want := map[string]string{"key": kept(rows[at][0].(string)), "number [mm]": number(rows[at][2].(float64))}
				if text := kept(rows[at][1].(string)); text != "" {
					want["text"] = text
				}
				for _, m := range []map[string]string{r.Cells, want} {
					for k, v := range m {
						m[k] = strings.ReplaceAll(v, "\n", " ")
					}
				}
				if !reflect.DeepEqual(r.Cells, want) {
					t.Fatalf("%s: %q, want %q", name, r.Cells, want)
				}
				at++
			}
			if at != len(rows) {
				t.Fatalf("%s: %d of %d rows came back", name, at, len(rows))
			}
		}
	})
}

// Semicolons separate where the headings have no comma; a byte order mark is passed over.
func TestCSVOfSpreadsheets(t *testing.T) {
	for r, err := range ReadCSV("t", strings.NewReader("\ufeffid;name\r\n\r\na;\"b;c\"\r\n;\r\n")) {
		if err != nil || r.Line != 3 || r.Cells["id"] != "a" || r.Cells["name"] != "b;c" {
			t.Errorf("%+v, %v", r, err)
		}
	}
}

// FuzzRead: whatever bytes come, a reader ends, with rows or an error, and no row has a
// nameless or repeated heading.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"id,name\na,b\n", "\ufeffid;name\n\"a\";b", "id,id\n", "{\"sheet\":\"t\",\"id\":1}\n", "PK\x03\x04", "\"", ",,\n", "a\n'=1"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		for _, rows := range []Rows{ReadCSV("t", bytes.NewReader(body)), ReadLines(bytes.NewReader(body)), ReadXLSX(bytes.NewReader(body), []string{"t"})} {
			ended := false
			for r, err := range rows {
				if ended {
					t.Fatal("a row after an error")
				}
				if ended = err != nil; !ended && r.Sheet == "" {
					t.Fatalf("a row of no table: %+v", r)
				}
				for heading := range r.Cells {
					if heading == "" {
						t.Fatal("a cell under no heading")
					}
				}
			}
		}
	})
}
