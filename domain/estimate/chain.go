package estimate

import (
	"math"

	"swarf/domain/cut"
)

// Holes is a chain of holes along a slot.
type Holes struct {
	Count             float64
	PitchMM, WebMM    float64 // web: what stands between two holes; negative where they overlap
	RemovedShareRatio float64 // of the slot's area
}

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
// they take of the slot, N·π·D²/4 over its area.
func holesOf(c *cut.Cut) *Holes {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	if en.SlotLengthMM == nil {
		return nil
	}
	count := math.Floor((*en.SlotLengthMM-2**en.WallAllowanceMM-d) / *en.PitchMM + 1e-9) + 1
	return &Holes{Count: count, PitchMM: *en.PitchMM, WebMM: *en.PitchMM - d,
		RemovedShareRatio: count * math.Pi / 4 * d * d / (*en.SlotLengthMM * *en.SlotWidthMM)}
}
