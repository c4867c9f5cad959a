package material_test

import (
	"testing"

	"swarf/db/data"
	"swarf/domain/material"
	"swarf/testdata/reference"
)

// scales are the conversions that testdata/reference asks for by name.
var scales = map[string]material.Scale{"brinell_of_vickers": material.HBW, "rockwell_c_of_vickers": material.HRC}

// The conversion table that ships, held against figures that were transcribed apart
// from it.
func TestReference(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	embedded, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	table, err := material.NewHardnessTable(embedded.Hardness)
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, "material") {
		held++
		t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
			scale, ok := scales[o.Quantity]
			if !ok {
				t.Fatalf("no calculation of %s", o.Quantity)
			}
			hv, err := c.Input(o, "hardness", "HV")
			if err != nil {
				t.Fatal(err)
			}
			got, err := table.To(material.Hardness{Value: hv, Scale: material.HV}, scale)
			if err != nil {
				t.Fatal(err)
			}
			if err := c.Hold(o, got, 1e-9); err != nil {
				t.Errorf("%s (%s): %v", c.Title, c.Source, err)
			}
		})
	}
	if held < 9 {
		t.Errorf("only %d outputs were held against the table", held)
	}
}
