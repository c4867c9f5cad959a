package reference

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// complete refuses a check that says too little to be held against anything.
func (c *Check) complete() error {
	if c.ID == "" || c.Title == "" || c.Operation == "" || len(c.Outputs) == 0 {
		return errors.New("an id, a title, an operation and outputs are needed")
	}
	switch c.Standing {
	case Published, Recalled, Exercise:
		if c.Source == "" {
			return errors.New("no source")
		}
	case CommonPractice, Self:
	default:
		return fmt.Errorf("standing %q", c.Standing)
	}
	for i := range c.Outputs {
		if err := c.Outputs[i].complete(c); err != nil {
			return fmt.Errorf("output %s: %w", c.Outputs[i].Name, err)
		}
	}
	return nil
}

func (o *Output) complete(c *Check) error {
	if o.Unused != "" {
		if o.By != "" || o.Path != "" {
			return errors.New("both used and unused")
		}
		return nil
	}
	if o.By == "" && o.Path == "" {
		return errors.New("neither a function nor a path of an answer")
	}
	if (o.By == "") != (o.Quantity == "") {
		return errors.New("a function needs both by and quantity")
	}
	if o.Path != "" && len(c.Request) == 0 {
		return errors.New("a path without a request")
	}
	if o.Printed != "" {
		value, err := o.PrintedValue()
		if err != nil {
			return err
		}
		if o.Digits < 1 || o.Digits > 12 {
			return errors.New("printed digits are not counted")
		}
		if strings.Contains(o.Printed, ".") && value != 0 && o.halfUnit() < decimals(o.Printed)*0.99 {
			return fmt.Errorf("%d digits are more than %s prints", o.Digits, o.Printed)
		}
	}
	switch use := c.UseOf(o); use {
	case Golden, Table, Negative:
		if o.Printed == "" {
			return fmt.Errorf("%s without a printed figure", use)
		}
	case Corrected, Unprinted:
	default:
		return fmt.Errorf("use %q", use)
	}
	if o.Recomputed == nil && c.UseOf(o) != Negative {
		return errors.New("no recomputed value")
	}
	return nil
}

// decimals is half a unit of the last decimal place of a printed figure.
func decimals(printed string) float64 {
	_, after, _ := strings.Cut(printed, ".")
	return 0.5 * math.Pow10(-len(after))
}

// PrintedValue is the printed figure as a number.
func (o *Output) PrintedValue() (float64, error) { return strconv.ParseFloat(o.Printed, 64) }

// halfUnit is half a unit of the last significant digit printed.
func (o *Output) halfUnit() float64 {
	value, _ := o.PrintedValue()
	if value == 0 {
		return decimals(o.Printed)
	}
	return 0.5 * math.Pow10(int(math.Floor(math.Log10(math.Abs(value))))+1-o.Digits)
}

// Hold holds a computed value, in the output's unit, against the output. relative
// is the largest difference from the recomputed value, as a share of it, that the
// digits of both can explain.
func (c *Check) Hold(o *Output, got, relative float64) error {
	if math.IsNaN(got) || math.IsInf(got, 0) {
		return fmt.Errorf("got %v", got)
	}
	if want := o.Recomputed; want != nil && math.Abs(got-*want) > relative*math.Abs(*want) {
		return fmt.Errorf("got %.8g %s, recomputed %.8g, %+.2g off", got, o.Unit, *want, got / *want - 1)
	}
	if o.Printed == "" {
		return nil
	}
	printed, err := o.PrintedValue()
	if err != nil {
		return err
	}
	// A value midway between two figures may have been printed as either.
	rounds := math.Abs(got-printed) <= o.halfUnit()*(1+1e-6)+relative*math.Abs(printed)*1e-3
	switch c.UseOf(o) {
	case Golden, Table:
		if !rounds {
			return fmt.Errorf("got %.8g %s, which does not round to the printed %s", got, o.Unit, o.Printed)
		}
	case Negative:
		if rounds {
			return fmt.Errorf("got %.8g %s: the mistake printed as %s is reproduced", got, o.Unit, o.Printed)
		}
	}
	return nil
}
