package finding

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// Limits of making threads. Common practice, no source: a tap is loaded to four fifths of
// its strength; the last pass in a hardening metal takes at least 0.05 mm; formed
// metal must flow. 355 HBW is about 1,200 N/mm² (ISO 18265, recalled).
const (
	tapTorqueRatio        = 0.8
	lastPassMM            = 0.05
	formHBW               = 355
	formStrengthNPerMM2   = 1200
	formElongationPercent = 10
)

// thread judges threads: pitch and hand, room in the hole, the tap, the metal.
func (j *judge) thread() {
	if !j.c.Operation.FeedIsPitch {
		return
	}
	en, t := &j.c.Engagement, &j.c.Tool
	if pitch, f := *en.PitchMM, j.e.Motion.FeedPerRevolutionMM; math.Abs(f-pitch) > 1e-6*pitch {
		j.says("pitch-mismatch", domain.Refusal, "parameters.feed_per_revolution", unit.Length, f, pitch,
			"a feed of {value} a turn does not cut a pitch of {limit}", "leave the feed out, or send the pitch")
	}
	if en.Hand != "" && t.Hand != "" && en.Hand != t.Hand {
		j.tells("thread-hand-mismatch", domain.Refusal, "engagement.hand", "the thread is "+en.Hand+"-hand and the tool "+t.Hand+"-hand", "the tool of the thread's hand")
	}
	if j.c.Operation.Family != cut.ThreadFamily {
		j.lastPass()
		return
	}
	j.percent()
	j.tapRoom()
	j.synchronised()
	if most, ok := given(t.MaxTorqueNm); !ok {
		j.unchecked("tap_torque", "tool.max_torque")
	} else if j.e.HasLoads && over(j.worn.TorqueNm, tapTorqueRatio*most) {
		j.says("tap-torque-high", domain.Hold, "tool.max_torque", unit.Torque, j.worn.TorqueNm, tapTorqueRatio*most,
			"a worn tap takes {value}, over {limit}, four fifths of what it stands", "a larger hole, a better lubricant, or a thread mill")
	}
	if j.c.Operation.Name == "thread-forming" {
		j.forms()
	}
}

// lastPass judges the thinnest bite of a turned thread.
func (j *judge) lastPass() {
	passes := j.e.Moves.Passes
	if last := passes[len(passes)-1].InfeedMM; j.c.Material.WorkHardens() && last < lastPassMM*(1-1e-9) {
		j.says("chip-too-thin", domain.Hold, "motion.passes", unit.Length, last, lastPassMM,
			"the last pass takes {value}; under {limit} it rubs on the hardened flanks", "fewer passes, at most one spring pass")
	}
}

// percent states the percent of thread on both bases: either number alone misleads.
func (j *judge) percent() {
	t := j.e.Thread
	j.says("thread-percent-base", domain.Note, "thread.percent", unit.None, 100*t.Percent.PercentRatio, 100*t.Others[0].PercentRatio,
		"{value} % of thread on the base "+t.Percent.Base+" is {limit} % on "+t.Others[0].Base, "name the base with every percent")
	if t.Limit != nil && (*j.c.Engagement.HoleDiameterMM < t.Limit.LowMM*(1-1e-4) || over(*j.c.Engagement.HoleDiameterMM, t.Limit.HighMM)) {
		limit := t.Limit.HighMM
		if *j.c.Engagement.HoleDiameterMM < t.Limit.LowMM {
			limit = t.Limit.LowMM
		}
		j.says("thread-minor-outside-limits", domain.Warning, "engagement.hole_diameter", unit.Length, *j.c.Engagement.HoleDiameterMM, limit,
			"a hole of {value} leaves a minor diameter outside class "+t.Limit.Class+", which ends at {limit}", "another drill, or a class that allows it")
	}
}

// tapRoom refuses a blind hole that the tap's lead does not fit into.
func (j *judge) tapRoom() {
	en := &j.c.Engagement
	if *en.Through {
		return
	}
	if needed := estimate.TapDepthMM(j.c); over(needed, *en.HoleDepthMM) {
		j.says("tap-bottoms", domain.Refusal, "engagement.hole_depth", unit.Length, needed, *en.HoleDepthMM,
			"thread and lead need {value}; the hole is {limit} deep and the tap meets its bottom", "a deeper hole, a shorter thread, or a tap with a shorter lead")
	}
}

// synchronised judges whether spindle and feed turn together.
func (j *judge) synchronised() {
	m := j.c.Machine
	switch {
	case m == nil:
		j.unchecked("synchronous_tapping", "a machine that says whether it has it")
	case m.SynchronousTapping == nil:
		j.tells("tapping-not-synchronised", domain.Hold, "machine.synchronous_tapping", "it is not known whether "+m.ID+" turns and feeds in step", "say so in the machine's record, or use a compensating holder")
	case !*m.SynchronousTapping:
		j.tells("tapping-not-synchronised", domain.Refusal, "machine.synchronous_tapping", m.ID+" does not turn and feed in step: the tap would be torn", "a compensating holder, or another machine")
	}
}

// forms judges whether the metal flows into a thread.
func (j *judge) forms() {
	w := &j.c.Material
	hb := w.HardnessHBW
	if hb == 0 {
		hb = w.ConditionHighHBW
	}
	strength, elongation := 0.0, unit.Opt{}
	if d := j.c.Stock.Certificate; d != nil {
		strength, _ = given(d.TensileStrengthNPerMM2)
		if v, ok := given(d.ElongationPercent); ok {
			elongation = unit.Some(v)
		}
	}
	switch {
	case w.Group == material.K || w.Group == material.H:
		j.tells("form-tap-unfit", domain.Hold, "material", "metal of group "+string(w.Group)+" breaks instead of flowing into the thread", "a cutting tap or a thread mill")
	case elongation.OK && over(formElongationPercent, elongation.V):
		j.says("form-tap-unfit", domain.Hold, "stock.certificate.elongation", unit.None, elongation.V, formElongationPercent,
			"an elongation of {value} % is under {limit} %: the metal tears instead of flowing into the thread", "a cutting tap or a thread mill")
	case over(strength, formStrengthNPerMM2):
		j.says("form-tap-unfit", domain.Hold, "stock.certificate.tensile_strength", unit.SpecificForce, strength, formStrengthNPerMM2,
			"a tensile strength of {value} is over {limit}: the tap breaks before the metal flows", "a cutting tap or a thread mill")
	case over(hb, formHBW):
		j.says("form-tap-unfit", domain.Hold, "material.hardness", unit.None, hb, formHBW,
			"{value} HBW is over {limit}, about 1,200 N/mm² of tensile strength: the tap breaks before the metal flows", "a cutting tap or a thread mill")
	case !elongation.OK:
		j.unchecked("elongation", "an elongation of 10 % or more in the material's certificate")
	}
}
