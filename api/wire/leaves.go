package wire

import "swarf/domain/unit"

// Leaf is one value of an answer: its path, members joined by dots and places in brackets,
// and what it is as in text. Unit is the quantity of a number that has one.
type Leaf struct {
	Path  string
	Value string
	Unit  unit.Quantity
	Text  bool // a word, not a number or a truth value
}

// Leaves lists the selected values of an answer in the order of the struct, for formats that
// are lists of named values: the same digits as AppendJSON, in the system.
func (s *Selection) Leaves(v any, system unit.System) ([]Leaf, error) {
	var w walker
	var list []Leaf
	w.reset(system, s)
	w.leaf = func(q unit.Quantity, text bool) {
		list = append(list, Leaf{string(w.path), string(w.value), q, text})
	}
	if err := w.start(v); err != nil {
		return nil, err
	}
	return list, nil
}

// Decimal writes a number as answers do: rounded to 6 significant digits, plain, with a
// decimal point.
func Decimal(v float64) string { return string(appendComputed(nil, v)) }
