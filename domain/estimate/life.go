package estimate

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/life"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// ToolLife is how long an edge lasts at the chosen speed, by the record that serves.
type ToolLife struct {
	Record        *material.Life
	MedianMinutes float64
	LowMinutes    float64  // that the share of edges asked for by confidence outlives
	SpreadRatio   float64  // standard deviation of the logarithm of the life
	PartsCount    unit.Opt // passes or holes of this cut in a median life, in fractions
	FeedPathMM    float64  // at feed in a median life
	TargetMPerMin unit.Opt // the speed at which the life asked for is outlived at that confidence
	Adjusted      []LifeAdjustment

	law life.Extended
	cut life.Cut // the speed as the edge feels it
}

// LifeAdjustment is what makes an edge feel another speed than the one it runs at.
type LifeAdjustment struct {
	Name, Reason string
	SpeedRatio   float64
}

// Speeds an edge feels, over those it runs at. Common practice, no source: dry austenitic
// metal is run at 0.5 to 0.7 of the speed with coolant, for the same life.
const dryRatio = 1 / 0.6

// hardnessLifeExp is the power with which the speed for one life falls with hardness in
// steel and iron, the middle of 1.0 to 1.7. Common practice, no source.
const hardnessLifeExp = 1.35

// lives computes the tool life where a record allows.
func (e *Estimate) lives() {
	c := e.Cut
	r := c.Material.Life.Served
	asked := c.Target.ToolLifeMinutes != nil || c.Rates != nil
	if r == nil || e.Motion.FeedPerRevolutionMM <= 0 {
		if asked {
			e.unchecked("tool_life", "no-data: a tool-life record of this metal, process and tool material")
		}
		return
	}
	l := &ToolLife{Record: r, law: lawOfLife(r)}
	l.feel(c)
	speed := e.Motion.CuttingSpeedMPerMin
	l.cut = life.Cut{SpeedMPerMin: speed * l.felt(), FeedMM: e.Motion.FeedPerRevolutionMM, DepthMM: edgeDepthOfLife(c)}
	l.MedianMinutes = l.law.LifeMinutes(l.cut)
	l.SpreadRatio = lifeSpread(r, c.Material.Life.FallBack) / r.TaylorExp.V
	sure := math.Exp(-l.SpreadRatio * distuv.UnitNormal.Quantile(c.Confidence))
	l.LowMinutes = l.MedianMinutes * sure
	l.FeedPathMM = l.MedianMinutes * e.Motion.FeedRateMMPerMin
	if t := e.Time.CuttingMinutes; t.OK && t.V > 0 {
		l.PartsCount = unit.Some(l.MedianMinutes / t.V)
	} else if c.Rates != nil {
		e.unchecked("cost", "engagement.length, the path at feed")
	}
	if want := c.Target.ToolLifeMinutes; want != nil {
		l.TargetMPerMin = unit.Some(speed * math.Pow(l.LowMinutes / *want, r.TaylorExp.V))
	}
	e.Life = l
	e.assumeOfLife(r)
	e.Sources = append(e.Sources, domain.Used{ID: r.Source, Basis: r.Basis, UsedFor: "tool life", Place: r.Place})
}

// lawOfLife is a record as a law: C at its reference feed and depth becomes C at 1 mm.
func lawOfLife(r *material.Life) life.Extended {
	e := life.Extended{LifeExp: r.TaylorExp.V, FeedExp: r.FeedExp.Or(0), DepthExp: r.DepthExp.Or(0)}
	at := life.Cut{SpeedMPerMin: r.TaylorSpeedMPerMin.V, FeedMM: r.ReferenceFeedMM.Or(1), DepthMM: r.ReferenceDepthMM.Or(1)}
	return life.Fitted(e, at, 1)
}

// edgeDepthOfLife is the depth that enters the law.
func edgeDepthOfLife(c *cut.Cut) float64 {
	if d := c.Engagement.DepthOfCutMM; d != nil {
		return *d
	}
	return 1
}

// feel lists what makes the edge feel another speed.
func (l *ToolLife) feel(c *cut.Cut) {
	w := &c.Material
	if d := c.Coolant.Delivery; w.Group == material.M && (d == "none" || d == "air") {
		l.Adjusted = append(l.Adjusted, LifeAdjustment{"coolant", "dry in austenitic metal: as if run 1.4 to 2 times as fast", dryRatio})
	}
	middle := (w.ConditionLowHBW + w.ConditionHighHBW) / 2
	steel := w.Group == material.P || w.Group == material.K || w.Group == material.H
	if w.Hardness != nil && steel && middle > 0 && w.HardnessHBW > 0 {
		ratio := min(1.3, max(0.8, w.HardnessHBW/middle))
		if ratio != 1 {
			l.Adjusted = append(l.Adjusted, LifeAdjustment{"hardness", "harder or softer than the middle of its condition: speed for one life falls with hardness to the power 1.0 to 1.7", math.Pow(ratio, hardnessLifeExp)})
		}
	}
}

func (l *ToolLife) felt() float64 {
	k := 1.0
	for _, a := range l.Adjusted {
		k *= a.SpeedRatio
	}
	return k
}

// lifeSpread is the spread of C: that of the record's basis, a group's as an analogy.
func lifeSpread(r *material.Life, fallBack string) float64 {
	if fallBack == "group" {
		return domain.CommonPractice.SpreadRatio()
	}
	return r.Basis.SpreadRatio()
}

// lifeOffRatio is how far feed or depth may be from those of the test before the answer
// says that nothing corrects for it.
const lifeOffRatio = 1.25

// assumeOfLife says what the record takes for granted.
func (e *Estimate) assumeOfLife(r *material.Life) {
	take := func(why string) {
		e.Assumed = append(e.Assumed, domain.Assumption{Field: "tool_life", Text: r.ID, Why: why})
	}
	if back := e.Cut.Material.Life.FallBack; back != "" {
		take("no record of this grade; the " + back + "'s serves")
	}
	if r.Criterion == "" {
		take("the record names no wear criterion; a mean flank wear of 0.3 mm is usual (ISO 3685)")
	}
	off := func(is float64, at unit.Opt) bool {
		return at.OK && (is > at.V*lifeOffRatio || is < at.V/lifeOffRatio)
	}
	switch l := e.Life.cut; {
	case !r.ReferenceFeedMM.OK && !r.FeedExp.OK:
		take("the record does not say at which feed and depth; they are not in its law")
	case !r.FeedExp.OK && off(l.FeedMM, r.ReferenceFeedMM), !r.DepthExp.OK && off(l.DepthMM, r.ReferenceDepthMM):
		take("tested at another feed or depth, for which nothing on record corrects")
	}
}

// At is the life at another speed and feed of the same cut, for economics.
//
// Range: a computed life; speed and feed above nought. Errors: none. Source: as the record.
func (l *ToolLife) At(m life.Cut) float64 {
	m.SpeedMPerMin *= l.felt()
	m.DepthMM = l.cut.DepthMM
	return l.law.LifeMinutes(m)
}

// Law is the law at a feed, by the speed the spindle runs.
//
// Range: as At. Errors: none. Source: as the record.
func (l *ToolLife) Law(feedMM float64) life.Taylor {
	at := life.Cut{SpeedMPerMin: 1, FeedMM: feedMM}
	return life.Taylor{LifeExp: l.law.LifeExp, OneMinuteSpeedMPerMin: math.Pow(l.At(at), l.law.LifeExp)}
}

// explainLife adds the life to the derivation.
func (e *Estimate) explainLife(t *trail) {
	l := e.Life
	if l == nil {
		return
	}
	r := l.Record
	for _, a := range l.Adjusted {
		t.add("life_"+a.Name, "speed as the edge feels it, "+a.Reason, "", a.SpeedRatio, unit.None, "common practice")
	}
	t.add("tool_life", "T = (C/vc·(f0/f)^x·(ap0/ap)^y)^(1/n)", put("C", r.TaylorSpeedMPerMin.V, "vc", l.cut.SpeedMPerMin, "f0", r.ReferenceFeedMM.Or(1), "f", l.cut.FeedMM, "x", r.FeedExp.Or(0),
		"ap0", r.ReferenceDepthMM.Or(1), "ap", l.cut.DepthMM, "y", r.DepthExp.Or(0), "n", r.TaylorExp.V), l.MedianMinutes, unit.Time, r.Source+" ("+string(r.Basis)+")")
}
