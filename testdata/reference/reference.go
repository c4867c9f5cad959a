// Package reference holds what must come out: printed results of published worked
// examples and tables, with their source, as files of this folder, and the means
// to hold a computed number against them. Constants that go in stand elsewhere
// (db/data) and are transcribed apart.
//
// Evidence is ranked by Standing. Rows in files named derived-… were computed for
// this project: they check arithmetic and are no evidence.
package reference

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"iter"
	"math"
	"strings"
)

//go:embed *.json
var files embed.FS

// Standing says how good the evidence behind a check is.
type Standing string

// The standings.
const (
	Published      Standing = "published"       // printed result, seen in the source or in an open transcription of it
	Recalled       Standing = "recalled"        // printed result or a constant of it written down from memory of the source
	Exercise       Standing = "exercise"        // the source sets the problem and prints no answer; the answer is ours
	CommonPractice Standing = "common practice" // known in the trade, no source
	Self           Standing = "self"            // computed for this project: not evidence
)

// Use says what a test expects of an output.
type Use string

// The uses.
const (
	Golden    Use = "golden"    // the recomputed value, and the printed one once rounded to its digits
	Corrected Use = "corrected" // the recomputed value; the printed one is off for the reason in the note
	Negative  Use = "negative"  // the recomputed value where there is one, and never the printed one
	Table     Use = "table"     // as golden, row by row of a table
	Unprinted Use = "unprinted" // the recomputed value; the source prints none
)

// Number is a value in a unit (a UCUM code, "1" for a pure number).
type Number struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Check is one worked example or table.
type Check struct {
	ID        string `json:"id"`
	Title     string `json:"title"`
	Operation string `json:"operation"`
	// Standard names the standard whose table the results are rows of; the table counts once.
	Standard   string            `json:"standard,omitempty"`
	Source     string            `json:"source"`
	Address    string            `json:"address,omitempty"`
	Place      string            `json:"place,omitempty"`
	Standing   Standing          `json:"standing"`
	Evidence   string            `json:"evidence,omitempty"`
	Use        Use               `json:"use"`
	Convention string            `json:"convention,omitempty"`
	Note       string            `json:"note,omitempty"`
	Inputs     map[string]Number `json:"inputs"`
	// Request is the example as a body of POST /v1/estimates, or of another Route,
	// where it can be asked.
	Route   string          `json:"route,omitempty"`
	Request json.RawMessage `json:"request,omitempty"`
	Outputs []Output        `json:"outputs"`
}

// Output is one result of a check.
type Output struct {
	Name       string   `json:"name"`
	Printed    string   `json:"printed,omitempty"`
	Digits     int      `json:"digits,omitempty"`     // significant digits of Printed
	Recomputed *float64 `json:"recomputed,omitempty"` // in full precision from the inputs as given
	Unit       string   `json:"unit"`                 // of Printed and Recomputed
	Use        Use      `json:"use,omitempty"`        // of this output; the check's when absent
	// By names the domain package whose function gives this output, and Quantity
	// the calculation in that package's reference test.
	By       string `json:"by,omitempty"`
	Quantity string `json:"quantity,omitempty"`
	// Inputs of this output beside or instead of those of the check.
	Inputs map[string]Number `json:"inputs,omitempty"`
	// Path is where the answer to Request holds it; With are members of Request,
	// by dotted path, that this output asks differently.
	Path string                     `json:"path,omitempty"`
	With map[string]json.RawMessage `json:"with,omitempty"`
	Note string                     `json:"note,omitempty"`
	// Unused says why nothing of ours is held against this output.
	Unused string `json:"unused,omitempty"`
}

// File is one file of checks.
type File struct {
	Topic  string  `json:"topic"`
	About  string  `json:"about"`
	Checks []Check `json:"checks"`
	Name   string  `json:"-"`
}

// Unused is a row of the evidence that no check was made of.
type Unused struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Reason string `json:"reason"`
}

// Load reads every file of checks and refuses what is incomplete.
func Load() ([]File, error) {
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return nil, err
	}
	var all []File
	seen := make(map[string]string)
	for _, name := range names {
		if name == "unused.json" {
			continue
		}
		f := File{Name: name}
		if err := read(name, &f); err != nil {
			return nil, err
		}
		for i := range f.Checks {
			c := &f.Checks[i]
			if other, ok := seen[c.ID]; ok {
				return nil, fmt.Errorf("%s: check %s stands in %s too", name, c.ID, other)
			}
			seen[c.ID] = name
			if err := c.complete(); err != nil {
				return nil, fmt.Errorf("%s: check %s: %w", name, c.ID, err)
			}
			if derived := strings.HasPrefix(name, "derived-"); derived != (c.Standing == Self) {
				return nil, fmt.Errorf("%s: check %s: standing %q does not belong in this file", name, c.ID, c.Standing)
			}
		}
		all = append(all, f)
	}
	return all, nil
}

// LoadUnused reads the rows that no check was made of.
func LoadUnused() ([]Unused, error) {
	var f struct {
		About string   `json:"about"`
		Rows  []Unused `json:"rows"`
	}
	err := read("unused.json", &f)
	return f.Rows, err
}

func read(name string, into any) error {
	text, err := files.ReadFile(name)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// UseOf is what a test expects of an output.
func (c *Check) UseOf(o *Output) Use {
	if o.Use != "" {
		return o.Use
	}
	return c.Use
}

// Input is an input of an output in a unit: the output's own, else the check's.
func (c *Check) Input(o *Output, name, unit string) (float64, error) {
	n, ok := o.Inputs[name]
	if !ok {
		n, ok = c.Inputs[name]
	}
	if !ok {
		return math.NaN(), fmt.Errorf("no input %s", name)
	}
	return Convert(n.Value, n.Unit, unit)
}

// Outputs walks the outputs that a domain package answers for.
func Outputs(all []File, by string) iter.Seq2[*Check, *Output] {
	return func(yield func(*Check, *Output) bool) {
		for f := range all {
			for i := range all[f].Checks {
				c := &all[f].Checks[i]
				for j := range c.Outputs {
					if o := &c.Outputs[j]; o.By == by && !yield(c, o) {
						return
					}
				}
			}
		}
	}
}
