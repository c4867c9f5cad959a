package main

import (
	"bytes"
	"strings"
	"testing"

	"swarf/db/data"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// The list names file and row of what it finds, and counts rows and checks.
func TestCheckDataLists(t *testing.T) {
	code, out, errs := swarf(t, nil, "check", "--data")
	for _, want := range []string{"copied-digits", "designations.csv:", "420 is ambiguous on purpose", "checks of the embedded data: 21 on ", "0 errors, 0 warnings"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if code != 0 || errs != "" {
		t.Errorf("exit %d: %s", code, errs)
	}
}

// A fault fails the check, named by the place where it stands.
func TestCheckFailsOnAFault(t *testing.T) {
	d, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	var id string
	for i := range d.Force {
		if r := &d.Force[i]; r.Source == "kienzle-victor" && r.Method == material.Kienzle {
			r.SpecificCuttingForce11NPerMM2, id = unit.Some(306_000), r.ID
			break
		}
	}
	for _, stored := range []bool{false, true} {
		var out bytes.Buffer
		p := &program{out: &out}
		look, row := p.smells, "force/kienzle-victor.csv:"
		if stored {
			look, row = p.storedSmells, "force "+id
		}
		err = look(d, true)
		if err == nil || !strings.Contains(err.Error(), "1 findings that cannot be") || !strings.Contains(out.String(), row) ||
			!strings.Contains(out.String(), "kc1.1 306000 is outside 200 to 6000") || !strings.Contains(out.String(), "1 errors") {
			t.Errorf("stored %v: %v\n%s", stored, err, out.String())
		}
	}
}
