package machine_test

import (
	"testing"

	"swarf/domain/machine"
	"swarf/testdata/reference"
)

// drive is the spindle of a check: one gear, one continuous rating, a pair.
type drive struct {
	t      *testing.T
	c      *reference.Check
	o      *reference.Output
	rating machine.Rating
}

func (d drive) in(name, unit string) float64 {
	d.t.Helper()
	v, err := d.c.Input(d.o, name, unit)
	if err != nil {
		d.t.Fatalf("%s, %s: %v", d.c.ID, d.o.Name, err)
	}
	return v
}

// torque and power are what is left at the tool.
func (d drive) torque() float64 {
	return d.rating.TorqueNmAt(d.in("spindle_speed", "/min")) * d.in("efficiency", "1")
}

func (d drive) power() float64 {
	return d.rating.PowerKWAt(d.in("spindle_speed", "/min")) * d.in("efficiency", "1")
}

var calculations = map[string]struct {
	unit string
	of   func(drive) float64
}{
	"available_torque": {"N.m", drive.torque},
	"available_power":  {"kW", drive.power},
	"available_force":  {"N", func(d drive) float64 { return d.torque() / (d.in("diameter", "mm") / 2000) }},
	"torque_ratio": {"1", func(d drive) float64 {
		return d.rating.TorqueNmAt(d.in("base_speed", "/min")) / d.rating.TorqueNmAt(d.in("top_speed", "/min"))
	}},
}

// recomputedDigits is what the seven digits of the recomputed values can differ by.
const recomputedDigits = 1e-6

func TestReference(t *testing.T) {
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for c, o := range reference.Outputs(files, "machine") {
		held++
		t.Run(c.ID+"/"+o.Name, func(t *testing.T) {
			calculate, ok := calculations[o.Quantity]
			if !ok {
				t.Fatalf("no calculation of %s", o.Quantity)
			}
			d := drive{t: t, c: c, o: o}
			d.rating = machine.Rating{Duty: machine.Continuous, PowerKW: d.in("power", "kW"), TorqueNm: d.in("torque", "N.m")}
			got, err := reference.Convert(calculate.of(d), calculate.unit, o.Unit)
			if err != nil {
				t.Fatal(err)
			}
			if err := c.Hold(o, got, recomputedDigits); err != nil {
				t.Errorf("%s (%s): %v", c.Title, c.Source, err)
			}
		})
	}
	if held < 10 {
		t.Errorf("only %d outputs were held against machine", held)
	}
}
