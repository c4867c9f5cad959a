package page

import (
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain/unit"
)

// Node is a value of an answer, or the members of an object or a list in their order.
// Everything that a page shows of an answer it takes from here, so that its digits are
// those of the JSON answer. A nil node is one that the answer does not have.
type Node struct {
	Name    string
	Text    string // of a value
	Number  bool   // the value is one
	List    bool   // the members are numbered
	Members []*Node
	unit    string
	up      *Node
}

// Tree lays the leaves of an answer in a system out as nodes.
func Tree(leaves []wire.Leaf, system unit.System) *Node {
	root := &Node{}
	for _, l := range leaves {
		n := root
		for _, name := range strings.Split(l.Path, ".") {
			name, places, _ := strings.Cut(name, "[")
			n = n.member(name)
			for places != "" {
				var place string
				place, places, _ = strings.Cut(places, "]")
				n.List = true
				n = n.member(place)
				places = strings.TrimPrefix(places, "[")
			}
		}
		n.Text, n.unit, n.Number = l.Value, l.Unit.Label(system), !l.Text && l.Value != "true" && l.Value != "false"
	}
	return root
}

// member finds a member of a node under construction, which is its last, or adds it.
func (n *Node) member(name string) *Node {
	if k := len(n.Members); k > 0 && n.Members[k-1].Name == name {
		return n.Members[k-1]
	}
	m := &Node{Name: name, up: n}
	n.Members = append(n.Members, m)
	return m
}

// At finds a node by its dotted path; nil when there is none.
func (n *Node) At(path string) *Node {
	for name := range strings.SplitSeq(path, ".") {
		if n == nil {
			return nil
		}
		var next *Node
		for _, m := range n.Members {
			if m.Name == name {
				next = m
				break
			}
		}
		n = next
	}
	return n
}

// Word is the text of a member, empty when there is none.
func (n *Node) Word(path string) string {
	if m := n.At(path); m != nil {
		return m.Text
	}
	return ""
}

// measured are the members whose unit stands beside them in their object.
var measured = map[string]bool{"demand": true, "allowed": true, "value": true, "limit": true, "result": true, "from": true, "to": true}

// Unit is the unit as people write it; empty without one.
func (n *Node) Unit() string {
	if n == nil || !n.Number {
		return ""
	}
	if n.unit == "" && n.up != nil && measured[n.Name] {
		return unit.LabelOf(n.up.Word("unit"))
	}
	return n.unit
}

// Shown is the value as a person reads it.
func (n *Node) Shown() string {
	switch n.Text {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return n.Text
}

// Odds is a probability as a person reads it: one too small to matter says no more.
func (n *Node) Odds() string {
	if v := n.Ratio(); v > 0 && v < 1e-6 {
		return "under 0.000001"
	}
	return n.Text
}

// Ratio is the value as a number, zero when it is none.
func (n *Node) Ratio() float64 {
	if n == nil {
		return 0
	}
	v, _ := strconv.ParseFloat(n.Text, 64)
	return v
}

// Percent writes a ratio in hundredths with the same digits, its point moved.
func (n *Node) Percent() string {
	if n == nil {
		return ""
	}
	whole, part, _ := strings.Cut(n.Text, ".")
	for len(part) < 2 {
		part += "0"
	}
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	whole = strings.TrimLeft(whole+part[:2], "0")
	if whole == "" {
		whole = "0"
	}
	if part = strings.TrimRight(part[2:], "0"); part != "" {
		whole += "." + part
	}
	return sign + whole
}
