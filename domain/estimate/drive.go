package estimate

import (
	"swarf/domain/force"
	"swarf/domain/machine"
)

// PowerAllowedKW is the cutting power a rating leaves at a speed: rated power less
// idle power, times the efficiency.
func PowerAllowedKW(m *machine.Machine, r *machine.Rating, speed float64) float64 {
	return max(0, r.LimitPowerKW(speed)-m.Spindle.IdlePowerKW) * m.Spindle.EfficiencyRatio
}

// TorqueAllowedNm is the torque at the tool up to which a rating's limits of torque and of
// power both hold at a speed: its largest torque times the efficiency, or what the cutting
// power that it leaves gives, whichever is less.
//
// Range: n > 0, a checked machine. Errors: none. Source: the contract's section 3.2.
func TorqueAllowedNm(m *machine.Machine, r *machine.Rating, speed float64) float64 {
	power := force.Driven{PowerKW: PowerAllowedKW(m, r, speed), SpindleSpeedPerMin: speed}
	return min(r.MaxTorqueNm()*m.Spindle.EfficiencyRatio, force.TorqueNm(power))
}

// Knees are the spindle speeds at which what a rating allows changes its law, from the
// slowest: where torque gives way to power; or where power first exceeds idling, and the
// points of its curve.
//
// Range: a checked machine. Errors: none. Source: as TorqueAllowedNm.
func Knees(m *machine.Machine, r *machine.Rating) []float64 {
	if len(r.Points) == 0 {
		power := force.PowerKW(force.Rotating{TorqueNm: r.TorqueNm, SpindleSpeedPerMin: 1}) // a turn a minute
		return []float64{max(0, r.PowerKW-m.Spindle.IdlePowerKW) / power}
	}
	first := r.Points[0]
	list := []float64{first.SpeedPerMin * m.Spindle.IdlePowerKW / first.PowerKW}
	for _, p := range r.Points {
		list = append(list, p.SpeedPerMin)
	}
	return list
}
