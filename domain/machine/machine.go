// Package machine describes machine tools as far as a cut can load them: spindle
// curves by gear and duty rating (IEC 60034-1), axes, coolant and metering.
package machine

import (
	"swarf/domain"
	"swarf/domain/unit"
)

// Processes. A turning machine turns and makes holes on its axis, a milling
// machine mills and makes holes; a mill-turn is two records.
const (
	Milling = "milling"
	Turning = "turning"
)

// Machine is one machine record. Limits that are not stated are absent: unknown,
// never infinite.
type Machine struct {
	ID                 string
	Name               string
	Process            string
	Spindle            Spindle
	Axes               Axes
	Coolant            Coolant
	SynchronousTapping *bool
	ToolChangeSeconds  unit.Opt
	Meter              *Meter
	WorkHolding        *WorkHolding
	Basis              domain.Basis
	Note               string
	Revision           int64 // in which the record last changed
}

// Spindle is the main drive.
type Spindle struct {
	MaxSpeedPerMin  float64
	EfficiencyRatio float64
	IdlePowerKW     float64
	Gears           []Gear
}

// Gear is a range of spindle speeds with its ratings.
type Gear struct {
	Name           string
	MinSpeedPerMin float64
	MaxSpeedPerMin float64
	Ratings        []Rating
}

// Rating is a motor rating at the spindle's speed in a gear: a pair (constant
// torque to the knee, constant power above), or points (power linear in speed
// between them).
type Rating struct {
	Duty     Duty
	PowerKW  float64
	TorqueNm float64
	Points   []Point
}

// Point is one point of a power curve.
type Point struct {
	SpeedPerMin float64
	PowerKW     float64
}

// Axes are the feed drives; absent means unknown.
type Axes struct {
	MaxFeedRateMMPerMin    unit.Opt
	MaxArcFeedRateMMPerMin unit.Opt // on circles, where the control or the machine allows less
	MaxFeedForceN          unit.Opt
	AccelerationMPerS2     unit.Opt
	RapidRateMMPerMin      unit.Opt
}

// Coolant is what the machine can deliver; nil Deliveries means unknown.
type Coolant struct {
	Deliveries             []string
	ThroughToolPressureBar unit.Opt
}

// Meter says what the machine's load meter shows.
type Meter struct {
	PercentOf string // rating the percentage is of
	Quantity  string // power, torque, current
	Point     string // motor, spindle
}
