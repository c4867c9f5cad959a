package estimate_test

import (
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// chucked holds the 80 mm bar of the sample in three jaws.
func chucked() *machine.WorkHolding {
	return &machine.WorkHolding{Kind: "chuck", StaticGripN: unit.Some(60000), FrictionRatio: unit.Some(0.25), GripDiameterMM: unit.Some(80), SafetyRatio: unit.Some(2.5),
		JawsCount: unit.Some(3), JawMassKg: unit.Some(1.5), JawRadiusMM: unit.Some(60), MaxSpeedPerMin: unit.Some(4000)}
}

func facingCut() *cut.Cut {
	c := turningCut()
	c.Operation, c.WorkHolding = operation("facing"), chucked()
	return c
}

// On the way to the centre the speed rises to the chuck's highest: the grip is the least
// there, or at the rim where the torque is the largest, and nowhere between.
func TestGripIsLeastAtOneEnd(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := facingCut()
		c.WorkHolding.JawMassKg = unit.Some(rapid.Float64Range(0.01, 3).Draw(r, "m"))
		c.WorkHolding.MaxSpeedPerMin = unit.Some(rapid.Float64Range(700, 4000).Draw(r, "n max"))
		e := estimate.Of(c)
		left := 60000 - e.Grip.LossN - e.Grip.NeededN
		d := rapid.Float64Range(12, 80).Draw(r, "D")
		c.Engagement.WorkDiameterMM = &d
		c.Engagement.LengthMM = n(0) // at this diameter alone
		if estimate.Of(c).Motion.SpindleSpeedPerMin > c.WorkHolding.MaxSpeedPerMin.V {
			return // never so fast
		}
		if g := estimate.Of(c).Grip; 60000-g.LossN-g.NeededN < left-1e-6 {
			r.Fatalf("at %v mm %v N are left, %v N were reported as the least", d, 60000-g.LossN-g.NeededN, left)
		}
	})
}

func TestSpeedTowardsTheCentre(t *testing.T) {
	at := func(change func(*cut.Cut)) float64 {
		c := facingCut()
		c.WorkHolding.JawMassKg = unit.Some(30)
		change(c)
		return estimate.Of(c).Grip.SpeedPerMin
	}
	own := estimate.Of(facingCut()).Motion.SpindleSpeedPerMin
	near(t, "facing to the centre", at(func(*cut.Cut) {}), 4000, 1e-12)
	near(t, "facing half of the diameter", at(func(c *cut.Cut) { c.Engagement.LengthMM = n(20) }), 2*own, 1e-12)
	near(t, "speed in turns", at(func(c *cut.Cut) {
		c.Parameters = cut.Parameters{SpindleSpeedPerMin: n(own), FeedPerRevolutionMM: n(0.25)}
	}), own, 1e-12)
	near(t, "slower machine", at(func(c *cut.Cut) { c.Machine = spindle(20, 300, 2500); c.Machine.Process = machine.Turning }), 2500, 1e-12)
	c := facingCut()
	c.WorkHolding.MaxSpeedPerMin = unit.Opt{}
	if e := estimate.Of(c); !isUnchecked(e, "grip_near_centre") {
		t.Error("nothing bounds the speed and nothing says so")
	}
}

func isUnchecked(e *estimate.Estimate, check string) bool {
	for _, u := range e.Unchecked {
		if u.Check == check {
			return true
		}
	}
	return false
}

// The part's own grip diameter lies over the machine's chuck; another kind of holding
// takes nothing from it.
func TestHoldingOfCutOverMachine(t *testing.T) {
	c := turningCut()
	c.Machine = spindle(20, 300, 4000)
	c.Machine.WorkHolding = chucked()
	c.WorkHolding = &machine.WorkHolding{GripDiameterMM: unit.Some(50)}
	if h := estimate.Holding(c); h.GripDiameterMM.V != 50 || h.StaticGripN.V != 60000 {
		t.Errorf("%+v", h)
	}
	c.WorkHolding.Kind = "collet"
	if h := estimate.Holding(c); h.StaticGripN.OK {
		t.Errorf("a collet grips with the chuck's force: %+v", h)
	}
	if c.Machine.WorkHolding.GripDiameterMM.V != 80 {
		t.Error("the machine's holding was changed")
	}
}

// What is known of a grip only in part is unchecked, never silent; a safety that nobody
// named is assumed.
func TestGripInPart(t *testing.T) {
	c := turningCut()
	c.WorkHolding = &machine.WorkHolding{StaticGripN: unit.Some(60000)}
	if e := estimate.Of(c); e.Grip != nil || !isUnchecked(e, "grip") {
		t.Errorf("grip %+v, unchecked %v", e.Grip, e.Unchecked)
	}
	c.WorkHolding = chucked()
	c.WorkHolding.SafetyRatio, c.WorkHolding.JawMassKg = unit.Opt{}, unit.Opt{}
	if e := estimate.Of(c); !isUnchecked(e, "centrifugal_loss") || len(e.Assumed) != 1 || e.Assumed[0].Field != "work_holding.safety" {
		t.Errorf("assumed %v, unchecked %v", e.Assumed, e.Unchecked)
	}
}

// A hole on the axis of a turning machine turns the part in its chuck by its torque.
func TestGripOfAHole(t *testing.T) {
	c := drillingCut()
	c.WorkHolding = chucked()
	if e := estimate.Of(c); e.Grip != nil {
		t.Errorf("a hole under a still part needs a chuck: %+v", e.Grip)
	}
	c.Engagement.Rotating = "work"
	e := estimate.Of(c)
	near(t, "grip needed", e.Grip.NeededN, 2.5*2000*e.Worn().TorqueNm/80/0.25, 1e-12)
}

// What a deflection takes for granted is listed; what was given is not.
func TestShaftOfAnEndMill(t *testing.T) {
	c := millingCut()
	c.Tool.ProtrudingLengthMM = n(40)
	e := estimate.Of(c)
	if len(e.Assumed) != 3 {
		t.Errorf("assumed %v", e.Assumed)
	}
	c.Tool.ElasticModulusGPa, c.Tool.ShankDiameterMM, c.Tool.MaxDepthOfCutMM = n(600), n(12), n(22)
	if stiffer := estimate.Of(c); len(stiffer.Assumed) != 0 || stiffer.Deflection.ToolMM.V >= e.Deflection.ToolMM.V {
		t.Errorf("assumed %v, deflection %v after %v", stiffer.Assumed, stiffer.Deflection.ToolMM.V, e.Deflection.ToolMM.V)
	}
	c.Wall = &cut.Wall{HeightMM: n(20), ThicknessMM: n(4), WidthMM: n(30)}
	if e := estimate.Of(c); !isUnchecked(e, "wall_deflection") {
		t.Error("a wall of a metal without modulus is neither computed nor unchecked")
	}
}

// Deflection falls with a thicker shank and a shorter tool, and grows as the force.
func TestDeflectionIsMonotone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := millingCut()
		length := rapid.Float64Range(25, 90).Draw(r, "LPR")
		shank := rapid.Float64Range(8, 20).Draw(r, "DMM")
		more := 1 + rapid.Float64Range(0.01, 1).Draw(r, "more")
		of := func(l, d, feed float64) float64 {
			c.Tool.ProtrudingLengthMM, c.Tool.ShankDiameterMM, c.Tool.MaxDepthOfCutMM, c.Parameters.FeedPerToothMM = n(l), n(d), n(15), n(feed)
			return estimate.Of(c).Deflection.ToolMM.V
		}
		was := of(length, shank, 0.05)
		if of(length*more, shank, 0.05) <= was || of(length, shank*more, 0.05) >= was || of(length, shank, 0.05*more) <= was {
			r.Fatalf("%v mm at %v of overhang and %v of shank", was, length, shank)
		}
	})
}
