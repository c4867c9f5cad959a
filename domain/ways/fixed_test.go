package ways

import (
	"slices"
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/unit"
)

var n = cuttest.N

// spindle makes a milling machine with two gears by its power in kW, torque in N·m and speed
// per minute.
func spindle(power, torque, speed float64) *machine.Machine {
	return cuttest.Machine(cuttest.Drive{PowerKW: power, TorqueNm: torque, MaxSpeedPerMin: speed})
}

// stuck are cuts that meet what no lever moves, one for each code at least.
var stuck = map[string]func() *cut.Cut{
	"no-approved-record": cuttest.Turning,
	"not-checked":        cuttest.Drilling,
	"no-data":            with(cuttest.Milling, func(c *cut.Cut) { c.Material.Force = cut.ForceChoice{} }),
	"record-withdrawn": with(cuttest.Milling, func(c *cut.Cut) {
		c.Material.Force.Withdrawn = &material.Force{Provenance: material.Provenance{ID: "x", Curation: &material.Curation{Reason: "unsafe"}}}
	}),
	"group-record-used":          with(cuttest.Drilling, func(c *cut.Cut) { c.Material.Grade = nil }),
	"hardness-outside-condition": with(cuttest.Turning, hardness(300, nil)),
	"outside-record-range": with(cuttest.Turning, hardness(300, func(c *cut.Cut) {
		c.Material.Force.Served.Hardness = domain.Range{Low: unit.Some(100), High: unit.Some(200)}
	})),
	"far-outside-record-range": with(cuttest.Turning, hardness(500, func(c *cut.Cut) {
		c.Material.Force = cut.ForceChoice{Far: &material.Force{Hardness: domain.Range{Low: unit.Some(100), High: unit.Some(200)}}}
	})),
	"combustible-metal-coolant":   with(cuttest.Milling, func(c *cut.Cut) { c.Material.Subgroup = material.Magnesium }),
	"dry-drilling-heat-resistant": with(cuttest.Drilling, func(c *cut.Cut) { c.Material.Group, c.Coolant.Delivery = material.S, "none" }),
	"coolant-below-practice":      with(twist, func(c *cut.Cut) { c.Coolant.Delivery, c.Engagement.HoleDepthMM = "external", n(250) }),
	"coolant-not-on-machine":      with(cuttest.Drilling, func(c *cut.Cut) { c.Machine.Coolant.Deliveries = []string{"air"} }),
	"process-not-on-machine":      with(cuttest.Turning, func(c *cut.Cut) { c.Machine.Process = machine.Milling }),
	"tapping-not-synchronised":    operation("tapping"),
	"tool-material-unfit":         with(cuttest.Milling, func(c *cut.Cut) { c.Tool.Material = "DP" }),
	"form-tap-unfit":              with(operation("thread-forming"), func(c *cut.Cut) { c.Material.Group = material.K }),
	"thread-mill-too-large":       with(operation("thread-milling"), func(c *cut.Cut) { c.Tool.CuttingDiameterMM = n(25) }),
	"thread-hand-mismatch":        with(operation("tapping"), func(c *cut.Cut) { c.Engagement.Hand, c.Tool.Hand = "left", "right" }),
	"groove-diameter-out-of-range": with(operation("grooving"), func(c *cut.Cut) {
		c.Engagement.Direction, c.Tool.GrooveDiameterMinMM = "axial", n(100)
	}),
	"overhang-beyond-practice":   with(cuttest.Milling, func(c *cut.Cut) { c.Tool.ProtrudingLengthMM = n(90) }),
	"depth-beyond-usable-length": with(twist, func(c *cut.Cut) { c.Tool.UsableLengthMM = n(20) }),
	"ramp-angle-exceeded": with(cuttest.Milling, func(c *cut.Cut) {
		c.Engagement.RampAngleDeg, c.Tool.MaxRampAngleDeg = n(5), n(3)
	}),
	"tap-bottoms":                 with(operation("tapping"), func(c *cut.Cut) { c.Engagement.ThreadDepthMM = n(24) }),
	"entry-slope-beyond-practice": with(twist, func(c *cut.Cut) { c.Engagement.FaceSlopeDeg = n(10) }),
	"entry-slope-too-steep":       with(twist, func(c *cut.Cut) { c.Engagement.FaceSlopeDeg = n(50) }),
	"spot-harms-drill":            with(twist, func(c *cut.Cut) { c.Engagement.SpotAngleDeg = n(90) }),
	"holes-overlap":               with(operation("chain-drilling"), func(c *cut.Cut) { c.Engagement.PitchMM = n(11) }),
	"stacked-work": with(cuttest.Drilling, func(c *cut.Cut) {
		yes, class := true, *c.Tool.Class
		class.ID = "drill-indexable"
		c.Tool.Class, c.Engagement.Stacked = &class, &yes
	}),
}

// with is a sample on a strong machine, changed.
func with(sample func() *cut.Cut, change func(*cut.Cut)) func() *cut.Cut {
	return func() *cut.Cut {
		c := sample()
		if c.Machine == nil {
			c.Machine = spindle(50, 500, 20000)
			if c.Operation.Family == cut.TurningFamily {
				c.Machine.Process = machine.Turning
			}
		}
		change(c)
		return c
	}
}

func operation(name string) func() *cut.Cut { return func() *cut.Cut { return cuttest.Of(name) } }

// twist is a twist drill of high-speed steel going into the solid.
func twist() *cut.Cut {
	c := cuttest.Drilling()
	class := *c.Tool.Class
	class.ID, class.ToolMaterial = twistDrill, "HSS"
	c.Tool.Class, c.Tool.Material, c.Tool.UsableLengthMM = &class, "HSS", n(200)
	c.Tool.CuttingDiameterMM, c.Tool.PointAngleDeg, c.Engagement.HoleDepthMM = n(20), n(118), n(40)
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: n(25), FeedPerRevolutionMM: n(0.3)}
	return c
}

// hardness is work of a hardness that was sent, in a condition of 150 to 215 HBW.
func hardness(hb float64, further func(*cut.Cut)) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Material.Condition = &material.Condition{Name: "annealed"}
		c.Material.ConditionLowHBW, c.Material.ConditionHighHBW = 150, 215
		c.Material.Hardness, c.Material.HardnessHBW = &material.Hardness{Scale: material.HBW, Value: hb}, hb
		if further != nil {
			further(c)
		}
	}
}

// fixedOf are the codes that stand against a cut and that no lever is said to move.
func fixedOf(e *estimate.Estimate) []string {
	codes := codesFrom(finding.Closed(finding.Judge(e), e), domain.Hold)
	codes = slices.DeleteFunc(codes, func(code string) bool { return !fixed(code) })
	slices.Sort(codes)
	return codes
}

// Each code that no lever is said to move stands against a cut of the table, and against the
// same cut with any of its levers anywhere.
func TestFixedCodesStayAtEveryValue(t *testing.T) {
	for _, code := range fixedCodes {
		make, ok := stuck[code]
		if !ok {
			t.Errorf("%s is in no cut of the table", code)
			continue
		}
		c := with(make, func(*cut.Cut) {})()
		e := estimate.Of(c)
		asked := fixedOf(e)
		if !slices.Contains(asked, code) {
			t.Errorf("%s does not stand against its own cut: %v", code, asked)
		}
		all := levers(e)
		if len(all) == 0 {
			t.Errorf("%s: no lever", code)
		}
		for i := range all {
			for _, ratio := range []float64{all[i].low, all[i].high} {
				for _, value := range all[i].steps(ratio) {
					if moved := fixedOf(estimate.Of(all[i].at(c, value))); !slices.Equal(moved, asked) {
						t.Errorf("%s of %v moves %v to %v", all[i].name, value, asked, moved)
					}
				}
			}
		}
	}
}

// Against what no lever moves nothing is looked for, and the codes are told; beside it a
// refusal is looked at, for a conditional.
func TestFixedCodesAreTold(t *testing.T) {
	judge := Judge{Answered: func(string) bool { return false }, Open: finding.Judge}
	found, none := Of(estimate.Of(stuck["overhang-beyond-practice"]()), judge)
	if len(found) != 0 || len(none) != 1 || none[0].Why != whyFixed || !slices.Equal(none[0].Codes, []string{"overhang-beyond-practice"}) || !slices.Contains(none[0].Levers, "width") {
		t.Errorf("a hold: %v, %v", found, none)
	}
	weak := stuck["overhang-beyond-practice"]()
	weak.Machine = spindle(0.9, 2, 20000)
	found, _ = Of(estimate.Of(weak), judge)
	if len(found) == 0 {
		t.Error("a hold and a refusal: no way")
	}
	for _, w := range found {
		if w.Verdict != domain.Conditional {
			t.Errorf("a hold and a refusal: %v", w)
		}
	}
	weak.Tool.Material = "DP"
	if found, none = Of(estimate.Of(weak), judge); len(found) != 0 || len(none) != 1 || !slices.Equal(none[0].Codes, []string{"tool-material-unfit"}) {
		t.Errorf("two refusals: %v, %v", found, none)
	}
}
