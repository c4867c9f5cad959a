package wire

import (
	"reflect"
	"slices"
	"strings"

	"swarf/domain/unit"
)

// FlatMember is a member of a request that one query parameter can set.
type FlatMember struct {
	Name     string        // of the parameter: the shortest that says which member is meant
	Path     string        // of the member, dotted
	Quantity unit.Quantity // of a number with a unit
	Number   bool
	Truth    bool     // true or false
	List     bool     // of words, separated by commas
	Words    []string // the allowed ones; nil when any
}

// FlatMembers lists what query parameters can set in a request type, in its order.
func FlatMembers(t reflect.Type) []FlatMember {
	p := planOf(t)
	names := make(map[string]string)
	for name, path := range FlatNames(t) {
		names[path] = name
	}
	var list []FlatMember
	p.visit("", func(path string, m *member) {
		name, there := names[path]
		if !there {
			return
		}
		f := FlatMember{Name: name, Path: path, Quantity: m.quantity, Truth: m.kind == kindBool, List: m.kind == kindList, Words: slices.Clone(m.words)}
		f.Number = m.kind == kindFloat || m.kind == kindAmount || m.kind == kindInt
		list = append(list, f)
	})
	return list
}

// Parent is the object that holds the member; empty for the request itself.
func (f *FlatMember) Parent() string {
	at := strings.LastIndexByte(f.Path, '.')
	if at < 0 {
		return ""
	}
	return f.Path[:at]
}
