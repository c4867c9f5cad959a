package estimate

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/kinematics"
)

// Holes is a chain of holes along a slot.
type Holes struct {
	Count             float64
	PitchMM, WebMM    float64 // web: what stands between two holes; negative where they overlap
	RemovedShareRatio float64 // of the slot's area
	RestWidthMM       float64 // what a rest pass meets across the slot where two holes are farthest from it
	Order             string
}

// chainOrder leaves metal on both sides of every hole but the last ones. Common practice,
// no source.
const chainOrder = "every second hole first, then those between"

// HoleDepthMM is the depth to the full diameter: of a chain the slot's less what is
// left on its floor.
//
// Range: a checked hole. Errors: none. Source: definition.
func HoleDepthMM(c *cut.Cut) float64 {
	if d := c.Engagement.HoleDepthMM; d != nil {
		return *d
	}
	return *c.Engagement.SlotDepthMM - *c.Engagement.FloorAllowanceMM
}

// holesOf counts the holes of a chain, ⌊(L − 2·wall − D)/pitch⌋ + 1, and the share
// they take of the slot, N·π·D²/4 over its area, less what overlapping holes share. At a
// web the rest pass meets the slot's whole width, or what two overlapping holes leave.
func holesOf(c *cut.Cut) *Holes {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	if en.SlotLengthMM == nil {
		return nil
	}
	pitch := *en.PitchMM
	count := math.Floor((*en.SlotLengthMM-2**en.WallAllowanceMM-d)/pitch+1e-9) + 1
	h := &Holes{Count: count, PitchMM: pitch, WebMM: pitch - d, RestWidthMM: *en.SlotWidthMM, Order: chainOrder}
	area := count * math.Pi / 4 * d * d
	if pair := (kinematics.Pair{DiameterMM: d, PitchMM: pitch}); pitch < d && count > 1 {
		area -= (count - 1) * kinematics.SharedAreaMM2(pair)
		h.RestWidthMM -= d - 2*kinematics.CuspHeightMM(pair)
	}
	h.RemovedShareRatio = area / (*en.SlotLengthMM * *en.SlotWidthMM)
	return h
}
