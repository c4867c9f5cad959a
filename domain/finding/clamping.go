package finding

import (
	"strconv"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// Loads from which an unknown clamping must be decided by a person. Common
// practice, no source.
const (
	clampForceN     = 3000
	clampSpeedRatio = 0.5
)

// clamping holds cuts that could throw the part when nothing is known of how it is
// held; lighter cuts are listed as unchecked.
func (j *judge) clamping() {
	m, held := j.c.Machine, estimate.Holding(j.c)
	if g := j.e.Grip; g != nil {
		if over(g.NeededN, g.AtSpeedN) {
			j.says("grip-insufficient", domain.Refusal, "work_holding.static_grip", unit.Force, g.AtSpeedN, g.NeededN,
				"at "+strconv.FormatFloat(g.SpeedPerMin, 'f', 0, 64)+"/min the chuck holds with {value}; a worn edge needs {limit}", "lower speed, less depth or feed, more grip, lighter jaws")
		}
		return
	}
	if held != nil && (held.StaticGripN.OK || j.c.Operation.Family == cut.MillingFamily && held.Kind != "") {
		return
	}
	n := j.e.Motion.SpindleSpeedPerMin
	if j.c.Operation.Family == cut.TurningFamily && m != nil {
		limit := m.Spindle.MaxSpeedPerMin
		if held != nil && held.MaxSpeedPerMin.OK {
			limit = held.MaxSpeedPerMin.V
		} else if m.WorkHolding != nil && m.WorkHolding.MaxSpeedPerMin.OK {
			limit = m.WorkHolding.MaxSpeedPerMin.V
		}
		if over(n, clampSpeedRatio*limit) {
			j.says("clamping-unknown", domain.Hold, "work_holding", unit.Rotation, n, clampSpeedRatio*limit,
				"{value} is over half the chuck's speed ({limit}) and nothing is known of the grip", "give the grip in work_holding")
			return
		}
	}
	if j.c.Operation.Family == cut.MillingFamily && over(j.worn.CuttingForceN, clampForceN) {
		j.says("clamping-unknown", domain.Hold, "work_holding", unit.Force, j.worn.CuttingForceN, clampForceN,
			"a worn edge pushes with {value}, over {limit}, and nothing is known of the clamping", "give the clamping in work_holding")
		return
	}
	j.e.Unchecked = append(j.e.Unchecked, domain.Unchecked{Check: "clamping", Needs: "work_holding: kind, static_grip, friction"})
}
