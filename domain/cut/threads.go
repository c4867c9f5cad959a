package cut

import (
	"math"

	"swarf/domain"
	"swarf/domain/thread"
	"swarf/domain/unit"
)

var threadTurning = Operation{
	Name: "thread-turning", Family: TurningFamily, FeedIsPitch: true,
	StartsAs: Start{Operation: "turning", Class: "turning-external"},
	Required: []string{"work_diameter", "pitch", "thread_depth", "passes"},
	Optional: []string{"length", "approach", "hand"},
	Check:    checkThreadTurning,
}

var tapping = Operation{
	Name: "tapping", Family: ThreadFamily, FeedIsPitch: true,
	Required: []string{"nominal_diameter", "pitch", "hole_diameter", "thread_depth", "hole_depth", "through"},
	Optional: []string{"approach", "hand", "rotating"},
	Check:    checkTapping,
}

var threadForming = Operation{
	Name: "thread-forming", Family: ThreadFamily, FeedIsPitch: true,
	StartsAs: Start{Operation: "tapping", Class: "tap-cutting"},
	Required: tapping.Required,
	Optional: tapping.Optional,
	Check:    checkTapping,
}

// ThreadOf is the thread of a cut that makes one with a tap, and its hole.
func ThreadOf(c *Cut) thread.Hole {
	en := &c.Engagement
	return thread.Hole{Thread: thread.Thread{NominalMM: *en.NominalDiameterMM, PitchMM: *en.PitchMM}, HoleMM: *en.HoleDiameterMM}
}

// tapMiss is how far a tap may be from the thread it is said to cut.
const tapMiss = 0.05

// checkTapping refuses holes that leave no thread or no room for the tap's core, a tap
// of another size, and a thread longer than its hole.
func checkTapping(c *Cut, f *Faults) {
	t, en := ThreadOf(c), &c.Engagement
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	if t.PitchMM > t.NominalMM/2*hair {
		f.Impossible("engagement.pitch", "a thread of {limit} has no pitch of {value}", length(t.PitchMM), length(t.NominalMM), "pitch is the way of one turn; send it in the same units")
		return
	}
	core := t.NominalMM - 1.3*t.PitchMM
	switch {
	case t.HoleMM >= t.NominalMM:
		f.Impossible("engagement.hole_diameter", "a hole of {value} leaves nothing of a thread of {limit}", length(t.HoleMM), length(t.NominalMM), "send the hole before tapping")
	case t.HoleMM < core:
		f.Impossible("engagement.hole_diameter", "a hole of {value} is under {limit}, the core of the tap", length(t.HoleMM), length(core), "a larger hole")
	}
	if *en.ThreadDepthMM > *en.HoleDepthMM*hair {
		f.Impossible("engagement.thread_depth", "thread_depth {value} is more than the hole's {limit}", length(*en.ThreadDepthMM), length(*en.HoleDepthMM), "thread_depth is the length of full thread")
	}
	if d := c.Tool.CuttingDiameterMM; d == nil {
		c.Tool.CuttingDiameterMM = en.NominalDiameterMM
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "tool.cutting_diameter", Number: length(t.NominalMM), Why: "the tap is the thread's"})
	} else if math.Abs(*d-t.NominalMM) > tapMiss*t.NominalMM {
		f.Impossible("tool.cutting_diameter", "a tap of {value} does not make a thread of {limit}", length(*d), length(t.NominalMM), "send the tap's nominal diameter")
	}
	assumeTap(c)
}

// The usual tap. Common practice, no source: three flutes and a lead of two to three
// threads.
const (
	tapFlutes     = 3.0
	TapLeadThread = 2.5
)

// assumeTap completes a tap with the usual flutes and lead.
func assumeTap(c *Cut) {
	lay := func(member **float64, name string, v float64, why string) {
		if *member == nil {
			*member = &v
			c.Assumed = append(c.Assumed, domain.Assumption{Field: "tool." + name, Number: unit.Of(unit.None, v), Why: why + ", common practice"})
		}
	}
	lay(&c.Tool.EffectiveEdgesCount, "effective_edges", tapFlutes, "usual flutes of a tap")
	lay(&c.Tool.ChamferThreadsCount, "chamfer_threads", TapLeadThread, "a lead of two to three threads")
}

// checkThreadTurning refuses threads deeper than their pitch or the work.
func checkThreadTurning(c *Cut, f *Faults) {
	en := &c.Engagement
	length := func(v float64) *unit.Measure { return unit.Of(unit.Length, v) }
	if depth := *en.ThreadDepthMM; depth > *en.PitchMM*hair {
		f.Impossible("engagement.thread_depth", "a thread {value} deep with a pitch of {limit}: thread_depth is radial, about 0.61 of the pitch", length(depth), length(*en.PitchMM), "send the radial depth")
	} else if depth >= *en.WorkDiameterMM/2 {
		f.Impossible("engagement.thread_depth", "thread_depth {value} is more than the work's radius {limit}", length(depth), length(*en.WorkDiameterMM/2), "send the radial depth")
	}
	checkPasses(c, f)
}

// checkPasses refuses a part of a pass.
func checkPasses(c *Cut, f *Faults) {
	if n := c.Engagement.PassesCount; n != nil && *n != math.Trunc(*n) {
		f.Range("engagement.passes", "passes is {value}; passes are whole", unit.Of(unit.None, *n), nil, "send a whole number")
	}
}
