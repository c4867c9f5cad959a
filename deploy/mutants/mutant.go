package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is a fault planted on purpose: in a file, a text that stands there once is another
// one. Test, in the package Of, must fail with it.
type mutant struct {
	name     string // what is wrong, in words
	file     string // from the top of the tree
	old, new string
	of, test string
	too      *mutant // a second place of the same fault: file, old and new
}

// and is the mutant with a fault in another file as well.
func (m mutant) and(file, old, new string) mutant {
	m.too = &mutant{name: m.name, file: file, old: old, new: new}
	return m
}

// all lists every mutant.
func all() []mutant { return slices.Concat(computation, judgement, edge, storage, access) }

// places are all of them.
func (m *mutant) places() []*mutant {
	if m.too == nil {
		return []*mutant{m}
	}
	return []*mutant{m, m.too}
}

// apply is the file with the fault in it.
func (m *mutant) apply(top string) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(top, m.file))
	if err != nil {
		return nil, err
	}
	if n := strings.Count(string(text), m.old); n != 1 || m.old == m.new {
		return nil, fmt.Errorf("%s: %q stands %d times in %s, once is what it must", m.name, m.old, n, m.file)
	}
	return []byte(strings.Replace(string(text), m.old, m.new, 1)), nil
}

// overlay writes the files with the fault and what tells the go command to build with them,
// so that the tree is never touched; it returns the path of the latter.
func (m *mutant) overlay(top, dir string) (string, error) {
	replace := map[string]string{}
	for i, place := range m.places() {
		text, err := place.apply(top)
		if err != nil {
			return "", err
		}
		planted := filepath.Join(dir, fmt.Sprintf("planted%d%s", i, filepath.Ext(place.file)))
		if err := os.WriteFile(planted, text, 0o644); err != nil {
			return "", err
		}
		replace[filepath.Join(top, place.file)] = planted
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": replace})
	if err != nil {
		return "", err
	}
	list := filepath.Join(dir, "overlay.json")
	return list, os.WriteFile(list, text, 0o644)
}
