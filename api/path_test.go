package api_test

import (
	"fmt"
	"strconv"
	"strings"
)

// node is a value found in a document, with what it stands in.
type node struct {
	value  any
	parent any
	name   string // the member's own name
}

// unit is the unit of a number: that of the `unit` beside it, else what unit_of
// says of its name.
func (n node) unit(doc any) string {
	if beside := textOf(n.parent, "unit"); beside != "" {
		return beside
	}
	table, _ := member(doc, "unit_of")
	code := textOf(table, n.name)
	return code
}

func member(v any, name string) (any, bool) {
	object, ok := v.(map[string]any)
	if !ok {
		return nil, false
	}
	value, ok := object[name]
	return value, ok
}

func textOf(v any, name string) string {
	value, _ := member(v, name)
	text, _ := value.(string)
	return text
}

// find lists what stands at a path: members joined by dots, [2] an index, [*] every
// member, [limit=torque] the list member whose limit is torque.
func find(doc any, path string) ([]node, error) {
	nodes := []node{{value: doc}}
	for _, step := range strings.Split(path, ".") {
		name, brackets, _ := strings.Cut(step, "[")
		if name != "" {
			var next []node
			for _, n := range nodes {
				if value, ok := member(n.value, name); ok {
					next = append(next, node{value, n.value, name})
				}
			}
			nodes = next
		}
		if brackets == "" {
			continue
		}
		for _, selector := range strings.Split(strings.TrimSuffix(brackets, "]"), "][") {
			var err error
			if nodes, err = choose(nodes, selector); err != nil {
				return nil, fmt.Errorf("%s: %w", path, err)
			}
		}
	}
	if len(nodes) == 0 {
		return nil, fmt.Errorf("nothing at %s", path)
	}
	return nodes, nil
}

// choose takes members of lists.
func choose(nodes []node, selector string) ([]node, error) {
	var next []node
	key, want, keyed := strings.Cut(selector, "=")
	index, err := strconv.Atoi(selector)
	if selector != "*" && !keyed && err != nil {
		return nil, fmt.Errorf("no selector [%s]", selector)
	}
	for _, n := range nodes {
		list, ok := n.value.([]any)
		if !ok {
			return nil, fmt.Errorf("[%s] of something that is no list", selector)
		}
		for i, value := range list {
			if selector == "*" || keyed && textOf(value, key) == want || err == nil && i == index {
				next = append(next, node{value, n.parent, n.name})
			}
		}
	}
	return next, nil
}

// partOf is a batch item, or the whole document.
func partOf(doc any, in string) (any, error) {
	if in == "" {
		return doc, nil
	}
	nodes, err := find(doc, in)
	if err != nil {
		return nil, err
	}
	return nodes[0].value, nil
}

// problemCodes lists the code of a problem document and those of its faults; nil
// for what is no problem.
func problemCodes(doc any) []string {
	code := textOf(doc, "code")
	if _, ok := member(doc, "faults"); !ok || code == "" {
		return nil
	}
	codes := []string{code}
	faults, _ := find(doc, "faults[*]")
	for _, n := range faults {
		codes = append(codes, textOf(n.value, "code"))
	}
	return codes
}

// sizeOf is the size of a list, an object or a text.
func sizeOf(v any) (int, error) {
	switch v := v.(type) {
	case []any:
		return len(v), nil
	case map[string]any:
		return len(v), nil
	case string:
		return len([]rune(v)), nil
	}
	return 0, fmt.Errorf("%v has no size", v)
}
