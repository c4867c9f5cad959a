package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
)

// Lean computes what the limits of a checked cut need and no more: loads by the law that
// serves, grip, deflection and the limits of its machine. It advises on no motion, compares
// no methods and cites no sources, but its limits have the digits of Of.
func Lean(c *cut.Cut) *Estimate {
	e := &Estimate{Cut: c, WearRatio: force.WornRatio, alone: true}
	if c.Force != nil && c.Force.WearRatio != nil {
		e.WearRatio = *c.Force.WearRatio
	}
	e.compute()
	e.grip()
	if c.Machine != nil {
		e.Machine = e.against(c.Machine)
	}
	e.deflect()
	if c.Engagement.SlotLengthMM != nil {
		e.Moves.Holes = holesOf(c)
	}
	return e
}
