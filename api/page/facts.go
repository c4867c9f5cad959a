package page

import (
	"slices"
	"strings"
)

// Fact is one value with its name.
type Fact struct {
	Label string
	Value *Node
}

// Facts are the single values of a node and of the objects in it, in their order.
func (n *Node) Facts() []Fact {
	if n == nil || n.List {
		return nil
	}
	if len(n.Members) == 0 {
		return []Fact{{n.Label(), n}}
	}
	var out []Fact
	for _, m := range n.Members {
		switch {
		case m.List && m.plainList():
			out = append(out, Fact{m.Label(), m.joined()})
		case m.List:
		case len(m.Members) == 0:
			out = append(out, Fact{m.Label(), m})
		default:
			for _, f := range m.Facts() {
				out = append(out, Fact{m.Label() + ", " + strings.ToLower(f.Label[:1]) + f.Label[1:], f.Value})
			}
		}
	}
	return out
}

// Scalars are the single values among the members of a node but those named.
func (n *Node) Scalars(but ...string) []Fact {
	var out []Fact
	for _, m := range n.Members {
		if len(m.Members) == 0 && !slices.Contains(but, m.Name) {
			out = append(out, Fact{m.Label(), m})
		}
	}
	return out
}

// plainList reports a list of words or numbers.
func (n *Node) plainList() bool {
	return !slices.ContainsFunc(n.Members, func(m *Node) bool { return len(m.Members) > 0 })
}

// joined is a list of words as one value.
func (n *Node) joined() *Node {
	texts := make([]string, len(n.Members))
	for i, m := range n.Members {
		texts[i] = m.Text
	}
	return &Node{Name: n.Name, Text: strings.Join(texts, ", "), up: n.up}
}

// Table is a list of objects as rows, a column for each value that one of them has.
type Table struct {
	Caption string
	Heads   []string
	Rows    [][]*Node // nil where a row has no such value
}

// Tables are the lists of objects in a node, those deep in it with the way to them.
func (n *Node) Tables() []Table { return n.tables("") }

func (n *Node) tables(way string) []Table {
	if n == nil {
		return nil
	}
	if n.List && !n.plainList() {
		return []Table{n.table(way)}
	}
	var out []Table
	for _, m := range n.Members {
		name := m.Label()
		if way != "" {
			name = way + ", " + strings.ToLower(name[:1]) + name[1:]
		}
		out = append(out, m.tables(name)...)
	}
	return out
}

// table lays a list of objects out.
func (n *Node) table(caption string) Table {
	t := Table{Caption: caption}
	rows := make([]map[string]*Node, len(n.Members))
	for i, item := range n.Members {
		rows[i] = map[string]*Node{}
		for _, f := range item.Facts() {
			if item.Number || f.Value.Name == "unit" {
				continue // it stands beside its number
			}
			if rows[i][f.Label] = f.Value; !slices.Contains(t.Heads, f.Label) {
				t.Heads = append(t.Heads, f.Label)
			}
		}
	}
	for _, row := range rows {
		cells := make([]*Node, len(t.Heads))
		for k, head := range t.Heads {
			cells[k] = row[head]
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// Over reports a table of more columns than so many.
func (t Table) Over(columns int) bool { return len(t.Heads) > columns }

// Numeric reports a column of numbers.
func (t Table) Numeric(column int) bool {
	some := false
	for _, row := range t.Rows {
		if row[column] != nil {
			if !row[column].Number {
				return false
			}
			some = true
		}
	}
	return some
}
