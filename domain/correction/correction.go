// Package correction turns a measured size into the change of a tool register, with
// its sign.
package correction

import (
	"math"

	"swarf/domain"
	"swarf/domain/unit"
)

// Feature is a measured feature of a part.
type Feature struct {
	Internal           bool    // a bore or pocket; otherwise a boss or a turned diameter
	SidesCount         float64 // sides that the tool cuts: 1, or 2 for a width or a diameter
	ProgrammedMM       float64
	ErrorMM            float64  // measured less programmed
	Diameter           bool     // the register counts on the diameter, otherwise on the radius
	TemperatureCelsius *float64 // of the part when it was measured; nil: 20 °C
	ExpansionPerMK     *float64 // 10⁻⁶/K; nil: not known
}

// Correction is what to add to the register, and what must be read with it.
type Correction struct {
	ValueMM   float64 // negative takes more off
	GrowthMM  float64 // of the warm part, taken off the error
	Findings  []domain.Finding
	Unchecked []domain.Unchecked
}

// referenceC is the temperature at which sizes hold (ISO 1).
const referenceC = 20.0

// largeMM is an error past which a cause is looked for first. Common practice, no source.
const largeMM = 0.1

// Of returns the change of the register: the stock left on each side, which is the
// error over the sides cut (its opposite in a bore), taken off; twice that where the
// register counts on the diameter.
//
// Range: one or two sides. Errors: none; the caller has checked. Source: geometry; a
// feature cut on both sides that is 5 thousandths over is corrected by half of it on
// each side (common practice).
func Of(f Feature) Correction {
	var c Correction
	sizeError := f.ErrorMM
	c.warm(f)
	sizeError -= c.GrowthMM
	left := sizeError / f.SidesCount
	if f.Internal {
		left = -left
	}
	c.ValueMM = 0 - left // never a negative nought
	if f.Diameter {
		c.ValueMM *= 2
	}
	if math.Abs(sizeError) > largeMM*(1+1e-9) {
		c.Findings = append(c.Findings, domain.Finding{Code: "error-large", Severity: domain.Warning, Field: "measured",
			Value: unit.Of(unit.Length, math.Abs(sizeError)), Limit: unit.Of(unit.Length, largeMM),
			Message: "the error is {value}; over {limit} something else is wrong", Fix: "look for the cause first: tool, clamping, datum, a warm part, the wrong register"})
	}
	return c
}

// warm takes the growth of a part that was not at 20 °C off the error.
func (c *Correction) warm(f Feature) {
	if f.TemperatureCelsius == nil || math.Abs(*f.TemperatureCelsius-referenceC) < 1e-9 {
		return
	}
	if f.ExpansionPerMK == nil {
		c.Unchecked = append(c.Unchecked, domain.Unchecked{Check: "thermal-growth", Needs: "the metal's expansion, or a part at 20 °C"})
		return
	}
	c.GrowthMM = f.ProgrammedMM * *f.ExpansionPerMK * 1e-6 * (*f.TemperatureCelsius - referenceC)
	c.Findings = append(c.Findings, domain.Finding{Code: "thermal-growth", Severity: domain.Note, Field: "temperature",
		Value: unit.Of(unit.Length, c.GrowthMM), Message: "the part was not at 20 °C; {value} of its size is growth and was taken off", Fix: "let it cool before the last cut"})
}
