package estimate

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
	"swarf/domain/thread"
	"swarf/domain/unit"
)

// Thread is how much of a thread a hole leaves, on the base that is usual for its way
// of making and on others, and how large the hole may be.
type Thread struct {
	Percent Percent
	Others  []Percent
	MinorMM float64 // basic minor diameter
	Limit   *thread.Limit
}

// Percent is a share of the full depth of thread and what is called full.
type Percent struct {
	PercentRatio float64 // 0.75 for 75 %
	Base         string
}

// threadOf gives the percents of a tapped or formed thread. A formed thread grows into its
// hole, so that its own base comes first.
func threadOf(c *cut.Cut) *Thread {
	hole := cut.ThreadOf(c)
	bases := []thread.Base{thread.Internal, thread.Screw, thread.National}
	if c.Operation.Name == "thread-forming" {
		bases = []thread.Base{thread.Formed, thread.Internal}
	}
	t := &Thread{MinorMM: hole.MinorMM()}
	for i, b := range bases {
		p := Percent{PercentRatio: hole.PercentOn(b) / 100, Base: b.Name}
		if i == 0 {
			t.Percent = p
		} else {
			t.Others = append(t.Others, p)
		}
	}
	if limit, ok := hole.MinorLimit(); ok && c.Operation.Name == "tapping" {
		t.Limit = &limit
	}
	return t
}

// tapChip is the chip of one edge in the lead of a tap: the depth of thread over the
// flutes and the threads of the lead.
func tapChip(c *cut.Cut) float64 {
	hole := cut.ThreadOf(c)
	return (hole.NominalMM - hole.HoleMM) / 2 / (*c.Tool.EffectiveEdgesCount * *c.Tool.ChamferThreadsCount)
}

// tap computes a thread made with a tap; forming is cutting's torque times a factor and
// takes nothing off.
func (e *Estimate) tap() {
	c, m := e.Cut, &e.Motion
	hole, h := cut.ThreadOf(c), tapChip(c)
	area := hole.GrooveAreaMM2()
	e.Thread = threadOf(c)
	forming := c.Operation.Name == "thread-forming"
	if !forming {
		e.Chip = Chip{ThicknessMeanMM: h, ThicknessMaxMM: h, WidthMM: area / h / (*c.Tool.EffectiveEdgesCount * *c.Tool.ChamferThreadsCount), EdgesInCutCount: *c.Tool.EffectiveEdgesCount * *c.Tool.ChamferThreadsCount}
		// the section goes round at the mean diameter, once a turn
		e.Sharp.RemovalCM3PerMin = area * math.Pi * (hole.NominalMM + hole.HoleMM) / 2 * m.SpindleSpeedPerMin / 1000
	}
	if !e.serve() {
		return
	}
	friction, spread, why := force.TappingFrictionRatio, force.TappingSpreadRatio, "friction of a tap, 1.3 to 2"
	if forming {
		friction, spread, why = friction*force.FormingRatio, force.FormingSpreadRatio, "friction of a tap and forming, 1.5 to 2.5 times cutting"
	}
	e.SpreadRatio = math.Hypot(e.SpreadRatio, spread)
	torque := func(l force.Law) float64 {
		return force.TappingTorqueNm(force.Tapped{Law: l, ThicknessMM: h, AreaMM2: area, NominalMM: hole.NominalMM, HoleMM: hole.HoleMM, FrictionRatio: friction})
	}
	e.rotate(torque(e.law))
	l := &e.Sharp
	l.SpecificForceNPerMM2 = e.law.SpecificForceNPerMM2(h)
	l.CuttingForceN = 4000 * l.TorqueNm / (hole.NominalMM + hole.HoleMM)
	e.compare(torque)
	if e.Served != nil {
		e.cite(e.Served, "loads")
	}
	e.uses(domain.Used{ID: "common-practice", Basis: domain.CommonPractice, UsedFor: why})
}

// TapDepthMM is how deep the tip of a tap goes: the full thread and the lead.
//
// Range: a checked thread. Errors: none. Source: geometry; a lead of 2.5 threads, or the
// tap's own where it is longer, common practice.
func TapDepthMM(c *cut.Cut) float64 {
	return *c.Engagement.ThreadDepthMM + max(cut.TapLeadThread, *c.Tool.ChamferThreadsCount)**c.Engagement.PitchMM
}

// planTap gives the time in and out of a thread, at the pitch both ways.
func (e *Estimate) planTap() {
	travel := value(e.Cut.Engagement.ApproachMM, approachMM) + TapDepthMM(e.Cut)
	e.Time.CuttingMinutes = unit.Some(kinematics.Minutes(kinematics.Path{LengthMM: 2 * travel, FeedRateMMPerMin: e.Motion.FeedRateMMPerMin}))
}
