package smell

import (
	"math"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// ranges checks every range of the records.
func ranges(b *book) {
	for i := range b.Force {
		r := &b.Force[i]
		b.row()
		b.span("force", r.ID, "chip thickness", r.ChipThickness, unit.Length)
		b.span("force", r.ID, "hardness", r.Hardness, unit.None)
		b.span("force", r.ID, "speed", r.Speed, unit.Speed)
	}
	for i := range b.Starting {
		r := &b.Starting[i]
		b.row()
		b.span("starting", r.ID, "speed", r.Speed, unit.Speed)
		feed := unit.Length
		if r.FeedKind == material.DiameterPerTurn || r.FeedKind == material.DiameterPerTooth {
			feed = unit.None
		}
		b.span("starting", r.ID, "feed", r.Feed, feed)
		b.span("starting", r.ID, "hardness", r.Hardness, unit.None)
	}
}

// span checks one range.
func (b *book) span(kind, id, what string, r domain.Range, quantity unit.Quantity) {
	if !r.Known() {
		return
	}
	b.failIf(r.Quantity != quantity, kind, id, "%s is a range of %s, not of %s", what, r.Quantity.Name(), quantity.Name())
	for _, end := range []unit.Opt{r.Low, r.High} {
		b.failIf(end.OK && (math.IsNaN(end.V) || math.IsInf(end.V, 0) || end.V < 0), kind, id, "%s: %v cannot be", what, end.V)
	}
	b.failIf(r.Low.OK && r.High.OK && r.Low.V > r.High.V, kind, id, "%s: low %v is above high %v", what, r.Low.V, r.High.V)
	b.failIf(r.High.OK && r.High.V == 0, kind, id, "%s ends at zero", what)
}

// validity finds laws without a range of chips, and numbers that do not go with their
// method.
func validity(b *book) {
	for i := range b.Force {
		r := &b.Force[i]
		b.row()
		pair := r.SpecificCuttingForce11NPerMM2.OK && r.ChipThicknessExp.OK
		switch r.Method {
		case material.Kienzle:
			b.failIf(!pair, "force", r.ID, "a pair needs kc1.1 and mc")
			b.failIf(!r.ChipThickness.Low.OK || !r.ChipThickness.High.OK, "force", r.ID, "no range of chip thickness")
		case material.UnitPower:
			b.failIf(!r.EnergyJPerMM3.OK, "force", r.ID, "no energy")
			b.failIf(r.EnergyThicknessMM.OK != r.EnergyThicknessExp.OK, "force", r.ID, "the thickness of an energy and its exponent go together")
		case material.DrillWork:
			b.failIf(!r.DrillWorkFactor.OK, "force", r.ID, "no factor of the drilling method")
		default:
			b.failIf(true, "force", r.ID, "no method %q", r.Method)
		}
		b.failIf(r.FeedForce11NPerMM2.OK != r.FeedForceExp.OK || r.PassiveForce11NPerMM2.OK != r.PassiveForceExp.OK, "force", r.ID, "a force at h = 1 mm and its exponent go together")
	}
}
