package api_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"swarf/testdata/reference"
)

// answerDigits is what six significant digits in the answer and seven in the
// recomputed value can differ by.
const answerDigits = 6e-6

// Published examples asked over HTTP: each request once, each output at its path,
// in the unit of the source.
func TestPrintedExamplesOverHTTP(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	h := embeddedService(t)
	standings := make(map[reference.Standing]int)
	for f := range files {
		for i := range files[f].Checks {
			c := &files[f].Checks[i]
			if len(c.Request) == 0 {
				continue
			}
			answers := make(map[string]reply)
			for j := range c.Outputs {
				o := &c.Outputs[j]
				if o.Path == "" {
					continue
				}
				standings[c.Standing]++
				t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
					body := overridden(t, c.Request, o.With)
					got, asked := answers[string(body)]
					if !asked {
						got = ask(t, h, cmp.Or(c.Route, "POST /v1/estimates"), body)
						answers[string(body)] = got
					}
					if err := holdAnswer(c, o, got); err != nil {
						t.Errorf("%s (%s): %v", c.Title, c.Source, err)
					}
				})
			}
		}
	}
	t.Logf("outputs held over HTTP by standing: %v", standings)
	if standings[reference.Published] < 40 {
		t.Errorf("only %d published outputs were held", standings[reference.Published])
	}
}

// holdAnswer takes an output from an answer, in the unit of the source.
func holdAnswer(c *reference.Check, o *reference.Output, got reply) error {
	if got.status != 200 {
		return fmt.Errorf("status %d: %.2000s", got.status, got.body)
	}
	nodes, err := find(got.doc, o.Path)
	if err != nil {
		return err
	}
	value, ok := nodes[0].value.(float64)
	if !ok || len(nodes) != 1 {
		return fmt.Errorf("%d values at %s, the first %v", len(nodes), o.Path, nodes[0].value)
	}
	if o.Unit != "1" {
		unit := nodes[0].unit(got.doc)
		if unit == "" {
			return fmt.Errorf("unit_of says nothing of %s", o.Path)
		}
		if value, err = reference.Convert(value, unit, o.Unit); err != nil {
			return err
		}
	}
	return c.Hold(o, value, answerDigits)
}

// overridden is a request with members, by dotted path, in place of its own.
func overridden(t *testing.T, request json.RawMessage, with map[string]json.RawMessage) []byte {
	t.Helper()
	if len(with) == 0 {
		return request
	}
	var body map[string]any
	if err := json.Unmarshal(request, &body); err != nil {
		t.Fatal(err)
	}
	for path, text := range with {
		var value any
		if err := json.Unmarshal(text, &value); err != nil {
			t.Fatal(err)
		}
		at := body
		steps := strings.Split(path, ".")
		for _, step := range steps[:len(steps)-1] {
			next, ok := at[step].(map[string]any)
			if !ok {
				next = make(map[string]any)
				at[step] = next
			}
			at = next
		}
		at[steps[len(steps)-1]] = value
	}
	out, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
