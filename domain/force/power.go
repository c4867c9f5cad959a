package force

import "math"

// kwPerNmPerMin is the power in kW of one N·m at one turn a minute: 2π/60,000, the
// reciprocal of the trade's rounded 9549.
const kwPerNmPerMin = 2 * math.Pi / 60000

// Rotating is a torque and the speed it turns at.
type Rotating struct{ TorqueNm, SpindleSpeedPerMin float64 }

// PowerKW returns Pc = M·n/9549 in kW (9549.3 exactly: 60,000/2π).
//
// Range: any. Errors: none. Source: definition of power; ISO 3002-4.
func PowerKW(r Rotating) float64 { return r.TorqueNm * r.SpindleSpeedPerMin * kwPerNmPerMin }

// Driven is a power and the speed it turns at.
type Driven struct{ PowerKW, SpindleSpeedPerMin float64 }

// TorqueNm returns M = 9549·P/n in N·m (9549.3 exactly).
//
// Range: n > 0. Errors: none; n = 0 gives +Inf. Source: definition of power.
func TorqueNm(d Driven) float64 { return d.PowerKW / (d.SpindleSpeedPerMin * kwPerNmPerMin) }

// Moving is a force and the speed of its point.
type Moving struct{ ForceN, SpeedMPerMin float64 }

// CuttingPowerKW returns Pc = Fc·vc/60,000 in kW.
//
// Range: any. Errors: none. Source: DIN 6584; ISO 3002-4.
func CuttingPowerKW(m Moving) float64 { return m.ForceN * m.SpeedMPerMin / 60000 }

// Removing is a removal rate and the energy it takes.
type Removing struct{ RemovalCM3PerMin, EnergyJPerMM3 float64 }

// RemovalPowerKW returns Pc = Q·u/60 in kW, with Q in cm³/min and u in J/mm³.
//
// Range: any. Errors: none. Source: definition; the handbook form is Pc = Kp·C·Q·W.
func RemovalPowerKW(r Removing) float64 { return r.RemovalCM3PerMin * r.EnergyJPerMM3 / 60 }

// Drive is a spindle drive: efficiency η between motor and tool, idle power.
type Drive struct{ EfficiencyRatio, IdlePowerKW float64 }

// MotorPowerKW returns what the motor must give for a cutting power,
// Pm = Pc/η + idle power, in kW.
//
// Range: 0 < η ≤ 1. Errors: none. Source: e.g. M. P. Groover, Fundamentals of Modern
// Manufacturing, ch. 20 (P/E); idle power added by the contract.
func (d Drive) MotorPowerKW(cutting float64) float64 {
	return cutting/d.EfficiencyRatio + d.IdlePowerKW
}
