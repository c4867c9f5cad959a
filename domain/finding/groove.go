package finding

import (
	"math"

	"swarf/domain"
	"swarf/domain/unit"
)

// groove judges grooves and parting: reach of the blade, first diameter, catching.
func (j *judge) groove() {
	en, t := &j.c.Engagement, &j.c.Tool
	depth, ok := given(en.DepthMM)
	if !ok {
		return
	}
	if reach, known := given(t.MaxCuttingDepthMM); !known {
		j.unchecked("max_cutting_depth", "tool.max_cutting_depth")
	} else if over(depth, reach) {
		j.says("depth-beyond-usable-length", domain.Refusal, "engagement.depth", unit.Length, depth, reach,
			"the groove is {value} deep; the blade reaches {limit}", "a longer blade")
	}
	if en.Direction == "axial" {
		d := *en.WorkDiameterMM
		if low, known := given(t.GrooveDiameterMinMM); known && d < low {
			j.says("groove-diameter-out-of-range", domain.Refusal, "engagement.work_diameter", unit.Length, d, low,
				"the first groove at {value} is under the blade's {limit}", "another blade")
		}
		if high, known := given(t.GrooveDiameterMaxMM); known && over(d, high) {
			j.says("groove-diameter-out-of-range", domain.Refusal, "engagement.work_diameter", unit.Length, d, high,
				"the first groove at {value} is over the blade's {limit}", "another blade")
		}
	}
	if j.c.Operation.Name == "parting" && !j.caught() {
		j.tells("part-uncaught", domain.Warning, "work_holding.catcher", "nothing is named that catches the piece", "a catcher, or a bar support; guards closed")
	}
}

// caught reports a catcher on the cut or the machine.
func (j *judge) caught() bool {
	if h := j.c.WorkHolding; h != nil && h.Catcher != nil {
		return *h.Catcher
	}
	if m := j.c.Machine; m != nil && m.WorkHolding != nil && m.WorkHolding.Catcher != nil {
		return *m.WorkHolding.Catcher
	}
	return false
}

// cap notes where constant surface speed meets the highest speed, on the way to the
// centre.
func (j *judge) cap() {
	name := j.c.Operation.Name
	if j.e.Machine == nil || name != "facing" && name != "parting" {
		return
	}
	top := j.e.Machine.Machine.Spindle.MaxSpeedPerMin
	if l, ok := j.e.Machine.Limit("chuck_speed"); ok {
		top = min(top, l.Allowed)
	}
	d := 1000 * j.e.Motion.CuttingSpeedMPerMin / (math.Pi * top)
	if d > 0 && d < *j.c.Engagement.WorkDiameterMM {
		j.list = append(j.list, domain.Finding{Code: "speed-limit-bites", Severity: domain.Note, Field: "parameters.cutting_speed",
			Value: j.measure(unit.Length, d), Limit: j.measure(unit.Rotation, top),
			Message: "below a diameter of {value} the spindle is at its {limit} and the edge slows down", Fix: ""})
	}
}

func (j *judge) unchecked(check, needs string) {
	j.e.Unchecked = append(j.e.Unchecked, domain.Unchecked{Check: check, Needs: needs})
}
