package tabular

import (
	"bufio"
	"encoding/json"
	"io"
	"strconv"
)

// longestLine is how many bytes a line of JSON may have.
const longestLine = 64 << 10

// ReadLines reads rows from lines of JSON, each an object of texts and numbers by heading
// that names its table in `sheet`. Objects without it are passed over.
func ReadLines(from io.Reader) Rows {
	return func(yield func(Row, error) bool) {
		in := bufio.NewScanner(from)
		in.Buffer(make([]byte, 0, 8<<10), longestLine)
		line := 0
		for in.Scan() {
			line++
			if len(in.Bytes()) == 0 {
				continue
			}
			r, err := readLine(in.Bytes(), line)
			if err == nil && r.Sheet == "" {
				continue
			}
			if !yield(r, err) || err != nil {
				return
			}
		}
		if err := in.Err(); err == bufio.ErrTooLong {
			yield(Row{}, &Unreadable{"lines", line + 1, "the line is over " + strconv.Itoa(longestLine>>10) + " KiB"})
		} else if err != nil {
			yield(Row{}, err)
		}
	}
}

func readLine(text []byte, line int) (Row, error) {
	var members map[string]any
	if err := json.Unmarshal(text, &members); err != nil {
		return Row{}, &Unreadable{"lines", line, "the line is not one JSON object"}
	}
	name, _ := members["sheet"].(string)
	r := Row{Sheet: name, Line: line, Cells: make(map[string]string, len(members))}
	for member, value := range members {
		switch v := value.(type) {
		case string:
			if v != "" && member != "sheet" {
				r.Cells[member] = v
			}
		case float64:
			r.Cells[member] = number(v)
		case bool:
			r.Cells[member] = strconv.FormatBool(v)
		case nil:
		default:
			return r, &Unreadable{name, line, strconv.Quote(member) + " is neither text nor number"}
		}
	}
	return r, nil
}

// WriteLines writes a table as lines of JSON: each row an object with the name of its
// table and the cells that are not empty, by heading.
func WriteLines(to io.Writer, t *Table) error {
	out := bufio.NewWriterSize(to, 32<<10)
	names := make([][]byte, len(t.Headings))
	for i, heading := range t.Headings {
		names[i] = append(quoted(heading), ':')
	}
	start := append([]byte(`{"sheet":`), quoted(t.Name)...)
	var line []byte
	for cells := range t.Rows {
		line = append(line[:0], start...)
		for i, cell := range cells {
			switch v := cell.(type) {
			case string:
				line = append(append(append(line, ','), names[i]...), quoted(v)...)
			case float64:
				line = append(append(append(line, ','), names[i]...), number(v)...)
			}
		}
		line = append(line, '}', '\n')
		if _, err := out.Write(line); err != nil {
			return err
		}
	}
	return out.Flush()
}

func quoted(text string) []byte {
	out, _ := json.Marshal(text)
	return out
}
