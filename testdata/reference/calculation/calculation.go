// Package calculation computes the outputs of testdata/reference with the functions of the
// domain, one table of calculations for each package, so that tests and the command that
// lists the checks hold the same numbers. To add one, write a row in the table of its
// package; a package of its own gets a row in tables.
package calculation

import (
	"fmt"
	"math"

	"swarf/testdata/reference"
)

// given reads the inputs of one output, metric; the first that is missing is kept.
type given struct {
	c   *reference.Check
	o   *reference.Output
	err error
}

func (g *given) has(name string) bool {
	_, own := g.o.Inputs[name]
	_, shared := g.c.Inputs[name]
	return own || shared
}

func (g *given) in(name, unit string) float64 {
	v, err := g.c.Input(g.o, name, unit)
	if err != nil {
		return g.failed(err)
	}
	return v
}

// or is an input, or what the convention takes where a source says nothing.
func (g *given) or(name, unit string, otherwise float64) float64 {
	if g.has(name) {
		return g.in(name, unit)
	}
	return otherwise
}

func (g *given) failed(err error) float64 {
	if g.err == nil {
		g.err = err
	}
	return math.NaN()
}

// table holds the calculations of a package by their names in testdata/reference, each
// with the unit it is in.
type table[T any] map[string]struct {
	unit string
	of   func(T) float64
}

// calculate finds a calculation and does it.
type calculate func(quantity string, g *given) (value float64, unit string, ok bool)

// in makes a calculate of a table.
func in[T any](t table[T], on func(*given) T) calculate {
	return func(quantity string, g *given) (float64, string, bool) {
		row, ok := t[quantity]
		if !ok {
			return 0, "", false
		}
		return row.of(on(g)), row.unit, true
	}
}

// tables are the calculations by domain package.
var tables = map[string]calculate{
	"kinematics": in(motionTable, func(g *given) motions { return motions{g} }),
	"force":      in(forceTable, func(g *given) forces { return forces{g} }),
	"machine":    in(driveTable, func(g *given) drives { return drives{g} }),
	"material":   in(metalTable, func(g *given) metals { return metals{g} }),
	"correction": in(registerTable, func(g *given) registers { return registers{g} }),
	"stiffness":  in(beamTable, func(g *given) beams { return beams{g} }),
	"thread":     in(threadTable, func(g *given) threads { return threads{g} }),
	"life":       in(lifeTable, func(g *given) edges { return edges{g} }),
}

// digits is what the recomputed values, of six or seven digits, can differ by; the sources of
// threads round their constants to six.
var digits = map[string]float64{"thread": 2e-6, "stiffness": 2e-6, "life": 2e-6}

// Of computes an output in its own unit.
//
// Errors: an unknown package or quantity, a missing input, units that do not convert.
func Of(c *reference.Check, o *reference.Output) (float64, error) {
	do, ok := tables[o.By]
	if !ok {
		return 0, fmt.Errorf("no calculations of %s", o.By)
	}
	g := &given{c: c, o: o}
	value, unit, ok := do(o.Quantity, g)
	switch {
	case !ok:
		return 0, fmt.Errorf("no calculation of %s in %s", o.Quantity, o.By)
	case g.err != nil:
		return 0, g.err
	}
	return reference.Convert(value, unit, o.Unit)
}

// Hold computes an output and holds it against what is printed.
func Hold(c *reference.Check, o *reference.Output) (value float64, err error) {
	if value, err = Of(c, o); err != nil {
		return value, err
	}
	within := digits[o.By]
	if within == 0 {
		within = 1e-6
	}
	return value, c.Hold(o, value, within)
}
