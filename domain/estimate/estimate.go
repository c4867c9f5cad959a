// Package estimate computes what a cut with its parameters loads: chip, forces,
// torque and power for a sharp and a worn edge, by every method that has a record,
// against the limits of a machine. It chooses nothing and judges nothing.
package estimate

import (
	"sync"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Estimate is the computed cut.
type Estimate struct {
	Cut    *cut.Cut
	Motion Motion
	Chip   Chip

	HasLoads    bool // false: no record gives a load
	Sharp       Loads
	WearRatio   float64
	Methods     []Method
	Served      *material.Force // nil when the caller's own data serves or none does
	Basis       domain.Basis
	SpreadRatio float64 // standard deviation of the logarithm of the loads

	Machine *MachineLoad
	Life    *ToolLife // nil without a record
	Moves   Moves
	Time    Time
	Finish  Finish
	Tilts   []Tilt
	Thread  *Thread // made with a tap

	Deflection Deflection
	Grip       *Grip // of a turned part, where enough is known

	Assumed   []domain.Assumption // beside those of the cut
	Unchecked []domain.Unchecked
	Sources   []domain.Used

	alone   bool      // only the loads are wanted, by the law that serves
	law     force.Law // the law that served, factors included
	factors factors

	handbook   bool    // the handbook drilling method served
	workFactor float64 // its work material factor
}

// Motion is the full set of speeds and feeds.
type Motion struct {
	CuttingSpeedMPerMin, SpindleSpeedPerMin               float64
	FeedPerRevolutionMM, FeedPerToothMM, FeedRateMMPerMin float64
	DiameterMM                                            float64 // the one the speed belongs to
}

// Chip is the undeformed chip.
type Chip struct {
	ThicknessMeanMM, ThicknessMaxMM, WidthMM float64
	EngagementAngleDeg, EdgesInCutCount      float64
}

// Loads are what one state of the edge asks of tool, work and machine.
type Loads struct {
	SpecificForceNPerMM2 float64
	CuttingForceN        float64
	FeedForceN           unit.Opt
	PassiveForceN        unit.Opt
	TorqueNm             float64
	TorquePeakNm         float64
	PowerKW              float64
	RemovalCM3PerMin     float64
}

// Worn returns the loads at the end of the edge's life: everything but the removal
// rate grows by the wear factor.
func (e *Estimate) Worn() Loads { return e.Sharp.scaled(e.WearRatio) }

func (l Loads) scaled(k float64) Loads {
	l.SpecificForceNPerMM2 *= k
	l.CuttingForceN *= k
	l.FeedForceN.V *= k
	l.PassiveForceN.V *= k
	l.TorqueNm *= k
	l.TorquePeakNm *= k
	l.PowerKW *= k
	return l
}

// Method is the answer of one force method for the sharp edge.
type Method struct {
	Name     string // request, kienzle, unit-power, handbook-drilling
	TorqueNm float64
	PowerKW  float64
	Record   string
	Source   string
	Basis    domain.Basis
	Used     bool
}

// Finish is the theoretical surface; absent where geometry says nothing.
type Finish struct{ ProfileHeightUM, ScallopHeightUM, RaExpectedUM unit.Opt }

// Of computes a checked cut. It cannot fail: what has no record is left out and
// listed in Unchecked.
func Of(c *cut.Cut) *Estimate {
	e := &Estimate{Cut: c, WearRatio: force.WornRatio}
	if c.Force != nil && c.Force.WearRatio != nil {
		e.WearRatio = *c.Force.WearRatio
	}
	e.compute()
	e.plan()
	e.grip()
	if c.Machine != nil {
		e.Machine = e.against(c.Machine)
	}
	e.finish()
	e.deflect()
	e.lives()
	e.tilts()
	e.asked()
	return e
}

// LoadsOf computes only the sharp edge's loads of a checked cut, for comparing; ok is
// false where no record gives one.
func LoadsOf(c *cut.Cut) (l Loads, ok bool) {
	e := Estimate{Cut: c, alone: true}
	e.compute()
	return e.Sharp, e.HasLoads
}

// LoadsWith computes only the sharp edge's loads of a checked cut whose tool is another,
// for comparing; ok is false where no record gives one.
func LoadsWith(c *cut.Cut, other func(*tool.Tool)) (l Loads, ok bool) {
	t := trials.Get().(*trial)
	defer trials.Put(t)
	t.cut = *c
	other(&t.cut.Tool)
	t.estimate = Estimate{Cut: &t.cut, alone: true}
	t.estimate.compute()
	return t.estimate.Sharp, t.estimate.HasLoads
}

// trial is the room of a comparison, which is made by the thousand.
type trial struct {
	cut      cut.Cut
	estimate Estimate
}

var trials = sync.Pool{New: func() any { return new(trial) }}

// compute gives motion, chip and loads.
func (e *Estimate) compute() {
	c := e.Cut
	e.move()
	switch c.Operation.Family {
	case cut.TurningFamily:
		if c.Operation.FeedIsPitch {
			e.thread()
		} else {
			e.turn()
		}
	case cut.ThreadFamily:
		e.tap()
	case cut.MillingFamily:
		e.mill()
	default:
		e.drill()
	}
}

// value reads an optional number of the request.
func value(p *float64, or float64) float64 {
	if p == nil {
		return or
	}
	return *p
}
