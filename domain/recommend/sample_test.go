package recommend_test

import (
	"swarf/domain/cut/cuttest"
	"swarf/domain/machine"
)

// The samples of cuttest by short names.
var (
	n                                   = cuttest.N
	turningCut, drillingCut, millingCut = cuttest.Turning, cuttest.Drilling, cuttest.Milling
)

// spindle makes a machine by its power in kW, torque in N·m and speed per minute.
func spindle(power, torque, speed float64) *machine.Machine {
	return cuttest.Machine(cuttest.Drive{PowerKW: power, TorqueNm: torque, MaxSpeedPerMin: speed})
}
