package recommend

import (
	"fmt"
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/kinematics"
	"swarf/domain/thread"
	"swarf/domain/unit"
)

const rotation = unit.Rotation

// start takes speed and feed from the record, the middle of its ranges, and chooses
// depth and width where they were left out. It reports false without a record for
// something that had to be chosen.
func (p *proposal) start() bool {
	c := p.c
	s := c.Material.Starting.Served
	p.chooseEngagement()
	if p.speedFixed && p.feedFixed {
		p.boundBy = "request"
		p.spread = p.quantile()
		return true
	}
	if s == nil {
		return false
	}
	p.record = s
	if !p.speedFixed {
		if p.speed = middle(s.Speed); p.speed == 0 {
			return false
		}
	}
	feed := estimate.StartingFeed(c, s)
	per := 1.0
	if z := c.Tool.EffectiveEdgesCount; z != nil && feed.Member == "feed_per_revolution" {
		per = *z
	}
	if !p.feedFixed {
		if !feed.Known() {
			return false
		}
		p.feed = middle(feed.Range) / per
	}
	p.feedLow = feed.Low.Or(feed.High.Or(0)) / per
	p.sources = append(p.sources, domain.Used{ID: s.Source, Basis: s.Basis, UsedFor: "starting values", Place: s.Place,
		Valid: fmt.Sprintf("speed %s m/min", spanOf(s.Speed))})
	if as := c.Operation.StartsAs.Class; as != "" {
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "starting_values", Text: s.ID, Why: "the values of " + as + " in " + c.Operation.StartsAs.Operation + " serve"})
	}
	if back := c.Material.Starting.FallBack; back != "" {
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "starting_values", Text: s.ID, Why: "no record of this grade; the " + back + "'s serves"})
	}
	p.spread = p.quantile()
	return true
}

// quantile is the factor on a median demand for the confidence asked for.
func (p *proposal) quantile() float64 { return p.estimateSpread().Quantile(p.c.Confidence) }

// estimateSpread computes once with any speed, to learn the spread of the force data.
func (p *proposal) estimateSpread() *estimate.Estimate {
	if p.speed == 0 {
		p.speed = 50
		defer func() { p.speed = 0 }()
	}
	if p.feed == 0 {
		p.feed = 0.1
		defer func() { p.feed = 0 }()
	}
	return p.estimate()
}

// middle of a range: the only end when there is one.
func middle(r domain.Range) float64 {
	switch {
	case r.Low.OK && r.High.OK:
		return (r.Low.V + r.High.V) / 2
	case r.Low.OK:
		return r.Low.V
	}
	return r.High.Or(0)
}

func spanOf(r domain.Range) string {
	low, high := r.Low.Or(r.High.V), r.High.Or(r.Low.V)
	if low == high {
		return fmt.Sprintf("%.4g", low)
	}
	return fmt.Sprintf("%.4g to %.4g", low, high)
}

// chooseEngagement sets a depth or width that was left out, and lets it move later.
// Common practice, no source.
func (p *proposal) chooseEngagement() {
	c := p.c
	en := &c.Engagement
	choose := func(member **float64, name string, mm float64, why string) *float64 {
		if *member != nil {
			return nil
		}
		v := mm
		*member = &v
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "engagement." + name, Number: unit.Of(unit.Length, mm), Why: why})
		return *member
	}
	reach := math.Inf(1)
	if t := c.Tool.MaxDepthOfCutMM; t != nil {
		reach = *t
	}
	switch c.Operation.Family {
	case cut.TurningFamily:
		if c.Operation.FeedIsPitch && en.PassesCount == nil {
			n := thread.UsualPassesCount(thread.Thread{NominalMM: *en.WorkDiameterMM, PitchMM: *en.PitchMM})
			en.PassesCount = &n
			c.Assumed = append(c.Assumed, domain.Assumption{Field: "engagement.passes", Number: unit.Of(unit.None, n), Why: "chosen: usual for the pitch"})
		}
		if !c.Operation.Has("depth_of_cut") {
			return // a groove is as wide as its blade
		}
		depth := 2.0
		if c.Operation.Name == "boring-internal" {
			depth = 1
		} else {
			depth = min(depth, *en.WorkDiameterMM/4)
		}
		if s := c.Material.Starting.Served; s != nil && s.DepthMM.OK {
			depth = min(depth, s.DepthMM.V)
		}
		p.depth = choose(&en.DepthOfCutMM, "depth_of_cut", min(depth, reach), "chosen: a depth that breaks the chip and most machines carry")
	case cut.MillingFamily:
		p.chooseMilling(choose, reach)
	}
}

func (p *proposal) chooseMilling(choose func(**float64, string, float64, string) *float64, reach float64) {
	c := p.c
	en := &c.Engagement
	d := *c.Tool.CuttingDiameterMM
	switch c.Operation.Name {
	case "face-milling":
		p.width = choose(&en.RadialWidthMM, "radial_width", d/1.35, "chosen: the cutter 1.2 to 1.5 times as wide as the cut")
		p.depth = choose(&en.AxialDepthMM, "axial_depth", min(reach, 2), "chosen: a light roughing depth")
	case "side-milling":
		p.width = choose(&en.RadialWidthMM, "radial_width", 0.25*d, "chosen: a quarter of the diameter")
		p.depth = choose(&en.AxialDepthMM, "axial_depth", min(reach, d), "chosen: one diameter")
	case "slot-milling": // the width is the slot's
		depth := d
		if c.Material.WorkHardens() {
			depth = d / 2
		}
		p.depth = choose(&en.AxialDepthMM, "axial_depth", min(reach, depth), "chosen: half a diameter in work-hardening metals, one elsewhere")
	case "thread-milling":
		if en.PassesCount == nil && c.Material.WorkHardens() {
			n := 2.0
			en.PassesCount = &n
			c.Assumed = append(c.Assumed, domain.Assumption{Field: "engagement.passes", Number: unit.Of(unit.None, n), Why: "chosen: 2 to 3 in metals that harden"})
		}
	case "plunge-milling":
		p.width = choose(&en.RadialWidthMM, "radial_width", 0.3*d, "chosen: a third of the diameter at the end of the cutter")
	case "ball-milling":
		choose(&en.TiltAngleDeg, "tilt_angle", 15, "chosen: 10 to 20 degrees keep the tip out of the cut")
		p.depth = choose(&en.AxialDepthMM, "axial_depth", min(reach, 0.05*d), "chosen: a twentieth of the diameter")
		p.width = choose(&en.StepOverMM, "step_over", p.stepOver(), "chosen: for the ridge asked for, else a twentieth of the diameter")
	}
	if l := c.Tool.ProtrudingLengthMM; l != nil && c.Tool.Class.ID == "mill-end" {
		p.overhang(*l / d)
	}
}

// stepOver is the step of a ball that leaves no higher ridge than the roughness asked
// for, within what its depth allows.
func (p *proposal) stepOver() float64 {
	c := p.c
	ball := kinematics.Ball{DiameterMM: *c.Tool.CuttingDiameterMM, DepthMM: *c.Engagement.AxialDepthMM}
	step := 0.05 * ball.DiameterMM
	if rz := c.Target.RzUM; rz != nil {
		step = kinematics.BallWidthMM(kinematics.Ball{DiameterMM: ball.DiameterMM, DepthMM: min(*rz/1000, ball.DepthMM)})
	}
	return plain(min(step, kinematics.BallWidthMM(ball)))
}
