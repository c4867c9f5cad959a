package cut

import "swarf/domain/unit"

// A chain of holes opens a narrow slot before the rest is milled.
var chainDrilling = Operation{
	Name: "chain-drilling", Family: HoleFamily,
	Required: []string{"slot_width", "slot_length", "slot_depth", "pitch", "wall_allowance", "floor_allowance"},
	Optional: []string{"approach", "retract"},
	Check:    checkChain,
}

// checkChain refuses drills that do not fit between the allowances.
func checkChain(c *Cut, f *Faults) {
	en, d := &c.Engagement, *c.Tool.CuttingDiameterMM
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	need := d + 2**en.WallAllowanceMM
	if *en.SlotWidthMM < need*(1-1e-9) {
		f.Impossible("engagement.slot_width", "slot_width {value} has no room for the drill and its allowances, {limit}", length(*en.SlotWidthMM), length(need), "a smaller drill, or less wall_allowance")
	}
	if *en.SlotLengthMM < need*(1-1e-9) {
		f.Impossible("engagement.slot_length", "slot_length {value} has no room for the drill and its allowances, {limit}", length(*en.SlotLengthMM), length(need), "a smaller drill, or less wall_allowance")
	}
	if *en.FloorAllowanceMM >= *en.SlotDepthMM {
		f.Impossible("engagement.floor_allowance", "floor_allowance {value} leaves nothing of slot_depth {limit}", length(*en.FloorAllowanceMM), length(*en.SlotDepthMM), "send what is left on the floor")
	}
}
