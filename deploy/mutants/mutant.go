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
}

// all lists every mutant.
func all() []mutant { return slices.Concat(computation, judgement, edge, storage) }

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

// overlay writes the file with the fault and what tells the go command to build with it, so
// that the tree is never touched; it returns the path of the latter.
func (m *mutant) overlay(top, dir string) (string, error) {
	text, err := m.apply(top)
	if err != nil {
		return "", err
	}
	planted, list := filepath.Join(dir, "planted"+filepath.Ext(m.file)), filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(planted, text, 0o644); err != nil {
		return "", err
	}
	replace, err := json.Marshal(map[string]map[string]string{"Replace": {filepath.Join(top, m.file): planted}})
	if err != nil {
		return "", err
	}
	return list, os.WriteFile(list, replace, 0o644)
}
